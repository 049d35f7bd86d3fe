import { z } from '@hono/zod-openapi';
import { listSentRounds } from '@sillwatch/rounds';
import { addDays, dayToText, type PropertyState, type RoundBody } from '@sillwatch/trade';
import { EVERY_ROLE } from '../accounts/roles.ts';
import type { Person, Services } from '../http/context.ts';
import { Problem } from '../http/problems.ts';
import { type App, addRoute } from '../http/route.ts';
import { listPublished, listRoundFacts } from '../plans/readTask.ts';
import { createToday, readDay } from '../work/days.ts';
import type { RoundShelf } from '../work/rounds.ts';
import { roundSchema } from './planSchemas.ts';
import { dayText, list } from './schemas.ts';

const DEFAULT_DAYS = 28;
/** What was recorded is read property by property. */
const MOST_SENT_DAYS = 31;

const visitPlace = z.object({ day: dayText, person: z.string(), startsAt: z.string() });
const sentChange = z.object({ visit: z.string(), property: z.string(), other: visitPlace.nullable() });
const sentRound = z
  .object({
    round: roundSchema,
    sentAt: z.string().openapi({ format: 'date-time' }),
    by: z.string(),
    /** different forms in which it was sent out, this one included */
    forms: z.number().int(),
    /** visits that came or changed with this form, and where they stood before */
    came: list(sentChange),
    /** visits of the form before that are gone, and where they stand now */
    went: list(sentChange),
    /** what was recorded at its properties: at the visit itself, or on its day */
    done: list(
      z.object({ visit: z.string(), day: dayText, by: z.string(), opened: z.number(), unopened: z.number() }),
    ),
  })
  .openapi('SentRound');

/** As a phone needs it: with what is not in the round itself. */
const placed = z.object({
  property: z.string(),
  name: z.string(),
  address: z.object({ street: z.string(), town: z.string(), state: z.string(), postcode: z.string() }),
  phone: z.string().nullable(),
  accessNotes: z.string(),
  hazards: z.string(),
  position: z.object({ latitude: z.number(), longitude: z.number() }).nullable(),
  asks: list(z.object({ ask: z.string(), why: z.string(), urgent: z.boolean(), minutes: z.number() })),
  promise: z.object({ day: dayText, from: z.string(), to: z.string(), how: z.string() }).nullable(),
});

