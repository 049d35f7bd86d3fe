import { existsSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { createSolver } from '@sillwatch/planner';
import { readSolomon, readTsplib } from '@sillwatch/planner/instances';
import { describe, expect, test } from 'vitest';
import { checkPlan } from './support/checkPlan.ts';

const folder = process.env['ROUTING_DATA'] ?? resolve(import.meta.dirname, '../../../../shared/data/routing');

// Best known values: CVRPLIB (Solomon, distances cut to one decimal, DIMACS 2021); optima: Reinelt, TSPLIB95 list.
describe.each([
  ['solomon/C101.txt', readSolomon, 8273, 0.02],
  ['solomon/R101.txt', readSolomon, 16_377, 0.02],
  ['tsplib/eil51.tsp', readTsplib, 426, 0],
  ['tsplib/berlin52.tsp', readTsplib, 7542, 0],
  ['tsplib/st70.tsp', readTsplib, 675, 0],
  ['tsplib/eil76.tsp', readTsplib, 538, 0],
  ['tsplib/kroA100.tsp', readTsplib, 21_282, 0],
  ['tsplib/eil101.tsp', readTsplib, 629, 0],
  ['tsplib/lin105.tsp', readTsplib, 14_379, 0],
  ['tsplib/ch130.tsp', readTsplib, 6110, 0],
] as const)('%s', (file, read, bestKnown, loose) => {
  const path = join(folder, file);
  // The public instances are not part of the repository; without them the case below of our own stands alone.
  test.skipIf(!existsSync(path))(
    `within ${100 * loose} % of ${bestKnown} (skipped where the public data is absent)`,
    () => {
      const problem = read(readFileSync(path, 'utf8'));
      const iterations = file.startsWith('tsplib') ? 800 : 4000;
      const solver = createSolver(problem, 1, { horizon: iterations });
      solver.step(iterations);
      const plan = solver.best();
      expect(checkPlan(problem, plan)).toEqual([]);
      expect(plan.missed).toBe(0);
      expect(plan.cost).toBeGreaterThanOrEqual(bestKnown);
      expect(plan.cost).toBeLessThanOrEqual(bestKnown * (1 + loose));
    },
  );
});

/** Invented: 12 customers on a circle of radius 50 in the Solomon form; one vehicle carries them all, so the optimum is the circle. */
const CIRCLE = [
  'CIRCLE',
  'VEHICLE',
  'NUMBER     CAPACITY',
  '  3         120',
  'CUSTOMER',
  'CUST NO.   XCOORD.   YCOORD.    DEMAND   READY TIME   DUE DATE   SERVICE TIME',
  '    0      50         0          0          0       1000          0',
  ...Array.from({ length: 12 }, (_, i) => {
    const angle = (2 * Math.PI * (((i * 5) % 12) + 1)) / 13;
    return `    ${i + 1}      ${(50 * Math.cos(angle)).toFixed(4)}    ${(50 * Math.sin(angle)).toFixed(4)}    10    0    1000    1`;
  }),
].join('\n');

test('points of a circle are visited round the circle', () => {
  const problem = readSolomon(CIRCLE);
  const solver = createSolver(problem, 1, { horizon: 2000 });
  solver.step(2000);
  const plan = solver.best();
  expect(checkPlan(problem, plan)).toEqual([]);
  // Thirteen chords of 2 r sin(pi / 13), each in whole tenths, cut off below.
  expect(plan.cost).toBe(13 * Math.floor(10 * 2 * 50 * Math.sin(Math.PI / 13)));
});

test('a text of another form is refused with its reason', () => {
  expect(() => readSolomon('nothing')).toThrow('not a Solomon instance');
  expect(() => readTsplib('EDGE_WEIGHT_TYPE: GEO')).toThrow('EUC_2D');
});
