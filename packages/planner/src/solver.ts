import { findBound } from './bound.ts';
import { checkProblem } from './check.ts';
import { createMisplaced } from './misplaced.ts';
import { buildPlan } from './plan.ts';
import type { Assignment, Plan, Problem } from './problem.ts';
import { createRandom } from './random.ts';
import { createRecreate } from './recreate.ts';
import { createRoutePool } from './routePool.ts';
import { createRoutes } from './routes.ts';
import { createRuin } from './ruin.ts';
import { createSingleTour } from './singleTour.ts';
import { load, numberRoutes, readSnapshot, takeSnapshot } from './snapshot.ts';
import { createTables, type Tables } from './tables.ts';
import { createTurns } from './turns.ts';

/** A search that can be asked for its best plan at any time. The caller owns the clock. */
export interface Solver {
  /**
   * Runs so many iterations. `spent` (0 to 1) is the share of the budget already used and sets how bold the search is: it cools in as many
   * turns as the budget has room for; without it over each `horizon` iterations. The same problem, seed, options and calls give the same plan.
   */
  readonly step: (iterations: number, spent?: number) => void;
  readonly best: () => Plan;
  /** Falls as the search goes on: `cost` of the best plan plus a large amount for each job missed. */
  readonly bestTotal: () => number;
  readonly iterations: () => number;
  /** No plan that leaves out no job for want of room costs less than this. Weak: often half of the cost of a good plan, or less. */
  readonly bound: () => number;
  /** The best plan as one small array to hand to another thread's `adopt`: for each route its number, how many jobs, the jobs. */
  readonly snapshot: () => Int32Array;
  /**
   * Goes on from the snapshot of a search on the same problem. True when it is better than the best plan here. Jobs that may not be
   * where it puts them are placed anew; throws a RangeError for an array of another form.
   */
  readonly adopt: (snapshot: Int32Array) => boolean;
}

export interface SolverOptions {
  /** Iterations over which the search cools, again and again, when `step` is not told the share spent. */
  readonly horizon?: number;
  /** Jobs taken out on average. */
  readonly removed?: number;
  /** Share of ruins that empty one route. */
  readonly whole?: number;
  /** Near jobs looked at for each job by the end of the budget. */
  readonly nearest?: number;
  /** First and last temperature as shares of the mean leg of the first plan. */
  readonly startHeat?: number;
  readonly endHeat?: number;
  /** The plan to begin with, as far as it is allowed (`assignmentOf` a plan); without it all jobs are placed at their least cost. */
  readonly initial?: Assignment;
}

const HORIZON = 100_000;
const REMOVED = 12;
const WHOLE_ROUTE = 0.01;
const NEAREST = 120;
const START_HEAT = 0.6;
const END_HEAT = 0.01;
/** Where visits hang together a change of days costs more on the way to a better one (decision 0208). */
const GROUPED_START_HEAT = 1.2;
const GROUPED_END_HEAT = 0.03;
/** A day that costs so many mean legs more than a job's best one is one that no detour saves. */
const DEAR_LEGS = 20;
/** Routes are worth keeping in the colder half of a turn, while the plan costs less than this share of all legs more than the best of the turn. */
const COLD = 0.5;
const CLOSE = 0.01;
/** Iterations between two questions about the budget. */
const PACE = 50;

