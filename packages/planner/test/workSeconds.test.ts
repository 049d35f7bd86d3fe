import fc from 'fast-check';
import { expect, test } from 'vitest';
import { createRandom } from '../src/random.ts';
import { createRecreate } from '../src/recreate.ts';
import { createRoutes } from '../src/routes.ts';
import { createTables } from '../src/tables.ts';
import { arbitraryProblem } from './support/arbitraryProblem.ts';

// An insertion is turned down by this bound before its hours are reckoned: it must never be above them.
test('no route pays for less than its driving and service (property)', () => {
  let paid = 0;
  fc.assert(
    fc.property(arbitraryProblem(7), fc.integer({ min: 1, max: 1000 }), (problem, seed) => {
      const tables = createTables(problem, 10);
      const state = createRoutes(tables);
      createRecreate(tables, state, createRandom(seed))(new Int32Array(tables.jobs), 0, 1);
      for (let r = 0; r < tables.routes; r += 1) {
        if (state.count[r] === 0) continue;
        const least = (tables.secondCost[r] ?? 0) * (state.workSeconds[r] ?? 0);
        if (least > 0) paid += 1;
        expect(state.hoursCost[r]).toBeGreaterThanOrEqual(least);
      }
    }),
    { numRuns: Number(process.env['PLANNER_CASES'] ?? 400), seed: 7 },
  );
  expect(paid).toBeGreaterThan(50);
});
