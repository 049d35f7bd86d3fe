import { z } from '@hono/zod-openapi';
import {
  type Audit,
  auditRing,
  checkSite,
  drawSite,
  type Proposal,
  proposeStations,
  type RingRules,
  type Site,
  siteFromGeoJson,
} from '@sillwatch/ring';
import { ringRulesOf, siteOf, stationMarkOf } from '@sillwatch/rounds';
import { assessClearance, dayToText } from '@sillwatch/trade';
import { EVERY_ROLE } from '../accounts/roles.ts';
import type { Services } from '../http/context.ts';
import { Problem } from '../http/problems.ts';
import { type App, addRoute } from '../http/route.ts';
import { PAPER_POLICY } from '../http/security.ts';
import { createToday, zoneOf } from '../work/days.ts';
import { profileOf } from '../work/firm.ts';
import { getProperty } from './properties.ts';
import { list } from './schemas.ts';

const SVG = 'image/svg+xml';
const MOST_SITE_BYTES = 2 * 1024 * 1024;

/** A drawing is sent as GeoJSON (RFC 7946) and never stored here; the ring is computed from it and a label profile. */
const siteBody = z.object({
  /** GeoJSON FeatureCollection; see docs/how-to/draw-a-site.md */
  site: z.looseObject({ type: z.literal('FeatureCollection') }),
  /** id of the label profile whose spacing and set-back count */
  profile: z.string().min(1),
});
const answer = z.object({
  /** what is wrong with the drawing, each with its place; then there is no result */
  problems: list(z.looseObject({})),
  result: z.looseObject({}).nullable(),
});

/** Where stations go round a building, what a ring leaves unguarded, and the diagram of a property. */
export function addRingRoutes(app: App, services: Services): void {
  const { ledger, deps } = services;

  addRoute(
    app,
    services,
    {
      method: 'get',
      path: '/api/properties/{id}/diagram',
      tag: 'work',
      summary: 'The diagram of a property: for a screen, or to scale on letter paper',
      roles: EVERY_ROLE,
      params: z.object({ id: z.string().min(1).max(200) }),
      query: z.object({
        paper: z.enum(['screen', 'letter', 'letter landscape']).default('screen'),
        /** N of 1:N on paper; absent = the first usual one that fits */
        scale: z.coerce.number().int().min(10).max(5000).optional(),
        contrast: z.enum(['usual', 'high']).default('usual'),
        units: z.enum(['m', 'ft']).default('ft'),
      }),
      media: [SVG],
    },
    async ({ person, params: { id }, query }) => {
      const property = await getProperty(services, person.firm, id);
      const firm = await ledger.getFirm(person.firm);
      const profile = profileOf(property, firm);
      const marks = property.stations.map((state) => {
        const assessed = profile === undefined ? state : assessClearance(state, profile);
        return [state.station, stationMarkOf(assessed)] as const;
      });
      const today = createToday(deps.now()).inZone(zoneOf(property, firm));
      const svg = drawSite(siteOf(property), {
        medium:
          query.paper === 'screen'
            ? { kind: 'screen', width: 960, height: 720 }
            : { kind: 'print', paper: query.paper, scale: query.scale ?? 'fit' },
        contrast: query.contrast,
        units: query.units,
        marks: new Map(marks),
        legend: true,
        note: `${person.firmName}, ${dayToText(today)}`,
      });
      return new Response(svg, {
        headers: {
          'content-type': SVG,
          'cache-control': 'no-store',
          'content-security-policy': PAPER_POLICY,
        },
      });
    },
  );

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
        result: answer,
      },
      async ({ person, body }) => {
        const profile = (await ledger.getFirm(person.firm)).profiles[body.profile];
        if (profile === undefined)
          throw new Problem('no label profile', `The firm has no label profile "${body.profile}".`);
        const read = siteFromGeoJson(JSON.stringify(body.site));
        if (!read.ok) return { problems: read.refusals.map((one) => ({ ...one })), result: null };
        const problems = checkSite(read.site);
        if (problems.length > 0) return { problems: problems.map((one) => ({ ...one })), result: null };
        return { problems: [], result: { ...compute(read.site, ringRulesOf(profile)) } };
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
