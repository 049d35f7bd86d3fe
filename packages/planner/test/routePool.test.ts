import { expect, test } from 'vitest';
import type { Problem, Shift } from '../src/problem.ts';
import { createRoutePool } from '../src/routePool.ts';
import { createRoutes } from '../src/routes.ts';
import { load, type Sequence } from '../src/snapshot.ts';
import { createTables } from '../src/tables.ts';

/** Places on a line, the base at 0; a unit is a second and a cost. */
function lineProblem(at: readonly number[], shifts: readonly (readonly Shift[])[]): Problem {
  const places = [0, ...at];
  return {
    days: 2,
    travel: {
      kind: 'matrix',
      places: places.length,
      seconds: Int32Array.from(places.flatMap((a) => places.map((b) => Math.abs(a - b)))),
    },
    jobs: at.map((_, j) => ({
      name: `job ${j}`,
      place: j + 1,
      serviceSeconds: 0,
      days: [
        { day: 0, cost: 0 },
        { day: 1, cost: 0 },
      ],
      windows: [],
      skills: 0,
      load: 1,
    })),
    vehicles: shifts.map((list, v) => ({ name: `vehicle ${v}`, skills: 0, capacity: 2, shifts: list })),
  };
}

function shiftOn(day: number, frozen?: readonly number[]): Shift {
  return {
    day,
    startPlace: 0,
    endPlace: 0,
    startSeconds: 0,
    regularEndSeconds: 10_000,
    latestEndSeconds: 10_000,
    useCost: 0,
    secondCost: 0,
    overtimeSecondCost: 0,
    ...(frozen === undefined ? {} : { frozen }),
  };
}

/** Puts each plan into a pool and asks it for the best of all, from the last of them on. */
function combine(problem: Problem, plans: readonly (readonly Sequence[])[]) {
  const tables = createTables(problem, 10);
  const state = createRoutes(tables);
  const pool = createRoutePool(tables, state);
  for (const plan of plans) {
    load(tables, state, plan);
    pool?.recordAll();
  }
  const before = state.total();
  const combined = pool?.combine(before);
  if (combined === undefined) return { before, after: before };
  load(tables, state, combined);
  return { before, after: state.total(), combined };
}

const EAST_WEST = [-10, -11, 10, 11, 100, 101];

test('joins good routes of plans that were bad in all', () => {
  const shifts = [[shiftOn(0)], [shiftOn(0)], [shiftOn(0)]];
  const { before, after } = combine(lineProblem(EAST_WEST, shifts), [
    [
      { route: 0, jobs: [0, 1] },
      { route: 1, jobs: [2, 4] },
      { route: 2, jobs: [3, 5] },
    ],
    [
      { route: 0, jobs: [4, 5] },
      { route: 1, jobs: [0, 2] },
      { route: 2, jobs: [1, 3] },
    ],
    [
      { route: 1, jobs: [2, 3] },
      { route: 0, jobs: [0, 4] },
      { route: 2, jobs: [1, 5] },
    ],
  ]);
  expect(after).toBe(22 + 22 + 202);
  expect(after).toBeLessThan(before);
});

test('a frozen start stays on its own route', () => {
  const shifts = [[shiftOn(0, [0])], [shiftOn(0)], [shiftOn(0)]];
  const { combined, after } = combine(lineProblem(EAST_WEST, shifts), [
    [
      { route: 0, jobs: [0, 1] },
      { route: 1, jobs: [2, 4] },
      { route: 2, jobs: [3, 5] },
    ],
    [
      { route: 0, jobs: [0, 5] },
      { route: 1, jobs: [2, 3] },
      { route: 2, jobs: [1, 4] },
    ],
    [
      { route: 0, jobs: [0, 3] },
      { route: 1, jobs: [1, 2] },
      { route: 2, jobs: [4, 5] },
    ],
  ]);
  expect(combined?.find(({ route }) => route === 0)?.jobs).toEqual([0, 1]);
  expect(after).toBe(22 + 22 + 202);
});

test('there is none where visits hang together', () => {
  const problem: Problem = {
    ...lineProblem([10, 11, -10], [[shiftOn(0), shiftOn(1)]]),
    groups: [{ name: 'twice', jobs: [0, 1], patterns: [[0, 1]] }],
  };
  const tables = createTables(problem, 10);
  expect(createRoutePool(tables, createRoutes(tables))).toBeUndefined();
});