/** Prepares a search and makes a first plan. Throws a RangeError with every culprit when `checkProblem` refuses the problem. */
export function createSolver(problem: Problem, seed: number, options: SolverOptions = {}): Solver {
  const refused = checkProblem(problem).filter(({ severity }) => severity === 'refused');
  if (refused.length > 0)
    throw new RangeError(refused.map(({ culprit, message }) => `${culprit}: ${message}`).join('\n'));
  const tables = createTables(problem, options.nearest ?? NEAREST);
  const random = createRandom(seed);
  const state = createRoutes(tables);
  const out = new Int32Array(tables.jobs);
  const ruin = createRuin(
    tables,
    state,
    random,
    options.removed ?? REMOVED,
    options.whole ?? WHOLE_ROUTE,
    out,
  );
  const recreate = createRecreate(tables, state, random);
  const pool = createRoutePool(tables, state);
  const turns = createTurns(countMovable(tables), options.horizon ?? HORIZON);

  if (options.initial !== undefined) load(tables, state, numberRoutes(problem, options.initial));
  const bestNext = state.next.slice();
  let bestTotal = state.total();
  recreate(out, 0, 0);
  keepBest(state.total());
  if (state.absentCount() > 0) fillFirstPlan();
  let tour = createSingleTour(tables, state, random);
  takeTour();
  let done = 0;
  let bound: number | undefined;
  const heat = meanLeg();
  const startHeat = options.startHeat ?? (tables.groups.length > 0 ? GROUPED_START_HEAT : START_HEAT);
  const endHeat = options.endHeat ?? (tables.groups.length > 0 ? GROUPED_END_HEAT : END_HEAT);
  const hottest = Math.max(heat * startHeat, 1e-9);
  const findMisplaced = createMisplaced(tables, state, random, DEAR_LEGS * heat);
  const close = CLOSE * heat * tables.jobs;
  let bestOfTurn = Number.POSITIVE_INFINITY;
  const cooling = endHeat / startHeat;

  return {
    step,
    best: () => buildPlan(problem, tables, bestNext),
    bestTotal: () => bestTotal,
    iterations: () => done,
    bound: () => {
      bound ??= findBound(tables);
      return bound;
    },
    snapshot: () => takeSnapshot(tables, bestNext),
    adopt,
  };

  /** Compact routes may leave no room for all: then a plan that looks far from the start may miss fewer. */
  function fillFirstPlan(): void {
    recreate(out, 0, 1);
    keepBest(state.total());
    if (state.absentCount() === 0) return;
    const compact = takeSnapshot(tables, bestNext);
    load(tables, state, numberRoutes(problem, options.initial ?? []));
    recreate(out, 0, 1);
    if (state.total() > bestTotal) load(tables, state, readSnapshot(tables, compact));
    keepBest(state.total());
  }

  function adopt(snapshot: Int32Array): boolean {
    load(tables, state, readSnapshot(tables, snapshot));
    const before = bestTotal;
    pool?.recordAll();
    keepBest(state.total());
    // What the other left out for want of room or worth may fit here all the same.
    if (state.absentCount() > 0) recreate(out, 0, 0);
    keepBest(state.total());
    tour = createSingleTour(tables, state, random);
    takeTour();
    return bestTotal < before;
  }

  /** A tour that leaves a job out, for it is too long for the shift, is no use: ruin and recreate chooses what to leave out. */
  function takeTour(): void {
    if (tour === undefined) return;
    load(tables, state, readSnapshot(tables, tour.snapshot()));
    if (state.absentCount() > 0) tour = undefined;
    keepBest(state.total());
  }

  function keepBest(found: number): void {
    if (found >= bestTotal) return;
    bestTotal = found;
    bestNext.set(state.next);
  }

  /** A plan of the best routes met, whichever plans they were in. */
  function combine(): void {
    const combined = pool?.combine(bestTotal);
    if (combined === undefined) return;
    load(tables, state, combined);
    keepBest(state.total());
  }

  function keepRoutes(found: number, phase: number): void {
    if (pool === undefined || phase < COLD) return;
    bestOfTurn = Math.min(bestOfTurn, found);
    if (found <= bestOfTurn + close) pool.record();
  }

  /** Simulated annealing over ruin and recreate, cooling exponentially (Christiaens and Vanden Berghe 2020, section 5.1), turn after turn. */
  function step(iterations: number, spent?: number): void {
    if (tour !== undefined) {
      done += iterations;
      if (tour.step(iterations)) takeTour();
      return;
    }
    let total = state.total();
    for (let i = 0; i < iterations; i += 1) {
      const phase = turns.phase(done, spent);
      if (turns.isRipe()) {
        combine();
        total = state.total();
        if (phase < COLD) bestOfTurn = Number.POSITIVE_INFINITY;
      }
      const temperature = hottest * cooling ** phase;
      state.mark();
      const wish = findMisplaced();
      const taken = wish === undefined ? ruin.strings() : ruin.room(wish.job, wish.day);
      recreate(out, taken, phase);
      done += 1;
      const found = state.total();
      if (found < total - temperature * Math.log(1 - random.unit()) && !isTorn(taken)) {
        total = found;
        keepRoutes(found, phase);
        keepBest(found);
      } else state.undo();
    }
  }

  /** Whether some visits of a group found no place again while others are on routes. */
  function isTorn(taken: number): boolean {
    for (let i = 0; i < taken; i += 1) {
      const job = out[i] ?? 0;
      const group = tables.groups[tables.groupOf[job] ?? -1];
      if (group === undefined || (state.routeOf[job] ?? -1) >= 0) continue;
      if (group.jobs.some((sibling) => (state.routeOf[sibling] ?? -1) >= 0)) return true;
    }
    return false;
  }

  function meanLeg(): number {
    let sum = 0;
    let legs = 0;
    for (let node = 0; node < tables.nodes; node += 1) {
      const r = state.routeOf[node] ?? -1;
      if (r < 0 || (state.count[r] ?? 0) === 0 || (state.prev[node] ?? -1) < 0) continue;
      sum += state.legCost[node] ?? 0;
      legs += 1;
    }
    return legs === 0 ? 1 : Math.max(1, sum / legs);
  }
}

/** Jobs that hang together move as one. */
function countMovable({ jobs, groups }: Tables): number {
  return groups.reduce((count, group) => count - group.jobs.length + 1, jobs);
}

/** Searches until `spent` answers 1 or more; `spent` is asked every few iterations for the share of the budget used. */
export function solve(
  problem: Problem,
  seed: number,
  spent: () => number,
  options: SolverOptions = {},
): Plan {
  const solver = createSolver(problem, seed, options);
  for (let share = spent(); share < 1; share = spent()) solver.step(PACE, share);
  return solver.best();
}
