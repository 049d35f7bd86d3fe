import {
  type Assignment,
  assignmentOf,
  createSolver,
  evaluateMove,
  evaluatePlan,
  evaluateRoute,
  type Plan,
  type Problem,
} from '@sillwatch/planner';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { arbitraryProblem } from './support/arbitraryProblem.ts';
import { checkPlan } from './support/checkPlan.ts';

const CASES = 400;

/** An assignment of any jobs to any shifts in any order: seldom a plan that keeps the rules. */
function arbitraryAssignment(problem: Problem): fc.Arbitrary<Assignment> {
  const shifts = problem.vehicles.flatMap(({ shifts: days }, vehicle) =>
    days.map(({ day }) => ({ vehicle, day })),
  );
  return fc
    .tuple(
      fc.shuffledSubarray(problem.jobs.map((_, j) => j)),
      fc.array(fc.nat(shifts.length - 1), {
        minLength: problem.jobs.length,
        maxLength: problem.jobs.length,
      }),
    )
    .map(([order, on]) =>
      shifts
        .map((shift, s) => ({ ...shift, jobs: order.filter((j) => on[j] === s) }))
        .filter(({ jobs }) => jobs.length > 0),
    );
}

const problemAndAssignment = arbitraryProblem(6, true).chain((problem) =>
  fc.tuple(fc.constant(problem), arbitraryAssignment(problem)),
);

/** The evaluation in the form of a plan, for the slow checker. */
function asPlan(problem: Problem, assignment: Assignment): Plan {
  const { routes, unassigned, cost, travelCost, missed } = evaluatePlan(problem, assignment);
  return {
    routes: routes.map(({ vehicle, day, stops, leaveSeconds, endSeconds, break: rest }) => ({
      vehicle,
      day,
      stops,
      ...(leaveSeconds === undefined ? {} : { leaveSeconds }),
      endSeconds,
      ...(rest === undefined ? {} : { break: rest }),
    })),
    unassigned: unassigned.map((job) => ({ job, reason: 'noRoom' })),
    cost,
    travelCost,
    missed,
  };
}

test('an assignment as given: the slow checker agrees on cost and on whether a rule is broken (property)', () => {
  let kept = 0;
  let broken = 0;
  fc.assert(
    fc.property(problemAndAssignment, ([problem, assignment]) => {
      const evaluation = evaluatePlan(problem, assignment);
      const wrong = checkPlan(problem, asPlan(problem, assignment));
      expect(wrong.filter((line) => line.includes('cost'))).toEqual([]);
      expect(wrong.length === 0).toBe(evaluation.violations.length === 0);
      if (wrong.length === 0) kept += 1;
      else broken += 1;
    }),
    { numRuns: CASES },
  );
  expect(Math.min(kept, broken)).toBeGreaterThan(CASES / 20);
});

test('the parts of cost and time add up, and a plan of the search evaluates to its own cost (property)', () => {
  fc.assert(
    fc.property(arbitraryProblem(6), fc.integer(), (problem, seed) => {
      const solver = createSolver(problem, seed);
      solver.step(30);
      const plan = solver.best();
      const whole = evaluatePlan(problem, assignmentOf(plan));
      expect(whole.violations).toEqual([]);
      expect(whole.cost).toBe(plan.cost);
      const { travelCost, useCost, hoursCost, overtimeCost, dayCost, otherVehicleCost, penaltyCost } = whole;
      const parts = [travelCost, useCost, hoursCost, overtimeCost, dayCost, otherVehicleCost, penaltyCost];
      expect(parts.reduce((a, b) => a + b, 0)).toBe(plan.cost);
      for (const route of whole.routes) {
        const begin = problem.vehicles[route.vehicle]?.shifts.find(({ day }) => day === route.day);
        const { driveSeconds, workSeconds, waitSeconds, breakSeconds } = route;
        expect(driveSeconds + workSeconds + waitSeconds + breakSeconds).toBe(
          route.endSeconds - Number(begin?.startSeconds),
        );
        expect(waitSeconds).toBeGreaterThanOrEqual(0);
      }
    }),
    { numRuns: CASES },
  );
});

test('a move costs what the plan costs more, and no other position is better (property)', () => {
  const drawn = problemAndAssignment.chain(([problem, assignment]) =>
    fc.tuple(
      fc.constant(problem),
      fc.constant(assignment),
      fc.nat(problem.jobs.length - 1),
      fc.nat(problem.vehicles.length - 1),
    ),
  );
  fc.assert(
    fc.property(drawn, ([problem, assignment, job, vehicle]) => {
      const day = Number(problem.vehicles[vehicle]?.shifts[0]?.day);
      const before = evaluatePlan(problem, assignment);
      const best = evaluateMove(problem, assignment, { job, vehicle, day });
      const after = evaluatePlan(problem, best.assignment);
      expect(best.costChange).toBe(after.cost - before.cost);
      expect(best.addedViolations).toBe(after.violations.length - before.violations.length);
      const at = best.assignment.find((route) => route.vehicle === vehicle && route.day === day)?.jobs ?? [];
      expect(at[best.position]).toBe(job);
      for (let position = 0; position < at.length; position += 1) {
        const other = evaluateMove(problem, assignment, { job, vehicle, day, position });
        expect(other.addedViolations).toBeGreaterThanOrEqual(best.addedViolations);
        if (other.addedViolations === best.addedViolations && other.to.lateSeconds === best.to.lateSeconds)
          expect(other.costChange).toBeGreaterThanOrEqual(best.costChange);
      }
    }),
    { numRuns: CASES },
  );
});

