import { type AnyFact, foldProperty } from '@sillwatch/trade';
import { describe, expect, it } from 'vitest';
import { syncTurn } from '../../src/field/sync/turn.ts';
import { breathe, createFaultyLine, FAULTS, type Fault } from './support/faultyLine.ts';
import { FIRM, type Office, openOffice, personOf } from './support/office.ts';
import { createRandom, type Phone, startPhone } from './support/phone.ts';
import { PROPERTY, STATIONS, seenBody, stationOf, yardFacts } from './support/yard.ts';

/** Runs in one test; FIRST_SEED and RUNS choose others, so that a failure can be run again alone. */
const PORTION = 25;
const RUNS = Number(process.env['RUNS'] ?? 250);
const FIRST_SEED = Number(process.env['FIRST_SEED'] ?? 1);
const STEPS = 40;

interface Technician {
  readonly phone: Phone;
  readonly line: ReturnType<typeof createFaultyLine>;
  readonly seen: AnyFact[];
}

interface Story {
  readonly seed: number;
  readonly office: Office;
  readonly technicians: readonly Technician[];
  /** Facts whose recording was confirmed to the technician. */
  readonly confirmed: AnyFact[];
  readonly seeded: number;
  readonly counts: Map<string, number>;
}

/**
 * Two phones at one property over a line that drops, delays, repeats and cuts, with a server that is restarted and apps
 * that are killed. Promise: every confirmed record is on the server exactly once, and all three see the same property.
 */
describe('a faulty line', () => {
  const portions = Array.from(
    { length: Math.ceil(RUNS / PORTION) },
    (_, index) => FIRST_SEED + index * PORTION,
  );
  const totals = new Map<string, number>();

  it.each(portions)('loses and doubles nothing, seeds from %i', async (from) => {
    const until = Math.min(from + PORTION, FIRST_SEED + RUNS);
    for (let seed = from; seed < until; seed += 1) {
      const counts = await runStory(seed).catch((error: unknown) => {
        throw new Error(`seed ${seed} (run it alone with FIRST_SEED=${seed} RUNS=1)`, { cause: error });
      });
      for (const [name, count] of counts) totals.set(name, (totals.get(name) ?? 0) + count);
    }
    process.stdout.write(
      `seeds ${from} to ${until - 1}: ${[...totals].map((one) => one.join(' ')).join(', ')}\n`,
    );
  });

  it('did all of its faults (a line that never failed would prove nothing)', () => {
    if (RUNS < PORTION) return;
    for (const fault of FAULTS) expect(totals.get(fault) ?? 0, fault).toBeGreaterThan(RUNS / 10);
    expect(totals.get('kill') ?? 0).toBeGreaterThan(RUNS / 10);
    expect(totals.get('record lost with the app') ?? 0).toBeGreaterThan(0);
  });
});

async function runStory(seed: number): Promise<ReadonlyMap<string, number>> {
  const random = createRandom(seed);
  const office = await openOffice(seed % 3 === 0);
  try {
    const story = await begin(seed, office, random);
    let pending: Promise<unknown>[] = [];
    for (let step = 0; step < STEPS; step += 1) {
      const technician = pick(story.technicians, random);
      const roll = random();
      if (roll < 0.55) pending.push(record(story, technician, random));
      else if (roll < 0.85)
        pending.push(syncTurn(technician.phone.notebook(), technician.line).catch(ifKilled));
      else if (roll < 0.92) {
        count(story, 'kill');
        await technician.phone.kill();
      } else {
        await Promise.all(pending);
        pending = [];
      }
      if (random() < 0.5) await breathe(Math.floor(random() * 4));
    }
    await Promise.all(pending);
    await goHome(story);
    await check(story);
    return story.counts;
  } finally {
    await office.end();
  }
}

