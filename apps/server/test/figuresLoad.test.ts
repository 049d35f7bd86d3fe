import { DEMO_FIRM, generateDemo } from '@sillwatch/demo';
import {
  branchStock,
  dueVisit,
  expectedVisits,
  fitHitRisk,
  learnWear,
  loadFor,
  readSubjects,
  visitsOfRound,
} from '@sillwatch/rounds';
import { addDays, dayToText, foldOrders, foldStock, getDay } from '@sillwatch/trade';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createReckoner } from '../src/reckon/reckoner.ts';
import { modelsOf } from '../src/work/firm.ts';
import {
  type Client,
  OTHER_FIRM,
  seedPerson,
  signedIn,
  startTestServer,
  type TestServer,
} from './support/harness.ts';

const today = getDay(new Date().toISOString().slice(0, 10));
const demo = generateDemo({ seed: 7, today, properties: 8 });
const firm = { id: DEMO_FIRM.id, name: 'Demo firm (invented)' };
const RECEIVED = '2026-11-25T12:00:00.000Z';

describe('what to carry and what to order', () => {
  let server: TestServer;
  let lead: Client;
  let bound: Client;
  let stranger: Client;
  let leadId: string;
  let branches: readonly string[];

  beforeAll(async () => {
    server = await startTestServer();
    await server.ledger.append(firm.id, demo.facts, RECEIVED);
    branches = Object.keys((await server.ledger.getFirm(firm.id)).branches).sort();
    leadId = await seedPerson(server, 'lead', { firm, email: 'lead@demo.example' });
    await seedPerson(server, 'lead', { firm, email: 'bound@demo.example', branch: branches[0] ?? null });
    await seedPerson(server, 'lead', { firm: OTHER_FIRM, email: 'lead@other.example' });
    lead = await signedIn(server, 'lead@demo.example');
    bound = await signedIn(server, 'bound@demo.example');
    stranger = await signedIn(server, 'lead@other.example');
  }, 60_000);
  afterAll(() => server.end());

  async function ground() {
    const state = await server.ledger.getFirm(firm.id);
    const facts = await server.ledger.listFacts(firm.id, { limit: 1_000_000 });
    const byProperty = Map.groupBy(
      facts.filter(({ property }) => property !== null),
      ({ property }) => property ?? '',
    );
    const { subjects } = readSubjects(byProperty, state.profiles);
    return { state, facts, subjects };
  }

  async function done(client: Client, path: string) {
    for (;;) {
      const { status, body, text } = await client.get(path);
      if (status !== 200) throw new Error(`${status} ${text}`);
      if (body.state === 'done' && body.behind === 0) return body;
      await new Promise((resolve) => setTimeout(resolve, 100));
    }
  }

  it('says of a branch and a week what the pure functions say', async () => {
    const branch = branches[0] ?? '';
    const to = addDays(today, 30);
    const path = `/api/load?branch=${branch}&from=${dayToText(today)}&to=${dayToText(to)}&chance=1`;
    const { asOf, answer } = await done(lead, path);
    const { state, subjects } = await ground();
    const own = subjects.filter((one) => one.branch === branch);
    const expected = loadFor(
      {
        states: new Map(subjects.map((one) => [one.history.property, one.state])),
        profiles: state.profiles,
        models: modelsOf(state),
        risk: fitHitRisk(subjects, getDay(asOf)),
        wear: learnWear(subjects, getDay(asOf)),
        visits: expectedVisits(
          own.map((one) => one.state),
          state.profiles,
          today,
          to,
        ),
      },
      {
        chance: 0.01,
        names: Object.fromEntries(Object.values(state.parts).map((one) => [one.part, one.name])),
      },
    );
    expect(expected.parts.length).toBeGreaterThan(0);
    expect(answer.load).toEqual(JSON.parse(JSON.stringify(expected)));
    for (const part of answer.load.parts) expect(part.chanceShort).toBeLessThanOrEqual(0.01);
  });

  it('says what to order as the pure function does, and a count changes it', async () => {
    const branch = branches[0] ?? '';
    const first = (await done(lead, `/api/stock?branch=${branch}`)).answer;
    const { part } = first.parts[0] ?? first.withoutLeadTime[0];
    const setPart = { part, name: part, packSize: 10, leadDays: 14, baitGrams: null };
    await record('part set', setPart, 1);
    const before = (await done(lead, `/api/stock?branch=${branch}`)).answer;
    const { state, facts, subjects } = await ground();
    const own = subjects.filter((one) => one.branch === branch);
    const { asOf } = await done(lead, `/api/stock?branch=${branch}`);
    const places = before.places.map(({ place }: { place: string }) => place);
    const expected = branchStock({
      states: new Map(own.map((one) => [one.history.property, one.state])),
      profiles: state.profiles,
      models: modelsOf(state),
      risk: fitHitRisk(subjects, getDay(asOf)),
      wear: learnWear(subjects, getDay(asOf)),
      asOf: getDay(asOf),
      places,
      lines: foldStock(facts),
      parts: state.parts,
      orders: foldOrders(facts),
      reviewDays: 7,
      chance: 0.05,
    });
    const plain = JSON.parse(JSON.stringify(expected));
    expect(before).toMatchObject({ parts: plain.parts, withoutLeadTime: plain.withoutLeadTime });
    const of = (answer: typeof before) => answer.parts.find((one: { part: string }) => one.part === part);
    const held = of(before).onHand;
    await record('stock counted', { place: branch, part, count: 5000, lot: null, usableUntil: null }, 2);
    const after = (await done(lead, `/api/stock?branch=${branch}`)).answer;
    expect(of(after).onHand).toBeGreaterThanOrEqual(5000);
    expect(of(after).onHand).not.toBe(held);
    expect(of(after).orderNow).toBe(0);
    expect(of(after).neverCounted).not.toContain(branch);
    const ordered = { order: 'order 1', place: branch, part, count: 40, reference: 'our 12' };
    const days = { orderedOn: dayToText(today), expectedOn: dayToText(addDays(today, 14)) };
    await record('parts ordered', { ...ordered, ...days }, 4);
    const waiting = (await done(lead, `/api/stock?branch=${branch}`)).answer;
    expect(of(waiting).onOrder).toBe(of(before).onOrder + 40);
    expect(waiting.orders.find(({ order }: { order: string }) => order === 'order 1')).toMatchObject({
      open: 40,
      came: 0,
      isLate: false,
      reference: 'our 12',
    });
    const came = { place: branch, part, count: 30, lot: null, usableUntil: null, order: 'order 1' };
    await record('stock received', came, 5);
    const partly = (await done(lead, `/api/stock?branch=${branch}`)).answer;
    expect(of(partly)).toMatchObject({
      onOrder: of(before).onOrder + 10,
      onHand: of(waiting).onHand + 30,
    });
    await record('order cancelled', { order: 'order 1', why: 'no longer made' }, 6);
    expect(of((await done(lead, `/api/stock?branch=${branch}`)).answer).onOrder).toBe(of(before).onOrder);
  });

  it('says of a published round what the pure functions say', async () => {
    const day = dayToText(addDays(today, 1));
    const { subjects } = await ground();
    const visits = subjects.slice(0, 2).map((one) => dueVisit(one.state, one.profile, addDays(today, 400)));
    const round = {
      plan: 'a plan',
      branch: branches[0] ?? '',
      person: leadId,
      day,
      startsAt: `${day}T07:00:00Z`,
      endsAt: `${day}T15:00:00Z`,
      breakMinutes: 0,
      travel: 'great circle' as const,
      visits: visits.map(({ property, works }, at) => ({
        visit: `visit ${at}`,
        property,
        startsAt: `${day}T0${8 + at}:00:00Z`,
        endsAt: `${day}T0${8 + at}:45:00Z`,
        driveMinutes: 10,
        driveMetres: 5000,
        works: works.map(({ station, work }) => ({ station, work })),
        asks: [],
        frozen: false,
      })),
    };
    await record('round published', round, 3);
    const { asOf, answer } = await done(lead, `/api/load?person=${leadId}&day=${day}`);
    const { state, subjects: now } = await ground();
    const expected = loadFor(
      {
        states: new Map(now.map((one) => [one.history.property, one.state])),
        profiles: state.profiles,
        models: modelsOf(state),
        risk: fitHitRisk(now, getDay(asOf)),
        wear: learnWear(now, getDay(asOf)),
        visits: visitsOfRound(round),
      },
      {
        chance: 0.05,
        names: Object.fromEntries(Object.values(state.parts).map((one) => [one.part, one.name])),
      },
    );
    expect(expected.visits).toBe(2);
    expect(expected.parts.length).toBeGreaterThan(0);
    expect(answer).toEqual({
      published: true,
      load: JSON.parse(JSON.stringify(expected)),
      withoutProfile: [],
    });
    const unseen = await done(stranger, `/api/load?person=${leadId}&day=${day}`);
    expect(unseen.answer).toEqual({ published: false, load: null, withoutProfile: [] });
  });

  it('keeps a person to his branch, and another firm sees nothing', async () => {
    const [own = '', foreign = ''] = branches;
    expect(foreign).not.toBe('');
    const mine = await done(bound, '/api/load');
    expect(mine.answer.load).toEqual((await done(lead, `/api/load?branch=${own}`)).answer.load);
    expect((await bound.get(`/api/load?branch=${foreign}`)).status).toBe(404);
    expect((await bound.get(`/api/stock?branch=${foreign}`)).status).toBe(404);
    expect((await stranger.get(`/api/load?branch=${own}`)).status).toBe(404);
    expect((await stranger.get(`/api/stock?branch=${own}`)).status).toBe(404);
    const nothing = await done(stranger, '/api/load');
    expect(nothing.answer.load).toMatchObject({ visits: 0, stations: 0, parts: [] });
    expect((await stranger.get('/api/stock')).status).toBe(404);
  });

  it('says that no round was published, and refuses days that do not fit', async () => {
    const { answer } = await done(lead, `/api/load?person=${leadId}&day=2026-01-01`);
    expect(answer).toEqual({ published: false, load: null, withoutProfile: [] });
    expect((await lead.get('/api/load?from=2026-02-01&to=2026-01-01')).body.errors[0].at).toBe('query.to');
    expect((await lead.get('/api/load?from=2026-02-30')).status).toBe(400);
    expect((await lead.get('/api/load?chance=99')).status).toBe(400);
  });

  it('tries again after the database was away', async () => {
    let isAway = true;
    const reckoner = createReckoner({
      ...server.ledger,
      listFacts: (...asked) =>
        isAway ? Promise.reject(new Error('the database is away')) : server.ledger.listFacts(...asked),
    });
    const asked = { of: 'stock', branch: branches[0] ?? '', chance: 0.05 } as const;
    const question = { name: 'load', asked, asOf: today } as const;
    expect(await reckoner.ask(firm.id, question, 30_000)).toMatchObject({ state: 'failed' });
    isAway = false;
    expect(await reckoner.ask(firm.id, question, 30_000)).toMatchObject({ state: 'done' });
    await reckoner.close();
  });

  async function record(kind: string, body: unknown, seq: number): Promise<void> {
    const at = new Date().toISOString();
    const fact = {
      id: `01999999-0000-7000-8000-00000000010${seq}`,
      firm: firm.id,
      property: null,
      station: null,
      by: leadId,
      device: 'test-device',
      seq,
      at,
      clock: `${String(Date.now()).padStart(15, '0')}.0000${seq}`,
      kind,
      body,
    };
    const { body: answer } = await lead.post('/api/facts', { facts: [fact] });
    expect(answer.verdicts[0], JSON.stringify(answer.verdicts)).toMatchObject({ verdict: 'accepted' });
  }
});
