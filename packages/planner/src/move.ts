import { evaluateRoute, findGroupsBroken, getShift, type RouteEvaluation, sum } from './evaluate.ts';
import type { Assignment, Problem } from './problem.ts';
import { getJob } from './timeline.ts';

/** One job to one route; without a position, to the best one there. */
export interface Move {
  readonly job: number;
  readonly vehicle: number;
  readonly day: number;
  /** Place in the order of the route once the job has left its present one: 0 is first. */
  readonly position?: number;
}

export interface MoveEvaluation {
  /** What the plan costs more by the move (negative: it saves); a penalty that falls away is counted. */
  readonly costChange: number;
  readonly position: number;
  /** The route it leaves, as it is without the job; absent where the job was on none, or only changes its position. */
  readonly from?: RouteEvaluation;
  /** The route it joins, with the job. Its violations are those of the plan after the move. */
  readonly to: RouteEvaluation;
  /** Violations of both routes and of the job's group after the move, less those before: above 0, the move breaks rules that were kept. */
  readonly addedViolations: number;
  readonly assignment: Assignment;
}

/**
 * What it costs to move a job to a vehicle and a day; without a position, to the place there that breaks the fewest rules and then
 * costs least. Frozen starts are not parted. Throws a RangeError for what the problem does not have and for a frozen job.
 */
export function evaluateMove(problem: Problem, assignment: Assignment, move: Move): MoveEvaluation {
  const { job, vehicle, day } = move;
  const { shift } = getShift(problem, vehicle, day);
  const home = assignment.find(({ jobs }) => jobs.includes(job));
  if (home !== undefined && getShift(problem, home.vehicle, home.day).shift.frozen?.includes(job) === true)
    throw new RangeError(`job ${job} (${getJob(problem, job).name}) is frozen; thaw its route to move it`);
  const target = assignment.find((route) => route.vehicle === vehicle && route.day === day);
  const before = new Set([home, target].filter((route) => route !== undefined));
  const old = [...before].map((route) => evaluateRoute(problem, route.vehicle, route.day, route.jobs));
  const stay = home === target ? undefined : home;
  const from =
    stay === undefined ? undefined : evaluateRoute(problem, stay.vehicle, stay.day, without(stay.jobs, job));
  const base = without(target?.jobs ?? [], job);
  const first = shift.frozen?.length ?? 0;
  if (move.position !== undefined && !(move.position >= first && move.position <= base.length))
    throw new RangeError(`position ${move.position} is not ${first} to ${base.length}`);
  const positions =
    move.position === undefined
      ? Array.from({ length: base.length - first + 1 }, (_, k) => first + k)
      : [move.position];
  const found = positions
    .map((position) => {
      const jobs = base.toSpliced(position, 0, job);
      return { position, jobs, to: evaluateRoute(problem, vehicle, day, jobs) };
    })
    .reduce((best, next) => (isBetter(next.to, best.to) ? next : best));
  const after = from === undefined ? [found.to] : [from, found.to];
  const spared = home === undefined ? (getJob(problem, job).penalty ?? 0) : 0;
  const joined = { vehicle, day, jobs: found.jobs };
  const moved = [
    ...assignment.flatMap((route) => {
      if (route === target) return [joined];
      return route === home ? [{ ...route, jobs: without(route.jobs, job) }] : [route];
    }),
    ...(target === undefined ? [joined] : []),
  ].filter(({ jobs }) => jobs.length > 0);
  const groups = (problem.groups ?? []).filter(({ jobs }) => jobs.includes(job));
  const parted = (plan: Assignment): number => findGroupsBroken(problem, groups, plan).length;
  return {
    costChange: sum(after, ({ cost }) => cost) - sum(old, ({ cost }) => cost) - spared,
    position: found.position,
    ...(from === undefined ? {} : { from }),
    to: found.to,
    addedViolations:
      sum(after, ({ violations }) => violations.length) -
      sum(old, ({ violations }) => violations.length) +
      parted(moved) -
      parted(assignment),
    assignment: moved,
  };
}

function without(jobs: readonly number[], job: number): readonly number[] {
  return jobs.filter((other) => other !== job);
}

function isBetter(a: RouteEvaluation, b: RouteEvaluation): boolean {
  const broken = a.violations.length - b.violations.length;
  if (broken !== 0) return broken < 0;
  return a.lateSeconds === b.lateSeconds ? a.cost < b.cost : a.lateSeconds < b.lateSeconds;
}
