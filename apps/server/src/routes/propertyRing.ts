import { z } from '@hono/zod-openapi';
import { DIAGRAM_WORDS } from '@sillwatch/paper';
import {
  type Audit,
  auditRing,
  checkSite,
  drawingToSvg,
  layOutSite,
  type Proposal,
  proposeStations,
  type RingRules,
  type Site,
  siteToGeoJson,
} from '@sillwatch/ring';
import { NoSuchStart, ringRulesOf, siteOf, stationMarkOf, walkOf } from '@sillwatch/rounds';
import {
  assessClearance,
  dayToText,
  dueWork,
  type LabelProfile,
  type PropertyState,
  timelinessOn,
} from '@sillwatch/trade';
import { EVERY_ROLE } from '../accounts/roles.ts';
import type { Services } from '../http/context.ts';
import { Problem } from '../http/problems.ts';
import { type App, addRoute } from '../http/route.ts';
import { PAPER_POLICY, PDF_POLICY } from '../http/security.ts';
import { draw } from '../papers/drawn.ts';
import { createToday, zoneOf } from '../work/days.ts';
import { profileOf } from '../work/firm.ts';
import { getProperty } from './properties.ts';
import { askerOf, lang, writtenAt } from './reports.ts';
import { list } from './schemas.ts';

const SVG = 'image/svg+xml';
const PDF = 'application/pdf';
/** RFC 7946, section 12 */
const GEOJSON = 'application/geo+json';

const params = z.object({ id: z.string().min(1).max(200) });
export const ringAnswer = z.object({
  /** what is wrong with the drawing, each with its place; then there is no result */
  problems: list(z.looseObject({})),
  result: z.looseObject({}).nullable(),
});
const startSchema = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('parking') }),
  z.object({ kind: z.literal('gate'), id: z.string().min(1) }),
  z.object({ kind: z.literal('station'), id: z.string().min(1) }),
  /** local metres, x east, y north of the property's own origin */
  z.object({ kind: z.literal('place'), at: z.object({ x: z.number(), y: z.number() }) }),
]);

/** What is computed from a property's own drawing: the diagram, the drawing as GeoJSON, a proposal, an audit, a walk. */
export function addPropertyRingRoutes(app: App, services: Services): void {
  addDiagram(app, services);
  addSite(app, services);
  addComputed(
    app,
    services,
    'proposal',
    'Where stations would go round a property as it is drawn, by its label profile',
    proposeStations,
  );
  addComputed(
    app,
    services,
    'audit',
    'What the stations of a property leave unguarded, and the fewest changes that mend it',
    auditRing,
  );
  addWalk(app, services);
}

function addDiagram(app: App, services: Services): void {
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
      params,
      query: z.object({
        format: z.enum(['svg', 'pdf']).default('svg'),
        /** absent = the screen as SVG, a letter sheet as PDF */
        paper: z.enum(['screen', 'letter', 'letter landscape']).optional(),
        /** N of 1:N on paper; absent = the first usual one that fits */
        scale: z.coerce.number().int().min(10).max(5000).optional(),
        contrast: z.enum(['usual', 'high']).default('usual'),
        units: z.enum(['m', 'ft']).default('ft'),
        lang,
      }),
      media: [SVG, PDF],
    },
    async ({ person, params: { id }, query, context }) => {
      const property = await getProperty(services, person.firm, id);
      const firm = await ledger.getFirm(person.firm);
      const today = createToday(deps.now()).inZone(zoneOf(property, firm));
      const paper = query.paper ?? (query.format === 'pdf' ? 'letter' : 'screen');
      const drawing = layOutSite(siteOf(property), {
        medium:
          paper === 'screen'
            ? { kind: 'screen', width: 960, height: 720 }
            : { kind: 'print', paper, scale: query.scale ?? 'fit' },
        contrast: query.contrast,
        units: query.units,
        marks: marksOf(property, profileOf(property, firm)),
        legend: true,
        words: DIAGRAM_WORDS[query.lang],
        note: `${person.firmName}, ${dayToText(today)}`,
      });
      if (query.format === 'svg') return send(drawingToSvg(drawing, 'site'), SVG, PAPER_POLICY);
      const paperOf = { lang: query.lang, author: person.firmName, writtenAt: writtenAt(deps.now()) };
      const job = { kind: 'diagram', paper: { drawing, ...paperOf } } as const;
      const pieces = await draw(services, askerOf(person, context), job);
      return send(new Blob([...pieces]), PDF, PDF_POLICY);
    },
  );
}

/** By the profile's own test for clear, where the firm has entered one. */
function marksOf(property: PropertyState, profile: LabelProfile | undefined) {
  return new Map(
    property.stations.map((state) => [
      state.station,
      stationMarkOf(profile === undefined ? state : assessClearance(state, profile)),
    ]),
  );
}

