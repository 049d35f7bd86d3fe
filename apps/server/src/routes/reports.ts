import { z } from '@hono/zod-openapi';
import { listEveryFact } from '@sillwatch/ledger';
import {
  type Document,
  PAPER_LANGUAGES,
  readRecordFilter,
  renderHtml,
  stationListCsv,
  stationListDocument,
  visitReport,
} from '@sillwatch/paper';
import { type Day, type DueWork, dueWork, type FirmState, type PropertyState } from '@sillwatch/trade';
import type { Context } from 'hono';
import { EVERY_ROLE } from '../accounts/roles.ts';
import type { Env, Person, Services } from '../http/context.ts';
import { Problem } from '../http/problems.ts';
import { type App, addRoute } from '../http/route.ts';
import { PAPER_POLICY, PDF_POLICY } from '../http/security.ts';
import { type Asker, drawPdf, drawRecord } from '../papers/drawn.ts';
import { createToday, readDay, zoneOf } from '../work/days.ts';
import { eachProperty, modelsOf, profileOf } from '../work/firm.ts';
import { getProperty } from './properties.ts';
import { dayText } from './schemas.ts';

export const lang = z.enum(PAPER_LANGUAGES).default('en-US');
/** What part of the pesticide application record is asked for. */
export const recordQuery = {
  from: dayText.optional(),
  to: dayText.optional(),
  /** EPA registration number */
  product: z.string().min(1).optional(),
  /** name, certification number or account: who applied, supervised or wrote it down */
  technician: z.string().min(1).optional(),
};
export const HTML = 'text/html';
export const PDF = 'application/pdf';
export const CSV = 'text/csv';
const JSON_TYPE = 'application/json';

/** Papers: computed from the facts at the moment of asking, never stored. */
export function addReportRoutes(app: App, services: Services): void {
  const { ledger, deps } = services;

  addRoute(
    app,
    services,
    {
      method: 'get',
      path: '/api/reports/visits/{visit}',
      tag: 'reports',
      summary: 'What was found and done at a visit, for the customer',
      roles: EVERY_ROLE,
      params: z.object({ visit: z.string().min(1).max(200) }),
      query: z.object({
        /** spares a search over all properties */
        property: z.string().min(1).optional(),
        format: z.enum(['html', 'pdf']).default('html'),
        lang,
        asOf: dayText.optional(),
      }),
      media: [HTML, PDF],
    },
    async ({ person, params: { visit }, query, context }) => {
      const firm = await ledger.getFirm(person.firm);
      const property = await findVisited(services, person.firm, visit, query.property);
      const asOf = dayOf(services, property, firm, query.asOf);
      const document = visitReport({
        ...paperBasics(person, property, firm, asOf, deps.now()),
        facts: await listEveryFact(ledger, person.firm, { property: property.property }),
        visit,
        lang: query.lang,
      });
      return query.format === 'pdf'
        ? sendPdf(services, askerOf(person, context), document, `visit-${visit}`)
        : sendText(renderHtml(document), HTML);
    },
  );

  addRoute(
    app,
    services,
    {
      method: 'get',
      path: '/api/reports/applications',
      tag: 'reports',
      summary: 'The pesticide application record of a period, a property, a product or an applicator',
      roles: EVERY_ROLE,
      query: z.object({
        ...recordQuery,
        property: z.string().min(1).optional(),
        /** `count`: how much the record holds, as JSON */
        format: z.enum(['csv', 'pdf', 'html', 'count']).default('csv'),
        lang,
      }),
      media: [CSV, PDF, HTML, JSON_TYPE],
    },
    async ({ person, query, context }) => {
      if (query.property !== undefined) await getProperty(services, person.firm, query.property);
      const filter = readRecordFilter(query, (text, field) => readDay(text, `query.${field}`));
      const firm = await ledger.getFirm(person.firm);
      const request = {
        firm: { name: person.firmName, lines: [] },
        filter,
        format: query.format,
        profiles: Object.values(firm.profiles),
        writtenAt: writtenAt(deps.now()),
        lang: query.lang,
      };
      const pieces = await drawRecord(services, askerOf(person, context), request);
      const mediaType = { csv: CSV, pdf: PDF, html: HTML, count: JSON_TYPE }[query.format];
      return new Response(new Blob([...pieces]), {
        headers: paperHeaders(
          mediaType === PDF ? PDF : `${mediaType}; charset=utf-8`,
          query.format === 'csv' || query.format === 'pdf' ? `applications.${query.format}` : undefined,
        ),
      });
    },
  );

  addRoute(
    app,
    services,
    {
      method: 'get',
      path: '/api/reports/stations/{property}',
      tag: 'reports',
      summary: 'The stations of a property with what each holds and when it is due',
      roles: EVERY_ROLE,
      params: z.object({ property: z.string().min(1).max(200) }),
      query: z.object({
        format: z.enum(['csv', 'pdf', 'html']).default('csv'),
        lang,
        asOf: dayText.optional(),
      }),
      media: [CSV, PDF, HTML],
    },
    async ({ person, params, query, context }) => {
      const firm = await ledger.getFirm(person.firm);
      const property = await getProperty(services, person.firm, params.property);
      const asOf = dayOf(services, property, firm, query.asOf);
      const input = { ...paperBasics(person, property, firm, asOf, deps.now()), lang: query.lang };
      if (query.format === 'csv')
        return sendText(stationListCsv(input), CSV, `stations-${property.property}.csv`);
      const document = stationListDocument(input);
      return query.format === 'pdf'
        ? sendPdf(services, askerOf(person, context), document, `stations-${property.property}`)
        : sendText(renderHtml(document), HTML);
    },
  );
}

