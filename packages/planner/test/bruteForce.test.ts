import { createSolver, type Problem, type TimeWindow } from '@sillwatch/planner';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { arbitraryProblem } from './support/arbitraryProblem.ts';
import { bruteForce } from './support/bruteForce.ts';
import { checkPlan } from './support/checkPlan.ts';

/** `PLANNER_CASES=5000 npx vitest run packages/planner` for the long run. */
const cases = Number(globalThis.process?.env['PLANNER_CASES'] ?? 400);
const SLICE = 100;
const SLICES = 200;

test(`small problems equal the optimum found by trying everything (${cases} cases)`, {
  timeout: 1_200_000,
}, () => {
  fc.assert(
    fc.property(arbitraryProblem(6), fc.integer(), (problem, seed) => {
      const optimum = bruteForce(problem);
      const solver = createSolver(problem, seed, { horizon: SLICE * 10 });
      for (let slice = 0; slice < SLICES; slice += 1) {
        solver.step(SLICE);
        const plan = solver.best();
        expect(checkPlan(problem, plan)).toEqual([]);
        if (plan.missed === optimum.missed && plan.cost === optimum.cost) break;
      }
      const { missed, cost } = solver.best();
      expect({ missed, cost }).toEqual(optimum);
      const crowded = solver.best().unassigned.some(({ reason }) => reason === 'noRoom');
      if (!crowded) expect(solver.bound()).toBeLessThanOrEqual(cost);
    }),
    { numRuns: cases },
  );
});

test('problems of eight jobs equal the optimum too', { timeout: 300_000 }, () => {
  fc.assert(
    fc.property(arbitraryProblem(8), (problem) => {
      const optimum = bruteForce(problem);
      const solver = createSolver(problem, 1, { horizon: 3000 });
      for (let slice = 0; slice < SLICES; slice += 1) {
        solver.step(SLICE);
        const plan = solver.best();
        if (plan.missed === optimum.missed && plan.cost === optimum.cost) break;
      }
      const { missed, cost } = solver.best();
      expect({ missed, cost }).toEqual(optimum);
    }),
    { numRuns: Math.ceil(cases / 20) },
  );
});

test(`with one window a job, no break and a longest time out, where an insertion is looked up: equal to the optimum (${cases} cases)`, {
  timeout: 1_200_000,
}, () => {
  const problems = fc
    .tuple(arbitraryProblem(6), fc.integer({ min: 20, max: 90 }))
    .map(([problem, longestSeconds]): Problem => {
      const first = (windows: readonly TimeWindow[]): readonly TimeWindow[] => windows.slice(0, 1);
      return {
        ...problem,
        jobs: problem.jobs.map((job) => ({
          ...job,
          windows: first(job.windows),
          days: job.days.map(({ windows, ...day }) =>
            windows === undefined ? day : { ...day, windows: first(windows) },
          ),
        })),
        vehicles: problem.vehicles.map((vehicle) => ({
          ...vehicle,
          shifts: vehicle.shifts.map(({ break: _, ...shift }) => ({ ...shift, longestSeconds })),
        })),
      };
    });
  fc.assert(
    fc.property(problems, fc.integer(), (problem, seed) => {
      const optimum = bruteForce(problem);
      const solver = createSolver(problem, seed, { horizon: SLICE * 10 });
      for (let slice = 0; slice < SLICES; slice += 1) {
        solver.step(SLICE);
        const plan = solver.best();
        expect(checkPlan(problem, plan)).toEqual([]);
        if (plan.missed === optimum.missed && plan.cost === optimum.cost) break;
      }
      const { missed, cost } = solver.best();
      expect({ missed, cost }).toEqual(optimum);
    }),
    { numRuns: cases },
  );
});

test('where the direct way is slower than a detour, plans stay true and never beat the optimum', {
  timeout: 300_000,
}, () => {
  fc.assert(
    fc.property(arbitraryProblem(6, true), fc.integer(), (problem, seed) => {
      const optimum = bruteForce(problem);
      const solver = createSolver(problem, seed, { horizon: 200 });
      solver.step(200);
      const plan = solver.best();
      expect(checkPlan(problem, plan)).toEqual([]);
      expect(plan.missed).toBeGreaterThanOrEqual(optimum.missed);
      if (plan.missed === optimum.missed) expect(plan.cost).toBeGreaterThanOrEqual(optimum.cost);
    }),
    { numRuns: cases },
  );
});
