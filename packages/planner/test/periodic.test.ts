import { existsSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { createSolver, evaluatePlan, type Problem } from '@sillwatch/planner';
import { readPeriodic } from '@sillwatch/planner/instances';
import { describe, expect, test } from 'vitest';
import { bruteForce } from './support/bruteForce.ts';
import { checkPlan } from './support/checkPlan.ts';

const folder = process.env['ROUTING_DATA'] ?? resolve(import.meta.dirname, '../../../../shared/data/routing');
const [NUMBER, FROM] = [1, 4];

/** Invented: four customers about a depot in the form of the 1997 files; two days, two are visited on both. */
const SMALL = [
  '1 1 4 2',
  '0 40',
  '0 40',
  '0 0 0 0 0 0 0 0',
  '1 30 0 2 10 2 1 3',
  '2 0 40 0 10 2 1 3',
  '3 30 5 1 10 1 2 1 2',
  '4 -5 40 0 10 1 2 1 2',
].join('\n');

test('a small periodic case equals the optimum found by trying everything', () => {
  const problem = readPeriodic(SMALL);
  expect(problem.jobs.map(({ name }) => name)).toContain('customer 1, visit 2');
  const solver = createSolver(problem, 1, { horizon: 500 });
  solver.step(500);
  const { missed, cost } = solver.best();
  expect(checkPlan(problem, solver.best())).toEqual([]);
  expect({ missed, cost }).toEqual(bruteForce(problem));
});

test('a text that is cut short or of another kind is refused with its reason', () => {
  expect(() => readPeriodic('2 4 50 4')).toThrow('type 2 is not 1');
  expect(() => readPeriodic(SMALL.split('\n').slice(0, 3).join('\n'))).toThrow('missing or short');
  expect(() => readPeriodic(SMALL.replace('10 2 1 3', '10 2 1 2'))).toThrow('customer 1: its patterns');
});

// The solutions that circulate with Cordeau, Gendreau and Laporte, Networks 30(2), 1997: first line the cost, then day, vehicle, length, load
// and the customers between two zeros.
describe.each(['p01', 'p02', 'p05', 'p08', 'p13', 'pr02', 'pr08'])('%s', (name) => {
  const path = join(folder, 'pvrp', `${name}.txt`);
  test.skipIf(!existsSync(path))(
    'the published solution keeps every rule and costs what it says (skipped where the public data is absent)',
    () => {
      const problem = readPeriodic(readFileSync(path, 'utf8'));
      const { cost, violations } = evaluatePlan(problem, readSolution(problem, path.replace('.txt', '.res')));
      const published = Number(readFileSync(path.replace('.txt', '.res'), 'utf8').trim().split(/\s+/)[0]);
      expect(violations.map(({ code, day, vehicle }) => `${code} day ${day} vehicle ${vehicle}`)).toEqual([]);
      // Two decimals are published.
      expect(Math.abs(cost / 1000 - published)).toBeLessThan(0.06);
    },
  );
});

test.skipIf(!existsSync(folder))(
  'p01 and p14 come within 2 % of the published (skipped where the public data is absent)',
  () => {
    for (const [name, published] of [
      ['p01', 524.61],
      ['p14', 954.81],
    ] as const) {
      const problem = readPeriodic(readFileSync(join(folder, 'pvrp', `${name}.txt`), 'utf8'));
      const solver = createSolver(problem, 1, { horizon: 4000 });
      solver.step(4000);
      expect(checkPlan(problem, solver.best())).toEqual([]);
      expect(solver.best().missed).toBe(0);
      expect(solver.best().cost / 1000).toBeLessThan(published * 1.02);
    }
  },
);

function readSolution(problem: Problem, path: string): { vehicle: number; day: number; jobs: number[] }[] {
  const rows = readFileSync(path, 'utf8')
    .split(/\r?\n/)
    .slice(NUMBER)
    .map((line) => line.trim().split(/\s+/).map(Number))
    .filter((row) => row.length > FROM);
  const seen = new Map<number, number>();
  const groups = new Map(
    (problem.groups ?? []).map(({ name, jobs }) => [Number(name.replace('customer ', '')), jobs]),
  );
  return rows
    .sort((a, b) => Number(a[0]) - Number(b[0]))
    .map(([day = 0, vehicle = 0, , , ...stops]) => ({
      day: day - 1,
      vehicle: vehicle - 1,
      jobs: stops
        .filter((customer) => customer !== 0)
        .map((customer) => {
          const visit = seen.get(customer) ?? 0;
          seen.set(customer, visit + 1);
          return groups.get(customer)?.[visit] ?? -1;
        }),
    }));
}
