import {
  checkProblem,
  createSolver,
  evaluatePlan,
  type Job,
  type Problem,
  type Shift,
} from '@sillwatch/planner';
import { expect, test } from 'vitest';
import { checkPlan } from './support/checkPlan.ts';

const shift: Shift = {
  day: 0,
  startPlace: 0,
  endPlace: 0,
  startSeconds: 0,
  regularEndSeconds: 1000,
  latestEndSeconds: 1000,
  longestSeconds: 200,
  useCost: 0,
  secondCost: 0,
  overtimeSecondCost: 0,
};
const job: Job = {
  name: 'Oak Street',
  place: 1,
  serviceSeconds: 20,
  days: [{ day: 0, cost: 0 }],
  windows: [],
  skills: 0,
  load: 0,
};

/** All places lie 10 apart. */
function problemOf(jobs: readonly Partial<Job>[], change: Partial<Shift> = {}): Problem {
  const places = jobs.length + 1;
  return {
    days: 1,
    travel: {
      kind: 'matrix',
      places,
      seconds: Int32Array.from({ length: places * places }, (_, k) => (k % (places + 1) === 0 ? 0 : 10)),
    },
    jobs: jobs.map((one, j) => ({ ...job, place: j + 1, ...one })),
    vehicles: [{ name: 'Van A', skills: 0, capacity: 10, shifts: [{ ...shift, ...change }] }],
  };
}

function routeOf(problem: Problem, jobs: readonly number[]) {
  return evaluatePlan(problem, [{ vehicle: 0, day: 0, jobs }]).routes[0];
}

const at = (open: number, close: number): Partial<Job> => ({ windows: [{ open, close }] });

test('a route without the limit leaves when its shift starts, and says no leaving', () => {
  const { longestSeconds: _, ...free } = shift;
  const problem = problemOf([at(300, 400)]);
  const route = routeOf(
    { ...problem, vehicles: [{ name: '', skills: 0, capacity: 1, shifts: [free] }] },
    [0],
  );
  expect(route).not.toHaveProperty('leaveSeconds');
  expect(route?.stops[0]?.arriveSeconds).toBe(10);
});

test('with it, it leaves as late as brings it back as early as can be', () => {
  const route = routeOf(problemOf([{}, at(300, 400)]), [0, 1]);
  // 300 less two legs and the first service.
  expect(route).toMatchObject({ leaveSeconds: 260, endSeconds: 330, violations: [] });
  expect(route?.stops.map(({ arriveSeconds }) => arriveSeconds)).toEqual([270, 300]);
});

test('two windows too far apart for one route out: evaluated with the rule broken, planned as one job missed', () => {
  const problem = problemOf([at(0, 50), at(300, 400)]);
  // Leaves at 40 to be there at 50, and is back at 330.
  expect(routeOf(problem, [0, 1])).toMatchObject({
    leaveSeconds: 40,
    violations: [{ code: 'outTooLong', vehicle: 0, day: 0, amount: 90 }],
  });
  const solver = createSolver(problem, 1, { horizon: 100 });
  solver.step(100);
  expect(checkPlan(problem, solver.best())).toEqual([]);
  expect(solver.best()).toMatchObject({ missed: 1, unassigned: [{ reason: 'noRoom' }] });
});

test('a job with two windows takes the later one where the earlier would keep the route out too long', () => {
  const twice = { windows: [...(at(0, 50).windows ?? []), ...(at(260, 280).windows ?? [])] };
  const problem = problemOf([twice, at(300, 400)], { secondCost: 1 });
  const route = routeOf(problem, [0, 1]);
  expect(route).toMatchObject({ leaveSeconds: 260, endSeconds: 330, violations: [] });
  expect(route?.stops[0]?.startSeconds).toBe(270);
  const solver = createSolver(problem, 1, { horizon: 100 });
  solver.step(100);
  expect(checkPlan(problem, solver.best())).toEqual([]);
  // Hours are paid from the start of the shift, not from leaving.
  expect(solver.best()).toMatchObject({ missed: 0, cost: 30 + 330 });
});