function send(body: string | Blob, mediaType: string, policy: string): Response {
  return new Response(body, {
    headers: { 'content-type': mediaType, 'cache-control': 'no-store', 'content-security-policy': policy },
  });
}

function addSite(app: App, services: Services): void {
  addRoute(
    app,
    services,
    {
      method: 'get',
      path: '/api/properties/{id}/site',
      tag: 'work',
      summary: 'The drawing of a property with its stations, as GeoJSON (RFC 7946)',
      roles: EVERY_ROLE,
      params,
      media: [GEOJSON],
    },
    async ({ person, params: { id } }) => {
      const property = await getProperty(services, person.firm, id);
      return send(JSON.stringify(siteToGeoJson(siteOf(property))), GEOJSON, PAPER_POLICY);
    },
  );
}

function addComputed(
  app: App,
  services: Services,
  name: 'proposal' | 'audit',
  summary: string,
  compute: (site: Site, rules: RingRules) => Proposal | Audit,
): void {
  addRoute(
    app,
    services,
    {
      method: 'get',
      path: `/api/properties/{id}/${name}`,
      tag: 'work',
      summary,
      roles: EVERY_ROLE,
      params,
      result: ringAnswer,
    },
    async ({ person, params: { id } }) => {
      const property = await getProperty(services, person.firm, id);
      const profile = profileOf(property, await services.ledger.getFirm(person.firm));
      if (profile === undefined)
        throw new Problem(
          'no label profile',
          'The property names no label profile that the firm has entered.',
        );
      return answerFor(siteOf(property), ringRulesOf(profile), compute);
    },
  );
}

/** A drawing with faults is answered with them: nothing computed from it could be trusted. */
export function answerFor(
  site: Site,
  rules: RingRules,
  compute: (site: Site, rules: RingRules) => Proposal | Audit,
): z.input<typeof ringAnswer> {
  const problems = checkSite(site);
  if (problems.length > 0) return { problems: problems.map((one) => ({ ...one })), result: null };
  return { problems: [], result: { ...compute(site, rules) } };
}

function addWalk(app: App, services: Services): void {
  const { ledger, deps } = services;
  addRoute(
    app,
    services,
    {
      method: 'post',
      path: '/api/properties/{id}/walk',
      tag: 'work',
      summary:
        'The shortest walk through the stations of a property, round walls and fences and through gates',
      roles: EVERY_ROLE,
      params,
      body: z.object({
        /** absent = those at which work may be done today */
        stations: z.array(z.string().min(1).max(200)).max(1000).optional(),
        /** absent = where the truck stands, else a gate, else a station */
        from: startSchema.optional(),
        /** back to where it began */
        closed: z.boolean().default(true),
      }),
      result: z.object({
        /** ids in walking order */
        order: list(z.string()),
        legs: list(
          z.object({
            from: z.string().nullable(),
            to: z.string().nullable(),
            lengthMetres: z.number(),
            points: list(z.object({ x: z.number(), y: z.number() })),
          }),
        ),
        lengthMetres: z.number(),
        /** false beyond 15 stations: within about 1 % of the shortest */
        isExact: z.boolean(),
        start: z.object({ from: startSchema, at: z.object({ x: z.number(), y: z.number() }) }).nullable(),
        /** asked for, and not on the walk */
        offWalk: list(z.object({ station: z.string(), why: z.enum(['not drawn', 'no way']) })),
      }),
    },
    async ({ person, params: { id }, body }) => {
      const property = await getProperty(services, person.firm, id);
      const firm = await ledger.getFirm(person.firm);
      const profile = profileOf(property, firm);
      const stations =
        body.stations ?? listDue(property, profile, createToday(deps.now()).inZone(zoneOf(property, firm)));
      try {
        return walkOf(property, stations, {
          closed: body.closed,
          ...(body.from === undefined ? {} : { from: body.from }),
        });
      } catch (error) {
        if (!(error instanceof NoSuchStart)) throw error;
        throw new Problem('malformed', 'The drawing of the property has no such place to begin at.', {
          errors: [{ at: 'body.from', message: 'name a gate or a station of the drawing, or leave it out' }],
        });
      }
    },
  );
}

function listDue(
  property: PropertyState,
  profile: LabelProfile | undefined,
  today: Parameters<typeof timelinessOn>[1],
): readonly string[] {
  if (profile === undefined)
    throw new Problem('no label profile', 'Without one nothing is due: name the stations to walk to.');
  const { items } = dueWork(property.stations, profile, today);
  return [
    ...new Set(items.filter((item) => timelinessOn(item, today) !== 'not yet').map(({ station }) => station)),
  ];
}
