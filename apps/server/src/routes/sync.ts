import { z } from '@hono/zod-openapi';
import { type Ledger, listEveryFact } from '@sillwatch/ledger';
import {
  type AnyFact,
  addDays,
  CORRECTION,
  correctedId,
  dayToText,
  type FactKind,
  resolveFacts,
} from '@sillwatch/trade';
import { listPeople } from '../accounts/people.ts';
import { EVERY_ROLE, RECORDERS } from '../accounts/roles.ts';
import type { AppSettings } from '../app.ts';
import type { Person } from '../http/context.ts';
import { Problem } from '../http/problems.ts';
import { type App, addRoute } from '../http/route.ts';
import { MAIL_STATES } from '../mail/store.ts';
import { createToday } from '../work/days.ts';
import { factSchema } from './factSchema.ts';
import { compose } from './mail.ts';
import { getProperty } from './properties.ts';
import { list, personSchema, showPerson } from './schemas.ts';

/** The firm's own facts that a phone works with; absences of others, links and stock are not its business. */
const FIRM_KINDS_FOR_PHONES: readonly FactKind[] = [
  'profile set',
  'model set',
  'branch added',
  'part set',
  'technician set',
  'round published',
];
/** Rounds that are over are of no use on a phone. */
const ROUND_DAYS_KEPT = 14;
const FIRM_FACTS_READ = 1000;
const MOST_PROPERTIES = 200;
const MOST_FACTS = 5000;
/** Messages about one property that are looked through for one that went already. */
const MOST_MESSAGES = 200;

const id = z.string().min(1).max(200);

/** What a phone asks when it has a line: who am I, what is new of the firm, what is new of these properties. */
export function addSyncRoutes(app: App, services: AppSettings): void {
  const { ledger, accounts, deps, demo } = services;

  addRoute(
    app,
    services,
    {
      method: 'get',
      path: '/api/sync/pull',
      tag: 'records',
      summary:
        "For a phone: the person, the firm's own facts after a ledger position, the person's rounds, names, the time",
      roles: EVERY_ROLE,
      // The phone must be able to say "choose your own password" while its records wait.
      beforeOwnPassword: true,
      query: z.object({ since: z.coerce.number().int().min(0).default(0) }),
      result: z.object({
        me: personSchema,
        /** RFC 3339, UTC: to compare the phone's clock with */
        now: z.string(),
        facts: list(factSchema),
        /** ask again with this as `since` */
        upTo: z.number().int(),
        /** true = more is waiting after `upTo` */
        more: z.boolean(),
        names: list(z.object({ id: z.string(), name: z.string() })),
      }),
    },
    async ({ person, query: { since } }) => {
      const read = person.mustChangePassword ? [] : await readFirmFacts(ledger, person, since);
      const today = createToday(deps.now()).inZone('UTC');
      const oldest = dayToText(addDays(today, -ROUND_DAYS_KEPT));
      const people = person.mustChangePassword ? [] : await listPeople(accounts, person.firm);
      return {
        me: showPerson(person, demo),
        now: new Date(deps.now()).toISOString(),
        facts: await keepForPhone(ledger, person, read, oldest),
        upTo: read.at(-1)?.receipt?.seq ?? since,
        more: read.length === FIRM_FACTS_READ,
        names: people.map(({ id: one, name }) => ({ id: one, name })),
      };
    },
  );

  addRoute(
    app,
    services,
    {
      method: 'post',
      path: '/api/sync/facts',
      tag: 'records',
      summary: `The facts of up to ${MOST_PROPERTIES} properties, each after a ledger position; ${MOST_FACTS} facts at most in one answer`,
      roles: EVERY_ROLE,
      body: z.object({
        properties: z
          .array(z.object({ property: id, afterSeq: z.number().int().min(0) }))
          .max(MOST_PROPERTIES),
      }),
      result: z.object({
        properties: list(
          z.object({
            property: z.string(),
            facts: list(factSchema),
            /** ask again with this as `afterSeq` */
            upTo: z.number().int(),
            more: z.boolean(),
          }),
        ),
      }),
    },
    async ({ person, body }) => {
      let left = MOST_FACTS;
      const properties = [];
      for (const { property, afterSeq } of body.properties) {
        const facts =
          left === 0 ? [] : await ledger.listFacts(person.firm, { property, afterSeq, limit: left });
        const more = facts.length === left;
        left -= facts.length;
        properties.push({ property, facts, upTo: facts.at(-1)?.receipt?.seq ?? afterSeq, more });
      }
      return { properties };
    },
  );

  addRoute(
    app,
    services,
    {
      method: 'post',
      path: '/api/sync/standing',
      tag: 'accounts',
      summary:
        'For a phone whose session has ended: is this person still of this firm? Says nothing else, and `unknown` for any id that is not of it',
      roles: 'anyone',
      body: z.object({ firm: id, person: id }),
      result: z.object({ standing: z.enum(['current', 'former', 'unknown']) }),
    },
    async ({ body: { firm, person } }) => {
      const found = (await listPeople(accounts, firm)).find((one) => one.id === person);
      if (found === undefined) return { standing: 'unknown' } as const;
      return { standing: found.removedAt === null ? 'current' : 'former' } as const;
    },
  );

  const asking = new Map<string, Promise<unknown>>();
  addRoute(
    app,
    services,
    {
      method: 'post',
      path: '/api/sync/report',
      tag: 'reports',
      summary:
        'The report of a visit that the asker closed himself goes to the address that the office has of the customer, in the language of the property; asked twice it goes once',
      roles: RECORDERS,
      body: z.object({ property: id, visit: id }),
      result: z.object({ message: z.string(), state: z.enum(MAIL_STATES) }),
    },
    async ({ person, body, context }) => {
      const key = `${person.firm} ${body.visit}`;
      const before = asking.get(key);
      // A phone that repeats itself must not send two reports: one question about a visit at a time.
      const answer = (before ?? Promise.resolve())
        .catch(() => {})
        .then(() => sendReport(services, person, body, context.req.raw.signal));
      asking.set(key, answer);
      try {
        return await answer;
      } finally {
        if (asking.get(key) === answer) asking.delete(key);
      }
    },
  );
}