export function addRoundRoutes(app: App, services: Services, shelf: RoundShelf): void {
  const { ledger, deps } = services;
  /** Days of long ago are read from the ledger. */
  const listFrom = (firm: string, day: string): Promise<readonly RoundBody[]> =>
    day < shelf.firstDay() ? listPublished(ledger, firm) : shelf.list(firm);

  addRoute(
    app,
    services,
    {
      method: 'get',
      path: '/api/rounds',
      tag: 'work',
      summary: 'Rounds as last sent out; a technician sees his own',
      roles: EVERY_ROLE,
      query: z.object({
        /** default: today */
        from: dayText.optional(),
        /** inclusive; default: four weeks from `from` */
        to: dayText.optional(),
        person: z.string().min(1).optional(),
        branch: z.string().min(1).optional(),
      }),
      result: z.object({ rounds: list(roundSchema) }),
    },
    async ({ person, query }) => {
      const whose = query.person ?? (person.role === 'technician' ? person.id : undefined);
      if (whose !== undefined) checkOwn(person, whose);
      const first =
        query.from === undefined ? createToday(deps.now()).inZone('UTC') : readDay(query.from, 'query.from');
      const last = query.to === undefined ? addDays(first, DEFAULT_DAYS) : readDay(query.to, 'query.to');
      const [from, to] = [dayToText(first), dayToText(last)];
      const rounds = await listFrom(person.firm, from);
      return {
        rounds: rounds.filter(
          (round) =>
            round.day >= from &&
            round.day <= to &&
            (whose === undefined || round.person === whose) &&
            (query.branch === undefined || round.branch === query.branch) &&
            maySee(person, round),
        ),
      };
    },
  );

  addRoute(
    app,
    services,
    {
      method: 'get',
      path: '/api/rounds/sent',
      tag: 'work',
      summary:
        'Rounds sent out, with when and by whom, what the last sending changed, and what was recorded; a technician sees his own',
      roles: EVERY_ROLE,
      query: z.object({
        from: dayText,
        /** inclusive; at most 31 days */
        to: dayText,
        person: z.string().min(1).optional(),
        branch: z.string().min(1).optional(),
      }),
      result: z.object({ rounds: list(sentRound) }),
    },
    async ({ person, query }) => {
      const whose = query.person ?? (person.role === 'technician' ? person.id : undefined);
      if (whose !== undefined) checkOwn(person, whose);
      const [first, last] = [readDay(query.from, 'query.from'), readDay(query.to, 'query.to')];
      if (last - first >= MOST_SENT_DAYS)
        throw new Problem('malformed', `At most ${MOST_SENT_DAYS} days at a time.`, {
          errors: [{ at: 'query.to', message: `more than ${MOST_SENT_DAYS} days after query.from` }],
        });
      const all =
        query.from < shelf.firstDay()
          ? listSentRounds(await listRoundFacts(ledger, person.firm))
          : await shelf.listSent(person.firm);
      const rounds = all.filter(
        ({ round }) =>
          round.day >= query.from &&
          round.day <= query.to &&
          (whose === undefined || round.person === whose) &&
          (query.branch === undefined || round.branch === query.branch) &&
          maySee(person, round),
      );
      const ids = new Set(rounds.flatMap(({ round }) => round.visits.map(({ property }) => property)));
      const visits = new Map<string, PropertyState['visits']>();
      for (const id of ids) visits.set(id, (await ledger.findProperty(person.firm, id))?.visits ?? []);
      return { rounds: rounds.map((sent) => ({ ...sent, done: listDone(sent.round, visits) })) };
    },
  );

  addRoute(
    app,
    services,
    {
      method: 'get',
      path: '/api/rounds/{person}/{day}',
      tag: 'work',
      summary:
        "One technician's round of one day with names, addresses and notes, for the phone; null = none",
      roles: EVERY_ROLE,
      params: z.object({ person: z.string().min(1).max(200), day: dayText }),
      result: z.object({ round: roundSchema.nullable(), properties: list(placed) }),
    },
    async ({ person, params }) => {
      checkOwn(person, params.person);
      readDay(params.day, 'path.day');
      const round = (await listFrom(person.firm, params.day)).find(
        (one) => one.person === params.person && one.day === params.day && maySee(person, one),
      );
      if (round === undefined) return { round: null, properties: [] };
      const ids = [...new Set(round.visits.map(({ property }) => property))];
      const states = await Promise.all(ids.map((id) => ledger.findProperty(person.firm, id)));
      return { round, properties: states.flatMap((state) => (state === undefined ? [] : [place(state)])) };
    },
  );
}

/** Records carry the visit's id, or one of their own where the phone did not know the round: then the day tells. */
function listDone(
  round: RoundBody,
  visits: ReadonlyMap<string, PropertyState['visits']>,
): z.input<typeof sentRound>['done'] {
  return round.visits.flatMap(({ visit, property }) => {
    const own = visits.get(property) ?? [];
    const made =
      own.find((one) => one.visit === visit) ?? own.find(({ day }) => dayToText(day) === round.day);
    if (made === undefined) return [];
    const { day, by, opened, unopened } = made;
    return [{ visit, day: dayToText(day), by, opened, unopened }];
  });
}

function checkOwn(person: Person, whose: string): void {
  if (person.role === 'technician' && whose !== person.id)
    throw new Problem('not allowed', 'A technician sees his own rounds.');
}

function maySee(person: Person, round: RoundBody): boolean {
  return person.branch === null || person.branch === round.branch || person.id === round.person;
}

function place({ property, body, asks, promise }: PropertyState): z.input<typeof placed> {
  return {
    property,
    name: body?.name ?? '',
    address: body?.address ?? { street: '', town: '', state: '', postcode: '' },
    phone: body?.customer.phone ?? null,
    accessNotes: body?.accessNotes ?? '',
    hazards: body?.hazards ?? '',
    position: body?.position ?? null,
    asks: asks.map(({ ask, why, urgent, minutes }) => ({ ask, why, urgent, minutes })),
    promise:
      promise?.day === undefined || promise.day === null
        ? null
        : { day: promise.day, from: promise.from, to: promise.to, how: promise.how },
  };
}
