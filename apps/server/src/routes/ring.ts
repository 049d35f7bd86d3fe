import { z } from '@hono/zod-openapi';
import {
  type Audit,
  auditRing,
  type Proposal,
  proposeStations,
  type RingRules,
  type Site,
  siteFromGeoJson,
} from '@sillwatch/ring';
import { ringRulesOf } from '@sillwatch/rounds';
import { EVERY_ROLE } from '../accounts/roles.ts';
import type { Services } from '../http/context.ts';
import { Problem } from '../http/problems.ts';
import { type App, addRoute } from '../http/route.ts';
import { addPropertyRingRoutes, answerFor, ringAnswer } from './propertyRing.ts';

const MOST_SITE_BYTES = 2 * 1024 * 1024;

/** A drawing is sent as GeoJSON (RFC 7946) and never stored here; the ring is computed from it and a label profile. */
const siteBody = z.object({
  /** GeoJSON FeatureCollection; see docs/how-to/draw-a-site.md */
  site: z.looseObject({ type: z.literal('FeatureCollection') }),
  /** id of the label profile whose spacing and set-back count */
  profile: z.string().min(1),
});
/** Where stations go round a building, what a ring leaves unguarded, and the diagram of a property. */
export function addRingRoutes(app: App, services: Services): void {
  const { ledger } = services;

  addPropertyRingRoutes(app, services);

  const addSiteRoute = (
    path: string,
    summary: string,
    compute: (site: Site, rules: RingRules) => Proposal | Audit,
  ): void =>
    addRoute(
      app,
      services,
      {
        method: 'post',
        path,
        tag: 'work',
        summary,
        roles: EVERY_ROLE,
        body: siteBody,
        maxBodyBytes: MOST_SITE_BYTES,
        result: ringAnswer,
      },
      async ({ person, body }) => {
        const profile = (await ledger.getFirm(person.firm)).profiles[body.profile];
        if (profile === undefined)
          throw new Problem('no label profile', `The firm has no label profile "${body.profile}".`);
        const read = siteFromGeoJson(JSON.stringify(body.site));
        if (!read.ok) return { problems: read.refusals.map((one) => ({ ...one })), result: null };
        return answerFor(read.site, ringRulesOf(profile), compute);
      },
    );
  addSiteRoute(
    '/api/ring/proposals',
    'Where stations go: fewest that guard all that can be guarded, and what cannot be',
    proposeStations,
  );
  addSiteRoute(
    '/api/ring/audits',
    'What the stations of a drawing leave unguarded, and the fewest changes that mend it',
    auditRing,
  );
}