test('a search begins with the plan it is given, and goes on from what another found (property)', () => {
  fc.assert(
    fc.property(arbitraryProblem(6), fc.integer(), (problem, seed) => {
      const first = createSolver(problem, seed);
      first.step(100);
      const plan = first.best();
      const warm = createSolver(problem, seed + 1, { initial: assignmentOf(plan) });
      expect(warm.bestTotal()).toBeLessThanOrEqual(first.bestTotal());
      expect(checkPlan(problem, warm.best())).toEqual([]);
      const cold = createSolver(problem, seed + 2);
      const before = cold.bestTotal();
      const better = cold.adopt(first.snapshot());
      // Never worse than what was handed over; a job it left out may even find a place.
      expect(cold.bestTotal()).toBeLessThanOrEqual(Math.min(before, first.bestTotal()));
      expect(better).toBe(cold.bestTotal() < before);
      cold.step(20);
      expect(checkPlan(problem, cold.best())).toEqual([]);
    }),
    { numRuns: CASES },
  );
});

test('a given plan that breaks rules is used as far as it keeps them (property)', () => {
  fc.assert(
    fc.property(problemAndAssignment, ([problem, initial]) => {
      expect(checkPlan(problem, createSolver(problem, 1, { initial }).best())).toEqual([]);
    }),
    { numRuns: CASES },
  );
});

/** Two stops of an hour, 10 minutes apart, from eight; lunch of half an hour between twelve and one. */
const MORNING: Problem = {
  days: 1,
  travel: { kind: 'matrix', places: 2, seconds: Int32Array.of(0, 600, 600, 0) },
  jobs: [0, 1, 2, 3].map((j) => ({
    name: `job ${j}`,
    place: 1,
    serviceSeconds: 3600,
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
          startPlace: 0,
          endPlace: 0,
          startSeconds: 28_800,
          regularEndSeconds: 57_600,
          latestEndSeconds: 61_200,
          useCost: 0,
          secondCost: 1,
          overtimeSecondCost: 0,
          break: { earliestSeconds: 43_200, latestSeconds: 45_000, seconds: 1800, paid: false },
        },
      ],
    },
  ],
};

test('a break is taken between stops, waits for its window, and is not paid unless it says so', () => {
  // Back at 11:20 with three hours' work: no break. With four it ends at 12:10, its break after the third hour would wait; so after the fourth.
  const three = evaluateRoute(MORNING, 0, 0, [0, 1, 2]);
  expect(three.break).toBeUndefined();
  expect(three.endSeconds).toBe(28_800 + 3 * 3600 + 1200);
  expect(three.hoursCost).toBe(3 * 3600 + 1200);
  const four = evaluateRoute(MORNING, 0, 0, [0, 1, 2, 3]);
  // Back at 12:20 without it, before its latest begin (12:30): none is owed.
  expect(four.break).toBeUndefined();
  const longer: Problem = {
    ...MORNING,
    jobs: MORNING.jobs.map((job) => ({ ...job, serviceSeconds: 4500 })),
  };
  const owed = evaluateRoute(longer, 0, 0, [0, 1, 2, 3]);
  // Three services end at 11:55; the fourth would end at 13:10. The break begins at 12:00 after the third, at the place of the stops.
  expect(owed.break).toEqual({ startSeconds: 43_200, place: 1 });
  expect(owed.waitSeconds).toBe(300);
  expect(owed.endSeconds).toBe(43_200 + 1800 + 4500 + 600);
  expect(owed.hoursCost).toBe(owed.endSeconds - 28_800 - 1800);
});

test('what the problem does not have, and a frozen job, are refused by name', () => {
  expect(() => evaluateRoute(MORNING, 0, 0, [9])).toThrow('job 9 is not 0 to 3');
  expect(() => evaluateRoute(MORNING, 0, 3, [0])).toThrow('vehicle 0 (van) has no shift on day 3');
  const frozen: Problem = {
    ...MORNING,
    vehicles: MORNING.vehicles.map((van) => ({
      ...van,
      shifts: van.shifts.map((shift) => ({ ...shift, frozen: [2] })),
    })),
  };
  const plan = [{ vehicle: 0, day: 0, jobs: [2, 1] }];
  expect(() => evaluateMove(frozen, plan, { job: 2, vehicle: 0, day: 0 })).toThrow('job 2 (job 2) is frozen');
  expect(() => evaluateMove(frozen, plan, { job: 0, vehicle: 0, day: 0, position: 0 })).toThrow(
    'position 0 is not 1 to 2',
  );
  expect(evaluatePlan(frozen, [{ vehicle: 0, day: 0, jobs: [1] }]).violations).toContainEqual({
    code: 'frozenMoved',
    vehicle: 0,
    day: 0,
    job: 2,
  });
  expect(() => createSolver(MORNING, 1).adopt(Int32Array.of(0, 2, 1))).toThrow('snapshot: no route');
  expect(() => createSolver(MORNING, 1, { initial: [{ vehicle: 0, day: 0, jobs: [7] }] })).toThrow('job 7');
});
