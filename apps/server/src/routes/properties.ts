import { z } from '@hono/zod-openapi';
import { correctedId, dayToText, dueWork, type FirmState, type PropertyState } from '@sillwatch/trade';
import { EVERY_ROLE } from '../accounts/roles.ts';
import type { Services } from '../http/context.ts';
import { Problem } from '../http/problems.ts';
import { type App, addRoute } from '../http/route.ts';
import type { BookEntry } from '../work/book.ts';
import { createToday, readDay, zoneOf } from '../work/days.ts';
import { createMatch } from '../work/dueRows.ts';
import { profileOf } from '../work/firm.ts';
import { factSchema } from './factSchema.ts';
import { dayText, list } from './schemas.ts';
import { propertyBody, showStation, showVisits, station, structure, visit } from './stateSchemas.ts';

const params = z.object({ id: z.string().min(1).max(200) });

const listedProperty = z
  .object({
    property: z.string(),
    name: z.string(),
    street: z.string(),
    town: z.string(),
    branch: z.string(),
    customer: z.string(),
    structures: z.number().int(),
    /** in service */
    stations: z.number().int(),
    feeding: z.number().int(),
    openHits: z.number().int(),
    lastVisit: dayText.nullable(),
    renewsOn: z.string().nullable(),
    /** degrees, WGS 84 */
    position: z.object({ latitude: z.number(), longitude: z.number() }).nullable(),
  })
  .openapi('ListedProperty');

const property = z
  .object({
    property: z.string(),
    asOf: dayText,
    body: propertyBody.nullable(),
    /** null when the firm has no profile by the property's id for it: then nothing is due */
    profile: z.object({ id: z.string(), name: z.string(), invented: z.boolean() }).nullable(),
    structures: list(structure),
    /** what is drawn round them (see the fact `site drawn`); null = nothing yet */
    site: z.looseObject({}).nullable(),
    stations: list(station),
    /** the latest last */
    visits: list(visit),
    clearance: list(z.object({ structure: z.string(), clearedOn: dayText })),
    /** facts that this build does not understand: kept and passed over */
    passedOver: z.number().int(),
  })
  .openapi('Property');

export function addPropertyRoutes(app: App, services: Services): void {
  const { ledger, deps } = services;

  addRoute(
    app,
    services,
    {
      method: 'get',
      path: '/api/properties',
      tag: 'work',
      summary: 'Properties by words in name, street, town, customer or tag',
      roles: EVERY_ROLE,
      query: z.object({
        text: z.string().max(500).optional(),
        branch: z.string().min(1).optional(),
        /** whose agreement ends in this month, YYYY-MM */
        renewsIn: z
          .string()
          .regex(/^\d{4}-(0[1-9]|1[0-2])$/)
          .optional(),
        after: z.string().min(1).optional(),
        /** `id` goes on with `after`; `name` with `offset` */
        order: z.enum(['id', 'name']).default('id'),
        offset: z.coerce.number().int().min(0).default(0),
        limit: z.coerce.number().int().min(1).max(5000).default(100),
      }),
      result: z.object({
        properties: list(listedProperty),
        /** ask again with this as `after`; null = that was all */
        next: z.string().nullable(),
        /** properties that match, and properties in all */
        total: z.number().int(),
        all: z.number().int(),
      }),
    },
    async ({ person, query: { text, branch, renewsIn, after, order, offset, limit } }) => {
      const { entries } = await services.books.open(person.firm);
      const ordered = order === 'name' ? byName(entries) : entries;
      const isAsked = createMatch({ branch, text });
      const matching = ordered.filter(
        (entry) =>
          isAsked(entry) && (renewsIn === undefined || entry.renewsOn?.startsWith(`${renewsIn}-`) === true),
      );
      const found =
        order === 'name'
          ? matching
          : matching.filter((entry) => after === undefined || entry.property > after);
      const page = found.slice(offset, offset + limit);
      return {
        properties: page.map(showListed),
        next: found.length > offset + limit ? (page.at(-1)?.property ?? null) : null,
        total: matching.length,
        all: entries.length,
      };
    },
  );

  addRoute(
    app,
    services,
    {
      method: 'get',
      path: '/api/properties/{id}',
      tag: 'work',
      summary: 'One property: structures, stations with what is due, visits, clearance',
      roles: EVERY_ROLE,
      params,
      query: z.object({ asOf: dayText.optional() }),
      result: property,
    },
    async ({ person, params: { id }, query }) => {
      const firm = await ledger.getFirm(person.firm);
      const state = await getProperty(services, person.firm, id);
      const asOf =
        query.asOf === undefined ? createToday(deps.now()).inZone(zoneOf(state, firm)) : readDay(query.asOf);
      return showProperty(state, firm, asOf);
    },
  );

  addRoute(
    app,
    services,
    {
      method: 'get',
      path: '/api/properties/{id}/facts',
      tag: 'records',
      summary: 'The timeline of a property or one of its stations, corrections beside what they correct',
      roles: EVERY_ROLE,
      params,
      query: z.object({
        station: z.string().min(1).optional(),
        afterSeq: z.coerce.number().int().min(0).default(0),
        limit: z.coerce.number().int().min(1).max(10_000).default(10_000),
      }),
      result: z.object({ facts: list(factSchema.extend({ correctedBy: list(z.string()) })) }),
    },
    async ({ person, params: { id }, query }) => {
      await getProperty(services, person.firm, id);
      const facts = await ledger.listFacts(person.firm, {
        property: id,
        afterSeq: query.afterSeq,
        limit: query.limit,
        ...(query.station === undefined ? {} : { station: query.station }),
      });
      const correctionsById = new Map<string, string[]>();
      for (const fact of facts) {
        const corrected = correctedId(fact);
        if (corrected === undefined) continue;
        correctionsById.set(corrected, [...(correctionsById.get(corrected) ?? []), fact.id]);
      }
      return { facts: facts.map((fact) => ({ ...fact, correctedBy: correctionsById.get(fact.id) ?? [] })) };
    },
  );
}

