/**
 * `node bench/ledger/append.ts [rounds]`: how long a batch of 500 facts waits until it is on stable storage with its
 * projections renewed (goal on SQLite: under 250 ms), commits a second alone and together, rebuild, verify, backup, restore.
 * On SQLite and, when one is installed, a throw-away PostgreSQL. Seeded; that nothing is lost is checked outside the timed part.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { cpus, tmpdir } from 'node:os';
import { join } from 'node:path';
import { backup, openLedger, restore, type StoredLedger } from '@sillwatch/ledger';
import type { AnyFact } from '@sillwatch/trade';
import { findPostgresPrograms, startThrowAwayPostgres } from '../../tools/pg/postgres.ts';
import { makePropertyFacts } from '../trade/firm.ts';

const ROUNDS = Number(process.argv[2] ?? 40);
const FIRM = 'bench';
const RECEIVED = '2026-03-02T15:00:00.000Z';
const PROPERTIES = 60;
const STATIONS = 20;
/** Facts that each property already has: 20 stations over about six years. */
const HISTORY = 500;
/** A batch is a technician's day: 10 properties, 50 facts each. */
const PROPERTIES_A_BATCH = 10;
const FACTS_EACH = 50;
const SINGLES = 600;
const TOGETHER = 50;

interface Figures {
  readonly batches: readonly number[];
  readonly alone: number;
  readonly together: number;
  readonly imported: number;
  readonly rebuilt: number;
  readonly verified: number;
  readonly backedUp: number;
  readonly restored: number;
  readonly facts: number;
}

async function measure(ledger: StoredLedger, empty: StoredLedger, folder: string): Promise<Figures> {
  const books = makeBooks();
  const history = books.flatMap(({ facts }) => facts.slice(0, HISTORY));
  const imported = history.length / (await seconds(() => append(ledger, history)));

  const batches: number[] = [];
  for (let round = 0; round < ROUNDS; round += 1)
    batches.push(1_000 * (await seconds(() => append(ledger, makeBatch(books, round)))));

  const singles = makePropertyFacts(9_999, 'single', STATIONS, 2 * SINGLES);
  const alone =
    SINGLES /
    (await seconds(async () => {
      for (const fact of singles.slice(0, SINGLES)) await append(ledger, [spread(fact)]);
    }));
  const rest = singles.slice(SINGLES);
  const together =
    SINGLES /
    (await seconds(async () => {
      const writers = Array.from({ length: TOGETHER }, async (_, writer) => {
        for (let index = writer; index < rest.length; index += TOGETHER)
          await append(ledger, [spread(rest[index])]);
      });
      await Promise.all(writers);
    }));

  const facts = history.length + ROUNDS * PROPERTIES_A_BATCH * FACTS_EACH + singles.length;
  const check = await ledger.verify(FIRM);
  if (!check.sound || check.facts !== facts) throw new Error(`facts were lost: ${JSON.stringify(check)}`);
  const file = join(folder, `${Math.round(performance.now())}.jsonl.gz`);
  return {
    facts,
    batches,
    alone,
    together,
    imported,
    rebuilt: facts / (await seconds(() => ledger.rebuild(FIRM))),
    verified: facts / (await seconds(() => ledger.verify(FIRM))),
    backedUp: facts / (await seconds(() => backup(ledger, file))),
    restored: facts / (await seconds(() => restore(file, empty))),
  };
}

interface Book {
  readonly facts: readonly AnyFact[];
}

function makeBooks(): readonly Book[] {
  const length = HISTORY + FACTS_EACH * Math.ceil((ROUNDS * PROPERTIES_A_BATCH) / PROPERTIES);
  return Array.from({ length: PROPERTIES }, (_, index) => ({
    facts: makePropertyFacts(index + 1, `property-${index}`, STATIONS, length),
  }));
}

function makeBatch(books: readonly Book[], round: number): readonly AnyFact[] {
  const first = round * PROPERTIES_A_BATCH;
  return Array.from({ length: PROPERTIES_A_BATCH }, (_, index) => {
    const turn = Math.floor((first + index) / PROPERTIES);
    const start = HISTORY + turn * FACTS_EACH;
    return books[(first + index) % PROPERTIES]?.facts.slice(start, start + FACTS_EACH) ?? [];
  }).flat();
}

/** Each single fact goes to a property of its own, so that the commit is measured and not the fold of a long history. */
function spread(fact: AnyFact | undefined): AnyFact {
  if (fact === undefined) throw new Error('the bench ran out of facts');
  return { ...fact, property: `single-${fact.seq}` };
}

async function append(ledger: StoredLedger, facts: readonly AnyFact[]): Promise<void> {
  const verdicts = await ledger.append(FIRM, facts, RECEIVED);
  const odd = verdicts.find(({ verdict }) => verdict !== 'accepted');
  if (odd !== undefined || verdicts.length !== facts.length) throw new Error(JSON.stringify(odd));
}

async function seconds(work: () => Promise<unknown>): Promise<number> {
  const started = performance.now();
  await work();
  return (performance.now() - started) / 1_000;
}

function quantile(values: readonly number[], share: number): number {
  const sorted = values.toSorted((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? Number.NaN;
}

function print(name: string, figures: Figures): void {
  const row = (label: string, value: number, unit: string) =>
    console.log(`  ${label.padEnd(52)} ${value.toFixed(0).padStart(8)} ${unit}`);
  console.log(`${name}, ${figures.facts} facts at the end`);
  row('batch of 500 facts, median', quantile(figures.batches, 0.5), 'ms');
  row('batch of 500 facts, 95th percentile', quantile(figures.batches, 0.95), 'ms');
  row('batch of 500 facts, slowest', Math.max(...figures.batches), 'ms');
  row('one fact a commit, one writer', figures.alone, 'facts/s');
  row(`one fact a call, ${TOGETHER} writers (group commit)`, figures.together, 'facts/s');
  row('30,000 facts in one call', figures.imported, 'facts/s');
  row('projections rebuilt', figures.rebuilt, 'facts/s');
  row('chain verified', figures.verified, 'facts/s');
  row('backed up', figures.backedUp, 'facts/s');
  row('restored and projected', figures.restored, 'facts/s');
}

console.log(
  `${cpus().length} cores, ${cpus()[0]?.model ?? 'unknown'}, Node ${process.version}, ${ROUNDS} batches`,
);
const folder = mkdtempSync(join(tmpdir(), 'sillwatch-bench-'));
try {
  const [full, empty] = [join(folder, 'full.db'), join(folder, 'empty.db')];
  const [ledger, target] = await Promise.all([openLedger({ url: full }), openLedger({ url: empty })]);
  print('SQLite', await measure(ledger, target, folder));
  await Promise.all([ledger.close(), target.close()]);

  if (findPostgresPrograms() === undefined) console.log('PostgreSQL: not installed, not measured');
  else {
    const postgres = await startThrowAwayPostgres();
    try {
      const database = await openLedger({ url: postgres.url });
      const memory = await openLedger({});
      print('PostgreSQL (restored into memory)', await measure(database, memory, folder));
      await database.close();
    } finally {
      await postgres.stop();
    }
  }
} finally {
  rmSync(folder, { recursive: true, force: true });
}