/** The property at which the firm made this visit. Throws `not found`. */
export async function findVisited(
  services: Services,
  firm: string,
  visit: string,
  hint: string | undefined,
): Promise<PropertyState> {
  const isVisited = (state: PropertyState) => state.visits.some((one) => one.visit === visit);
  if (hint !== undefined) {
    const state = await getProperty(services, firm, hint);
    if (isVisited(state)) return state;
  } else {
    for await (const state of eachProperty(services.ledger, firm, undefined))
      if (isVisited(state)) return state;
  }
  throw new Problem('not found', 'The firm has made no such visit.');
}

/** What every paper of a property needs, as of a day. */
export function paperBasics(
  person: Pick<Person, 'firmName'>,
  property: PropertyState,
  firm: FirmState,
  asOf: Day,
  now: number,
) {
  const profile = profileOf(property, firm) ?? null;
  const due: DueWork =
    profile === null
      ? { items: [], held: [], clearStructures: [] }
      : dueWork(property.stations, profile, asOf);
  return {
    firm: { name: person.firmName, lines: [] },
    property,
    profile,
    models: modelsOf(firm),
    due,
    asOf,
    writtenAt: writtenAt(now),
  };
}

export function dayOf(
  { deps }: { readonly deps: Pick<Services['deps'], 'now'> },
  property: PropertyState,
  firm: FirmState,
  asked: string | undefined,
): Day {
  return asked === undefined ? createToday(deps.now()).inZone(zoneOf(property, firm)) : readDay(asked);
}

export function writtenAt(now: number): string {
  return new Date(now).toISOString().replace(/\.\d{3}Z$/, '+00:00');
}

export async function sendPdf(
  services: Services,
  asker: Asker,
  document: Document,
  name: string,
): Promise<Response> {
  return new Response(Uint8Array.from(await drawPdf(services, asker, document)), {
    headers: paperHeaders(PDF, `${name}.pdf`),
  });
}

export function askerOf({ firm }: Pick<Person, 'firm'>, { req }: Context<Env>): Asker {
  return { firm, signal: req.raw.signal };
}

export function sendText(text: string, mediaType: string, fileName?: string): Response {
  return new Response(text, { headers: paperHeaders(`${mediaType}; charset=utf-8`, fileName) });
}

export function paperHeaders(mediaType: string, fileName: string | undefined): Record<string, string> {
  const safe = fileName?.replaceAll(/[^\w.-]+/g, '-');
  return {
    'content-type': mediaType,
    'cache-control': 'no-store',
    'content-security-policy': mediaType === PDF ? PDF_POLICY : PAPER_POLICY,
    ...(safe === undefined ? {} : { 'content-disposition': `inline; filename="${safe}"` }),
  };
}
