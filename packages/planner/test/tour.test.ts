import { createSolver, type Problem } from '@sillwatch/planner';
import { readTsplib } from '@sillwatch/planner/instances';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { bruteForce } from './support/bruteForce.ts';
import { checkPlan } from './support/checkPlan.ts';

/** One route past points of a plane, from one place to the same or another: what the tour search is for. */
const oneRoute = fc
  .record({
    points: fc.uniqueArray(
      fc.record({ x: fc.integer({ min: 0, max: 60 }), y: fc.integer({ min: 0, max: 60 }) }),
      {
        minLength: 10,
        maxLength: 10,
        selector: ({ x, y }) => 100 * x + y,
      },
    ),
    open: fc.boolean(),
    latestEndSeconds: fc.constantFrom(150, 200, 10_000),
    overtimeSecondCost: fc.constantFrom(0, 2),
    jobs: fc.constantFrom(7, 8),
  })
  .map(({ points, open, latestEndSeconds, overtimeSecondCost, jobs }): Problem => {
    const places = points.length;
    const seconds = Int32Array.from({ length: places * places }, (_, at) => {
      const a = points[Math.floor(at / places)];
      const b = points[at % places];
      return a === undefined || b === undefined ? 0 : Math.ceil(Math.hypot(a.x - b.x, a.y - b.y));
    });
    return {
      days: 1,
      travel: { kind: 'matrix', places, seconds },
      jobs: Array.from({ length: jobs }, (_, j) => ({
        name: `stop ${j}`,
        place: j,
        serviceSeconds: 1,
        days: [{ day: 0, cost: 0 }],
        windows: [],
        skills: 0,
        load: 0,
      })),
      vehicles: [
        {
          name: 'van',
          skills: 0,
          capacity: 0,
          shifts: [
            {
              day: 0,
              startPlace: 8,
              endPlace: open ? 9 : 8,
              startSeconds: 0,
              regularEndSeconds: 100,
              latestEndSeconds,
              useCost: 5,
              secondCost: 0,
              overtimeSecondCost,
            },
          ],
        },
      ],
    };
  });

test('one route from place to place equals the optimum found by trying everything, also where it is too long (property)', {
  timeout: 300_000,
}, () => {
  fc.assert(
    fc.property(oneRoute, fc.integer(), (problem, seed) => {
      const optimum = bruteForce(problem);
      const solver = createSolver(problem, seed, { horizon: 1000 });
      for (let slice = 0; slice < 40; slice += 1) {
        solver.step(50);
        expect(checkPlan(problem, solver.best())).toEqual([]);
        if (solver.best().missed === optimum.missed && solver.best().cost === optimum.cost) break;
      }
      const { missed, cost } = solver.best();
      expect({ missed, cost }).toEqual(optimum);
    }),
    { numRuns: 40 },
  );
});

test('a grid of 10 by 10 is toured without one slanting leg', () => {
  const rows = Array.from({ length: 100 }, (_, p) => `${p + 1} ${10 * (p % 10)} ${10 * Math.floor(p / 10)}`);
  const problem = readTsplib(['EDGE_WEIGHT_TYPE : EUC_2D', 'NODE_COORD_SECTION', ...rows, 'EOF'].join('\n'));
  const solver = createSolver(problem, 1);
  solver.step(300);
  // A grid with an even number of points has a closed tour of legs between neighbours: 100 legs of 10, and none is shorter.
  expect(solver.best().cost).toBe(1000);
  expect(checkPlan(problem, solver.best())).toEqual([]);
});