/** A technician chooses neither paper, address nor words: whose visit it was, and nothing else, is what he says (decision 0192). */
async function sendReport(
  settings: AppSettings,
  person: Person,
  { property, visit }: { readonly property: string; readonly visit: string },
  signal: AbortSignal,
) {
  const { ledger, mail } = settings;
  const state = await getProperty(settings, person.firm, property);
  const facts = await listEveryFact(ledger, person.firm, { property, kinds: ['visit closed', CORRECTION] });
  const isOwn = resolveFacts(facts).standing.some(
    ({ fact, kind, body }) =>
      kind === 'visit closed' &&
      fact.by === person.id &&
      typeof body === 'object' &&
      body !== null &&
      'visit' in body &&
      body.visit === visit,
  );
  if (!isOwn)
    throw new Problem('not found', 'No visit with this id that you closed stands at this property.');
  const known = (await mail.store.list(person.firm, { property, limit: MOST_MESSAGES })).find(
    (one) => one.visit === visit && one.paper === 'visit report' && one.state !== 'cancelled',
  );
  if (known !== undefined) return { message: known.id, state: known.state };
  if (!mail.isSetUp) throw new Problem('mail not set up', 'MAIL_HOST is not set on this server.');
  const { preview, message } = await compose(
    settings,
    person,
    state,
    { paper: 'visit report', visit },
    signal,
  );
  if (preview.to === null)
    throw new Problem('no address', 'The property has no e-mail address of its customer.');
  const row = await mail.enqueue({ ...message, recipient: preview.to });
  return { message: row.id, state: row.state };
}

function readFirmFacts(ledger: Ledger, person: Person, afterSeq: number): Promise<readonly AnyFact[]> {
  return ledger.listFacts(person.firm, {
    afterSeq,
    kinds: [...FIRM_KINDS_FOR_PHONES, CORRECTION],
    limit: FIRM_FACTS_READ,
  });
}

/** Other people's rounds stay away, and corrections of what a phone is not told. */
async function keepForPhone(
  ledger: Ledger,
  person: Person,
  facts: readonly AnyFact[],
  oldest: string,
): Promise<readonly AnyFact[]> {
  const kept: AnyFact[] = [];
  for (const fact of facts) {
    if (fact.property !== null) continue;
    if (fact.kind !== CORRECTION) {
      if (isForPhone(fact, person, oldest)) kept.push(fact);
      continue;
    }
    const corrected = correctedId(fact);
    const target = corrected === undefined ? undefined : await ledger.findFact(person.firm, corrected);
    if (target !== undefined && isForPhone(target, person, oldest)) kept.push(fact);
  }
  return kept;
}

function isForPhone({ kind, body }: AnyFact, person: Person, oldest: string): boolean {
  if (!FIRM_KINDS_FOR_PHONES.some((one) => one === kind)) return false;
  if (kind !== 'round published') return true;
  if (typeof body !== 'object' || body === null || !('person' in body) || !('day' in body)) return false;
  return body.person === person.id && typeof body.day === 'string' && body.day >= oldest;
}