/** Throws `not found` for another firm's property just as for one that nobody has. */
export async function getProperty(
  { ledger }: Pick<Services, 'ledger'>,
  firm: string,
  id: string,
): Promise<PropertyState> {
  const state = await ledger.findProperty(firm, id);
  if (state === undefined) throw new Problem('not found', 'The firm has no such property.');
  return state;
}

/** As people look names up: case and accents come last. */
const BY_NAME = new Intl.Collator('en-US');
const namesByEntries = new WeakMap<readonly BookEntry[], readonly BookEntry[]>();

/** Sorted once for one state of a book: a list is asked for slice by slice. */
function byName(entries: readonly BookEntry[]): readonly BookEntry[] {
  const known = namesByEntries.get(entries);
  if (known !== undefined) return known;
  const sorted = entries.toSorted(
    (a, b) => BY_NAME.compare(a.name, b.name) || (a.property < b.property ? -1 : 1),
  );
  namesByEntries.set(entries, sorted);
  return sorted;
}

function showListed(entry: BookEntry): z.input<typeof listedProperty> {
  return {
    property: entry.property,
    name: entry.name,
    street: entry.street,
    town: entry.town,
    branch: entry.branch,
    customer: entry.customer,
    structures: entry.structures,
    stations: entry.stations,
    feeding: entry.feeding,
    openHits: entry.openHits,
    lastVisit: entry.lastVisit === null ? null : dayToText(entry.lastVisit),
    renewsOn: entry.renewsOn,
    position: entry.position,
  };
}

function showProperty(
  state: PropertyState,
  firm: FirmState,
  asOf: Parameters<typeof dueWork>[2],
): z.input<typeof property> {
  const profile = profileOf(state, firm);
  const work =
    profile === undefined
      ? { items: [], held: [], clearStructures: [] }
      : dueWork(state.stations, profile, asOf);
  const itemsByStation = Map.groupBy(work.items, ({ station: of }) => of);
  const heldByStation = new Map(work.held.map((one) => [one.station, one]));
  return {
    property: state.property,
    asOf: dayToText(asOf),
    body: state.body,
    profile:
      profile === undefined ? null : { id: profile.id, name: profile.name, invented: profile.invented },
    structures: state.structures.map(({ property: _property, ...rest }) => rest),
    site: state.site === null ? null : { ...state.site },
    stations: state.stations.map((one) =>
      showStation(
        one,
        (itemsByStation.get(one.station) ?? []).toSorted((a, b) => a.latest - b.latest),
        heldByStation.get(one.station),
        asOf,
      ),
    ),
    visits: showVisits(state),
    clearance: work.clearStructures.map((one) => ({
      structure: one.structure,
      clearedOn: dayToText(one.clearedOn),
    })),
    passedOver: state.passedOver.length,
  };
}