test('a break before leaving is not time out; on the way it is', () => {
  const rest = { earliestSeconds: 100, latestSeconds: 600, seconds: 60, paid: true };
  const problem = problemOf([at(800, 800)], { break: rest, longestSeconds: 40 });
  // 10 + 20 + 10 is all there is: the break lies before leaving at 790, as late as it may.
  expect(routeOf(problem, [0])).toMatchObject({
    leaveSeconds: 790,
    break: { startSeconds: 600, place: 0 },
    violations: [],
  });
  // Between 390 and 430 it must begin on the way: 60 more.
  const pressed = { ...rest, earliestSeconds: 390, latestSeconds: 420 };
  const due = problemOf([at(400, 400)], { break: pressed, longestSeconds: 40 });
  expect(routeOf(due, [0])?.violations.map(({ code }) => code)).toContain('outTooLong');
  expect(createSolver(due, 1).best()).toMatchObject({ missed: 1, unassigned: [{ reason: 'outOfReach' }] });
  const roomy = problemOf([at(400, 400)], { break: pressed, longestSeconds: 100 });
  expect(routeOf(roomy, [0])).toMatchObject({ leaveSeconds: 390, endSeconds: 490, violations: [] });
});

test('work longer than any route may be out is left out, and named', () => {
  const problem = problemOf([{ serviceSeconds: 201 }, { name: 'Elm Street' }]);
  expect(checkProblem(problem)).toMatchObject([
    { severity: 'leftOut', code: 'longerThanAnyRoute', culprit: 'job 0 (Oak Street)' },
  ]);
  expect(createSolver(problem, 1).best().unassigned).toEqual([{ job: 0, reason: 'outOfReach' }]);
});

test('empty routes that differ only in their longest time out are both tried', () => {
  const base = problemOf([at(0, 50), at(300, 400)]);
  const vans = [200, 400].map((longestSeconds) => ({
    name: `out for ${longestSeconds}`,
    skills: 0,
    capacity: 10,
    shifts: [{ ...shift, longestSeconds }],
  }));
  const problem = { ...base, vehicles: vans };
  const solver = createSolver(problem, 1, { horizon: 100 });
  solver.step(100);
  // Together on the one that may be out for long: 30 of driving instead of 40.
  expect(solver.best()).toMatchObject({ missed: 0, cost: 30, routes: [{ vehicle: 1 }] });
});

test('routes begun from a plan are kept only as far as they are not out too long', () => {
  const problem = problemOf([at(0, 50), at(300, 400)]);
  const plan = createSolver(problem, 1, { initial: [{ vehicle: 0, day: 0, jobs: [0, 1] }] }).best();
  expect(checkPlan(problem, plan)).toEqual([]);
  expect(plan.missed).toBe(1);
});

test.each([
  ['before', at(0, 90), [1, 2]],
  ['after', at(170, 900), [1, 2]],
] as const)(
  'a job that would fit %s the others, but keep the route out too long, stays out',
  (_, first, jobs) => {
    // The two are out for 100, from 90 to 190: the wait between them cannot be had later.
    const problem = problemOf([first, at(100, 100), at(160, 160)], { longestSeconds: 120 });
    const initial = [{ vehicle: 0, day: 0, jobs }];
    expect(evaluatePlan(problem, initial).routes[0]).toMatchObject({ leaveSeconds: 90, endSeconds: 190 });
    const plan = createSolver(problem, 1, { initial }).best();
    expect(checkPlan(problem, plan)).toEqual([]);
    expect(plan.unassigned).toEqual([{ job: 0, reason: 'noRoom' }]);
    // Thirty more is what it takes.
    const roomy = problemOf([first, at(100, 100), at(160, 160)], { longestSeconds: 130 });
    expect(createSolver(roomy, 1, { initial }).best()).toMatchObject({ missed: 0, unassigned: [] });
  },
);
