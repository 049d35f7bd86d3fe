import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createFacts } from './support/facts.ts';
import {
  type Client,
  FIRM,
  seedPerson,
  signedIn,
  startTestServer,
  type TestServer,
} from './support/harness.ts';
import { type PlanAnswer, planBranch, seedBranch, waitForPlan } from './support/plans.ts';
import { findTestDatabase, type TestDatabase } from './support/postgres.ts';

let database: TestDatabase | undefined;
beforeAll(async () => {
  database = await findTestDatabase();
});
afterAll(() => database?.stop());

interface Visit {
  readonly visit: string;
  readonly property: string;
  readonly startsAt: string;
  readonly frozen: boolean;
}
interface Round {
  readonly person: string;
  readonly day: string;
  readonly visits: readonly Visit[];
}
const visitsOf = (rounds: readonly Round[]): readonly Visit[] => rounds.flatMap(({ visits }) => visits);

/** The same promises on both databases. */
describe.each(['sqlite', 'postgres'] as const)('plans on %s', (kind) => {
  let server: TestServer | undefined;
  let lead: Client;
  let driver: Client;
  let branches = 0;
  const freshBranch = async (properties = 5, people = ['driver-1', 'driver-2']): Promise<string> => {
    branches += 1;
    const branch = `planned-${branches}`;
    if (server === undefined) throw new Error('no server');
    await seedBranch(server.ledger, FIRM.id, 'lead-own', branch, {
      properties,
      people: people.map((name) => (branches === 1 ? name : `${branch}-${name}`)),
    });
    return branch;
  };

  beforeAll(async () => {
    if (kind === 'postgres' && database === undefined) return;
    server = await startTestServer({
      planThreads: 2,
      ...(kind === 'postgres' && database !== undefined
        ? { databaseUrl: database.url, secret: 'a secret of tests, long enough to sign with' }
        : {}),
    });
    await seedPerson(server, 'lead', { id: 'lead-own' });
    await seedPerson(server, 'technician', { id: 'driver-1', email: 'driver-1@example.com' });
    await seedPerson(server, 'lead', { id: 'lead-branch', email: 'branch@example.com', branch: 'elsewhere' });
    lead = await signedIn(server, `lead@${FIRM.id}.example`);
    driver = await signedIn(server, 'driver-1@example.com');
  });
  afterAll(() => server?.end());

  it('are made, compared, sent out once, and read by the technician himself', async (context) => {
    if (server === undefined) return context.skip();
    const branch = await freshBranch();
    const made = await planBranch(lead, branch, { seconds: 2, weeks: 6 });
    expect(made.state).toBe('done');
    expect(made.plan.travel).toBe('great circle');
    expect(made.plan.broken).toEqual([]);
    expect(made.plan.unplanned).toEqual([]);
    expect(new Set(visitsOf(made.plan.rounds).map(({ property }) => property)).size).toBe(5);
    expect(made.comparison.last).toBeNull();
    expect(made.comparison.byHand.visits).toBe(made.plan.totals.visits);
    expect(made.progress.iterations).toBeGreaterThan(0);

    const sent = await lead.post(`/api/plans/${made.id}/publish`);
    expect(sent.body).toEqual({
      rounds: made.plan.rounds.length,
      emptied: 0,
      visits: made.plan.totals.visits,
    });
    const before = await server.ledger.findHead(FIRM.id);
    expect((await lead.post(`/api/plans/${made.id}/publish`)).body).toEqual(sent.body);
    expect(await server.ledger.findHead(FIRM.id)).toEqual(before);

    const all = await lead.get(`/api/rounds?branch=${branch}&to=2099-01-01`);
    expect(all.body.rounds).toEqual(made.plan.rounds);
    const own = await driver.get('/api/rounds?to=2099-01-01');
    expect(own.body.rounds).toEqual(made.plan.rounds.filter(({ person }: Round) => person === 'driver-1'));
    const [first] = made.plan.rounds;
    const phone = await lead.get(`/api/rounds/${first.person}/${first.day}`);
    expect(phone.body.round).toEqual(first);
    expect(phone.body.properties[0]).toMatchObject({
      property: first.visits[0].property,
      name: `House ${first.visits[0].property}`,
      address: { street: '12 Pretend Lane' },
    });
    expect((await driver.get('/api/rounds/driver-2/2026-12-01')).body.code).toBe('not allowed');
    expect((await driver.get('/api/rounds?person=driver-2')).body.code).toBe('not allowed');
    expect((await driver.get('/api/rounds/driver-1/2001-01-01')).body).toEqual({
      round: null,
      properties: [],
    });
  });

  it('start from what was sent out: nothing moves without a reason, and an outdated plan is refused', async (context) => {
    if (server === undefined) return context.skip();
    const branch = await freshBranch();
    const first = await planBranch(lead, branch, { seconds: 1 });
    const outdated = await planBranch(lead, branch, { iterations: 20, seed: 7 });
    await lead.post(`/api/plans/${first.id}/publish`);
    const refused = await lead.post(`/api/plans/${outdated.id}/publish`);
    expect(refused.status).toBe(409);
    expect(refused.body.code).toBe('plan outdated');

    const second = await planBranch(lead, branch, { seconds: 1, seed: 99 });
    expect(second.comparison.moves.counts).toMatchObject({ day: 0, technician: 0, gone: 0, new: 0 });
    expect(
      visitsOf(second.plan.rounds)
        .map(({ visit }) => visit)
        .sort(),
    ).toEqual(
      visitsOf(first.plan.rounds)
        .map(({ visit }) => visit)
        .sort(),
    );
    // A day on which nobody drives empties its rounds and moves their visits.
    const { day } = first.plan.rounds[0];
    const facts = createFacts(FIRM.id, 'lead-own', `closing-${branch}`);
    await server.ledger.append(
      FIRM.id,
      [{ ...facts.other(null, 'branch closed'), body: { branch, from: day, to: day, why: 'rain' } }],
      new Date().toISOString(),
    );
    const third = await planBranch(lead, branch, { seconds: 1 });
    expect(third.plan.rounds.filter((round: Round) => round.day === day)).toEqual([]);
    expect(third.comparison.moves.moved.length).toBeGreaterThan(0);
    const sent = await lead.post(`/api/plans/${third.id}/publish`);
    expect(sent.body.emptied).toBeGreaterThan(0);
    const rounds = (await lead.get(`/api/rounds?branch=${branch}&to=2099-01-01`)).body.rounds;
    expect(rounds).toEqual(third.plan.rounds);
  });

  it('can be dragged about and frozen, by one person at a time', async (context) => {
    if (server === undefined) return context.skip();
    const branch = await freshBranch();
    const made = await planBranch(lead, branch);
    const [round] = made.plan.rounds;
    const [{ visit }] = round.visits;
    const other = made.plan.people.find(({ person }: { person: string }) => person !== round.person);
    const to = { visit, person: other.person, day: round.day };
    const tried = await lead.post(`/api/plans/${made.id}/moves`, { kind: 'try', ...to });
    expect(tried.status, tried.text).toBe(200);
    expect(tried.body.plan).toBeNull();
    expect(tried.body.move.moved.map((one: { visit: string }) => one.visit)).toContain(visit);
    expect((await lead.get(`/api/plans/${made.id}`)).body.plan).toEqual(made.plan);

    const applied = await lead.post(`/api/plans/${made.id}/moves`, {
      kind: 'apply',
      ...to,
      version: made.version,
    });
    const holder = applied.body.plan.plan.rounds.find(({ visits }: Round) =>
      visits.some((one) => one.visit === visit),
    );
    expect([holder.person, holder.day]).toEqual([other.person, round.day]);
    expect(visitsOf(applied.body.plan.plan.rounds)).toHaveLength(visitsOf(made.plan.rounds).length);
    expect((await lead.get(`/api/plans/${made.id}`)).body).toEqual(applied.body.plan);

    const late = await lead.post(`/api/plans/${made.id}/moves`, {
      kind: 'apply',
      ...to,
      version: made.version,
    });
    expect(late.body.code).toBe('plan changed');
    const away = await lead.post(`/api/plans/${made.id}/moves`, { kind: 'try', ...to, day: '2001-01-01' });
    expect(away.body.code).toBe('move refused');
    const nobody = await lead.post(`/api/plans/${made.id}/moves`, { kind: 'try', ...to, visit: 'none' });
    expect(nobody.body.code).toBe('not found');

    const frozen = await lead.post(`/api/plans/${made.id}/moves`, { kind: 'freeze', visits: [visit] });
    expect(frozen.body.plan.frozen).toEqual([visit]);
    await lead.post(`/api/plans/${made.id}/publish`);
    const rounds = (await lead.get(`/api/rounds?branch=${branch}&to=2099-01-01`)).body.rounds;
    expect(
      visitsOf(rounds)
        .filter((one) => one.frozen)
        .map((one) => one.visit),
    ).toEqual([visit]);
    // The next plan leaves it with this person on this day.
    const next = await planBranch(lead, branch, { iterations: 500, seed: 3 });
    const kept = next.plan.rounds.find(({ visits }: Round) => visits.some((one) => one.visit === visit));
    expect([kept.person, kept.day]).toEqual([other.person, round.day]);
  });

  it('take work that was in no round into one, as a visit that is never the same twice', async (context) => {
    if (server === undefined) return context.skip();
    branches += 1;
    const branch = `planned-${branches}`;
    const [person] = (
      await seedBranch(server.ledger, FIRM.id, 'lead-own', branch, { properties: 40, until: '09:00' })
    ).people;
    const made = await planBranch(lead, branch, { iterations: 50, weeks: 1 });
    const left = made.plan.unplanned.find((one: { key?: string }) => one.key !== undefined);
    expect(left, 'an hour a day is too little for forty houses').toBeDefined();
    expect(left.remedies.length).toBeGreaterThan(0);
    const { day } = made.plan.rounds[0];
    const to = { visit: left.key, person, day };
    // Asked twice at once, as a pointer does that passes on: one thread answers both alike.
    const [tried, again] = await Promise.all([
      lead.post(`/api/plans/${made.id}/moves`, { kind: 'try', ...to }),
      lead.post(`/api/plans/${made.id}/moves`, { kind: 'try', ...to }),
    ]);
    expect(again.body).toEqual(tried.body);
    const applied = await lead.post(`/api/plans/${made.id}/moves`, { kind: 'apply', ...to });
    expect(applied.status, applied.text).toBe(200);
    const { visit } = applied.body.move;
    expect(visit).toMatch(new RegExp(`^${made.id}-`));
    const { plan } = applied.body.plan;
    const round = plan.rounds.find((one: Round) => one.person === person && one.day === day);
    expect(round.visits.map((one: Visit) => one.visit)).toContain(visit);
    expect(plan.unplanned.map((one: { key?: string }) => one.key)).not.toContain(left.key);
    const ids = visitsOf(plan.rounds).map((one) => one.visit);
    expect(new Set(ids).size).toBe(ids.length);
    expect(plan.late.every((one: { why?: string }) => one.why !== undefined)).toBe(true);
  });

  it('are listed as sent out: what came and went, what is held, and what was done', async (context) => {
    if (server === undefined) return context.skip();
    const branch = await freshBranch();
    const made = await planBranch(lead, branch);
    await lead.post(`/api/plans/${made.id}/publish`);
    const { from, to } = made.plan;
    const sentNow = async () =>
      (await lead.get(`/api/rounds/sent?from=${from}&to=${to}&branch=${branch}`)).body.rounds;
    const first = await sentNow();
    expect(first.map(({ round }: { round: Round }) => round)).toEqual(made.plan.rounds);
    for (const one of first)
      expect(one).toMatchObject({ by: 'lead-own', forms: 1, came: [], went: [], done: [] });

    const [{ person, day, visits }] = made.plan.rounds;
    const [{ visit, property }] = visits;
    const other = made.plan.people.find((one: { person: string }) => one.person !== person).person;
    await lead.post(`/api/plans/${made.id}/moves`, { kind: 'apply', visit, person: other, day });
    await lead.post(`/api/plans/${made.id}/moves`, { kind: 'freeze', visits: [visit] });
    expect((await lead.post(`/api/plans/${made.id}/publish`)).status).toBe(200);
    const second: {
      round: Round;
      forms: number;
      came: { visit: string; other: object | null }[];
      went: { visit: string; other: object | null }[];
    }[] = await sentNow();
    const left = second.find(({ round }) => round.person === person && round.day === day);
    const joined = second.find(({ round }) => round.person === other && round.day === day);
    expect(left?.went).toMatchObject([{ visit, property, other: { day, person: other } }]);
    expect(joined?.round.visits.find((one) => one.visit === visit)?.frozen).toBe(true);
    // A round that was not there before has no form before it.
    if (joined?.forms === 2) expect(joined.came).toMatchObject([{ visit, other: { day, person } }]);

    const facts = createFacts(FIRM.id, other, `done-${branch}`);
    await server.ledger.append(
      FIRM.id,
      [facts.seen(property, `${property}-s1`, 680, visit)],
      new Date().toISOString(),
    );
    const [done] = (await sentNow()).flatMap((one: { done: object[] }) => one.done);
    expect(done).toMatchObject({ visit, by: other, opened: 1, unopened: 0 });

    expect((await driver.get(`/api/rounds/sent?from=${from}&to=${to}`)).status).toBe(200);
    expect((await driver.get(`/api/rounds/sent?from=${from}&to=${to}&person=lead-own`)).body.code).toBe(
      'not allowed',
    );
    expect((await lead.get('/api/rounds/sent?from=2026-01-01&to=2026-02-01')).body.code).toBe('malformed');
    expect((await lead.get('/api/rounds/sent?from=2001-01-01&to=2001-01-31')).body.rounds).toEqual([]);
  });

  it('say why a visit cannot be put somewhere', async (context) => {
    if (server === undefined) return context.skip();
    const branch = await freshBranch();
    const made = await planBranch(lead, branch);
    const [{ person, day, visits }] = made.plan.rounds;
    const facts = createFacts(FIRM.id, 'lead-own', `away-${branch}`);
    await server.ledger.append(
      FIRM.id,
      [{ ...facts.other(null, 'technician away'), body: { person, from: day, to: day, why: 'ill' } }],
      new Date().toISOString(),
    );
    const refused = await lead.post(`/api/plans/${made.id}/moves`, {
      kind: 'try',
      visit: visits[0].visit,
      person,
      day,
    });
    expect(refused.status).toBe(422);
    expect(refused.body.code).toBe('move refused');
    expect(refused.body.errors).toEqual([{ at: 'body.day', message: 'technician away' }]);
  });

  it('are made one a branch at a time, tell their progress, and stop with the best so far', async (context) => {
    if (server === undefined) return context.skip();
    const branch = await freshBranch();
    const asked = await lead.post('/api/plans', { branch, seconds: 120 });
    const second = await lead.post('/api/plans', { branch, seconds: 1 });
    expect(second.status).toBe(409);
    expect(second.body.code).toBe('plan running');
    const seen: PlanAnswer[] = [];
    for (let after = 0; seen.length < 4; ) {
      const { body } = await lead.get(`/api/plans/${asked.body.id}?after=${after}`);
      expect(body.version).toBeGreaterThan(after);
      after = body.version;
      if (body.progress !== null) seen.push(body);
    }
    const costs = seen.map(({ progress }) => progress.costMinutes);
    expect(costs).toEqual(costs.toSorted((a, b) => b - a));
    expect(seen.at(-1).progress.iterations).toBeGreaterThan(seen[0].progress.iterations);
    const tag = (await lead.get(`/api/plans/${asked.body.id}`)).headers.get('etag');
    expect(tag).toMatch(/^W\/"\d+"$/);
    const begun = Date.now();
    await lead.post(`/api/plans/${asked.body.id}/cancel`);
    const ended = await waitForPlan(lead, asked.body.id);
    expect(Date.now() - begun).toBeLessThan(10_000);
    expect(ended.state).toBe('cancelled');
    expect(visitsOf(ended.plan.rounds).length).toBeGreaterThan(4);
    expect((await lead.post(`/api/plans/${asked.body.id}/publish`)).status).toBe(200);
    const same = await lead.send('GET', `/api/plans/${asked.body.id}`, undefined, {
      'if-none-match': (await lead.get(`/api/plans/${asked.body.id}`)).headers.get('etag') ?? '',
    });
    expect(same.status).toBe(304);
  });

  it('fail in words where nobody can drive or the branch is unknown, and keep to the branch of the person', async (context) => {
    if (server === undefined) return context.skip();
    const empty = await planBranch(lead, await freshBranch(1, []));
    expect(empty.state).toBe('done');
    expect(empty.plan.rounds).toEqual([]);
    expect(empty.plan.unplanned.length).toBeGreaterThan(0);
    expect((await lead.post('/api/plans', { branch: 'nowhere' })).body.code).toBe('not found');
    expect((await lead.post('/api/plans', { branch: 'planned-1', weeks: 14 })).body.code).toBe('malformed');
    expect((await lead.post('/api/plans', { branch: 'planned-1', from: '2026-02-30' })).body.code).toBe(
      'malformed',
    );
    const narrow = await signedIn(server, 'branch@example.com');
    expect((await narrow.post('/api/plans', { branch: 'planned-1' })).body.code).toBe('not allowed');
    expect((await narrow.get(`/api/plans/${empty.id}`)).body.code).toBe('not found');
    expect((await narrow.get('/api/plans')).body.plans).toEqual([]);
  });

  it('have the same rounds from the same seed and number of iterations', async (context) => {
    if (server === undefined) return context.skip();
    const branch = await freshBranch(8);
    const shape = ({ plan }: PlanAnswer): unknown =>
      plan.rounds.map(({ person, day, visits }: Round) => [
        person,
        day,
        visits.map(({ property, startsAt }) => [property, startsAt]),
      ]);
    const a = await planBranch(lead, branch, { iterations: 300, seed: 5 });
    const b = await planBranch(lead, branch, { iterations: 300, seed: 5 });
    expect(shape(b)).toEqual(shape(a));
  });
});