async function begin(seed: number, office: Office, random: () => number): Promise<Story> {
  const seeds = yardFacts(FIRM, 'owner');
  const stored = await office.ledger().append(FIRM, seeds, new Date().toISOString());
  expect(stored.every(({ verdict }) => verdict === 'accepted')).toBe(true);
  const counts = new Map<string, number>();
  let quiet = true;
  const next = (): Fault => {
    if (quiet || random() < 0.5) return note('none');
    return note(pick(FAULTS, random));
  };
  const note = (fault: Fault): Fault => {
    counts.set(fault, (counts.get(fault) ?? 0) + 1);
    return fault;
  };
  const technicians = await Promise.all(
    ['ana', 'ben'].map(async (id) => {
      const person = personOf(id);
      const line = createFaultyLine(
        (path, init) => office.fetch(person, path, init),
        next,
        () => office.restart(),
      );
      return { phone: await startPhone(person, random), line, seen: [] };
    }),
  );
  // Both begin with the property on the phone, half of the time.
  if (random() < 0.5) for (const { phone, line } of technicians) await syncTurn(phone.notebook(), line);
  quiet = false;
  return { seed, office, technicians, confirmed: [], seeded: seeds.length, counts };
}

/** Records a look, a note, an undo or a correction; counts only when the phone said that it is stored. */
async function record(story: Story, { phone, seen }: Technician, random: () => number): Promise<void> {
  const notebook = phone.notebook();
  const roll = random();
  const target = seen.length > 0 && roll < 0.2 ? pick(seen, random) : undefined;
  const station = stationOf(1 + Math.floor(random() * STATIONS));
  const visit = `visit of ${notebook.who.me.id}`;
  try {
    const [fact] = await notebook.record([
      target === undefined
        ? roll < 0.3
          ? { kind: 'note added', property: PROPERTY, station: null, body: { text: `note ${roll}` } }
          : { kind: 'station seen', property: PROPERTY, station, body: seenBody(visit, `look ${roll}`) }
        : {
            kind: 'fact corrected',
            property: PROPERTY,
            station: target.station,
            body: { corrects: target.id, why: 'seen again', body: roll < 0.1 ? null : target.body, at: null },
          },
    ]);
    if (fact === undefined) throw new Error('nothing was recorded');
    story.confirmed.push(fact);
    if (fact.kind === 'station seen') seen.push(fact);
  } catch (error) {
    ifKilled(error);
    count(story, 'record lost with the app');
  }
}

/** The end of the day: the line works, and both come home. */
async function goHome({ office, technicians }: Story): Promise<void> {
  for (let turn = 0; turn < 3; turn += 1) {
    for (const { phone } of technicians) {
      const { id } = phone.notebook().who.me;
      const line = createFaultyLine(
        (path, init) => office.fetch(personOf(id), path, init),
        () => 'none',
        async () => {},
      );
      await phone.kill();
      expect(await syncTurn(phone.notebook(), line)).toEqual({ problem: null });
    }
  }
}

async function check({ office, technicians, confirmed, seeded }: Story): Promise<void> {
  const stored = await office.ledger().listFacts(FIRM);
  const ids = stored.map(({ id }) => id);
  expect(new Set(ids).size).toBe(ids.length);
  for (const fact of confirmed) {
    const found = stored.filter(({ id }) => id === fact.id);
    expect(found.length, `${fact.kind} ${fact.id}`).toBe(1);
    const [{ receipt: _receipt, ...kept } = fact] = found;
    expect(kept).toEqual(fact);
  }
  // What the phone never confirmed is not there either: a killed transaction leaves nothing behind.
  expect(stored.length).toBe(seeded + confirmed.length);
  expect(await office.ledger().verify(FIRM)).toMatchObject({ sound: true, facts: stored.length });
  const atServer = JSON.stringify(foldProperty(stored.filter(({ property }) => property === PROPERTY)));
  for (const { phone } of technicians) {
    const notebook = phone.notebook();
    expect(notebook.own).toEqual([]);
    const held = await notebook.readHeld(PROPERTY);
    expect(JSON.stringify(foldProperty(held?.facts ?? []))).toBe(atServer);
    const seqs = stored.filter(({ by }) => by === notebook.who.me.id).map(({ seq }) => seq);
    expect(seqs.toSorted((a, b) => a - b)).toEqual(seqs.map((_, index) => index + 1));
  }
}

function ifKilled(error: unknown): void {
  const text = error instanceof Error ? error.message : String(error);
  if (!/killed/.test(text)) throw error;
}

function count({ counts }: Story, name: string): void {
  counts.set(name, (counts.get(name) ?? 0) + 1);
}

function pick<T>(list: readonly T[], random: () => number): T {
  const found = list[Math.floor(random() * list.length)];
  if (found === undefined) throw new Error('nothing to pick from');
  return found;
}
