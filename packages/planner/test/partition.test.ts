import fc from 'fast-check';
import { expect, test } from 'vitest';
import { type Columns, choosePartition } from '../src/partition.ts';
import { loadHighs } from './support/highs.ts';

interface Choice {
  readonly jobs: readonly number[];
  readonly cost: number;
  readonly kind: number;
}

const ENOUGH = 1_000_000;

function columnsOf(choices: readonly Choice[], room: readonly number[]): Columns {
  const from = [0];
  for (const { jobs } of choices) from.push((from.at(-1) ?? 0) + jobs.length);
  return {
    rows: Int32Array.from(choices.flatMap(({ jobs }) => jobs)),
    from: Int32Array.from(from),
    cost: Float64Array.from(choices, ({ cost }) => cost),
    kind: Int32Array.from(choices, ({ kind }) => kind),
    room: Int32Array.from(room),
  };
}

/** Some choices, the chance of leaving each job out at a fee, and how many of each of two kinds may be used. */
function arbitraryChoices(jobs: number, most: number): fc.Arbitrary<readonly Choice[]> {
  const choice = fc.record({
    jobs: fc.uniqueArray(fc.nat(jobs - 1), { minLength: 1, maxLength: 5 }),
    cost: fc.nat(1000),
    kind: fc.nat(1),
  });
  const fees = fc.array(fc.integer({ min: 500, max: 3000 }), { minLength: jobs, maxLength: jobs });
  return fc
    .tuple(fc.array(choice, { maxLength: most }), fees)
    .map(([found, amounts]) => [
      ...found,
      ...amounts.map((cost, job): Choice => ({ jobs: [job], cost, kind: -1 })),
    ]);
}

const arbitraryRoom = fc.tuple(fc.nat(3), fc.nat(3));

test('equals trying every choice', () => {
  fc.assert(
    fc.property(arbitraryChoices(6, 10), arbitraryRoom, (choices, room) => {
      const least = tryAll(choices, 6, room);
      const chosen = choosePartition(columnsOf(choices, room), 6, least + 1, ENOUGH);
      expect(costOf(choices, chosen)).toBe(least);
      expectExact(choices, chosen ?? [], 6, room);
      expect(choosePartition(columnsOf(choices, room), 6, least, ENOUGH)).toBeUndefined();
    }),
    { numRuns: 1000 },
  );
});

// Outside check: HiGHS (npm `highs`), a general solver of integer programs, finds the same least cost.
test('equals a general solver of integer programs', { timeout: 120_000 }, async () => {
  const highs = await loadHighs();
  fc.assert(
    fc.property(arbitraryChoices(24, 120), fc.tuple(fc.nat(8), fc.nat(8)), (choices, room) => {
      const solved = highs.solve(programOf(choices, 24, room));
      expect(solved.Status).toBe('Optimal');
      const least = Math.round(solved.ObjectiveValue);
      const chosen = choosePartition(columnsOf(choices, room), 24, least + 1, ENOUGH);
      expect(costOf(choices, chosen)).toBe(least);
      expectExact(choices, chosen ?? [], 24, room);
    }),
    { numRuns: 60 },
  );
});

test('stops at the nodes it was given and says nothing where it found nothing', () => {
  const choices = [
    { jobs: [0, 1], cost: 5, kind: -1 },
    { jobs: [0], cost: 1, kind: -1 },
    { jobs: [1], cost: 1, kind: -1 },
  ];
  expect(choosePartition(columnsOf(choices, []), 2, 10, 0)).toBeUndefined();
  expect([...(choosePartition(columnsOf(choices, []), 2, 10, ENOUGH) ?? [])].sort()).toEqual([1, 2]);
  expect(choosePartition(columnsOf(choices, []), 3, 10, ENOUGH)).toBeUndefined();
});

function costOf(choices: readonly Choice[], chosen: readonly number[] | undefined): number | undefined {
  return chosen?.reduce((sum, c) => sum + (choices[c]?.cost ?? Number.NaN), 0);
}

function expectExact(
  choices: readonly Choice[],
  chosen: readonly number[],
  jobs: number,
  room: readonly number[],
): void {
  const held = chosen.flatMap((c) => choices[c]?.jobs ?? []);
  expect([...held].sort((a, b) => a - b)).toEqual(Array.from({ length: jobs }, (_, j) => j));
  room.forEach((routes, k) => {
    expect(chosen.filter((c) => choices[c]?.kind === k).length).toBeLessThanOrEqual(routes);
  });
}

function tryAll(choices: readonly Choice[], jobs: number, room: readonly number[]): number {
  let least = Number.POSITIVE_INFINITY;
  const tryFrom = (held: ReadonlySet<number>, used: readonly number[], cost: number): void => {
    const job = Array.from({ length: jobs }, (_, j) => j).find((j) => !held.has(j));
    if (job === undefined) {
      least = Math.min(least, cost);
      return;
    }
    for (const choice of choices) {
      if (!choice.jobs.includes(job) || choice.jobs.some((j) => held.has(j))) continue;
      if (choice.kind >= 0 && (used[choice.kind] ?? 0) >= (room[choice.kind] ?? 0)) continue;
      tryFrom(
        new Set([...held, ...choice.jobs]),
        used.map((count, k) => (k === choice.kind ? count + 1 : count)),
        cost + choice.cost,
      );
    }
  };
  tryFrom(new Set(), [0, 0], 0);
  return least;
}

/** The same in CPLEX LP form. */
function programOf(choices: readonly Choice[], jobs: number, room: readonly number[]): string {
  const sumOf = (isIn: (choice: Choice) => boolean): string =>
    choices.flatMap((choice, c) => (isIn(choice) ? [`x${c}`] : [])).join('\n + ');
  const rows = Array.from({ length: jobs }, (_, j) => ` job${j}: ${sumOf((c) => c.jobs.includes(j))} = 1`);
  const kinds = room.flatMap((routes, k) => {
    const sum = sumOf((c) => c.kind === k);
    return sum === '' ? [] : [` kind${k}: ${sum} <= ${routes}`];
  });
  const goal = choices.map(({ cost }, c) => `${cost} x${c}`).join('\n + ');
  const names = choices.map((_, c) => ` x${c}`).join('\n');
  return `Minimize\n cost: ${goal}\nSubject To\n${[...rows, ...kinds].join('\n')}\nBinary\n${names}\nEnd\n`;
}
