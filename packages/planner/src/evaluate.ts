import { findTimeline } from './leaving.ts';
import type { Assignment, Group, Job, Plan, Problem, Shift, Stop, TakenBreak, Vehicle } from './problem.ts';
import {
  costBetween,
  findHoursCost,
  getJob,
  listWindows,
  secondsBetween,
  type Timeline,
} from './timeline.ts';

/** A plan as it is given, good or bad: what it costs, where the time goes and which rules it breaks. */
export interface PlanEvaluation extends CostParts, TimeParts {
  /** Only routes with jobs, in the given order. */
  readonly routes: readonly RouteEvaluation[];
  readonly unassigned: readonly number[];
  /** Penalties of optional jobs left out. */
  readonly penaltyCost: number;
  /** Everything: equal to the `cost` of a plan that breaks no rule. */
  readonly cost: number;
  /** Jobs left out although they must be done. */
  readonly missed: number;
  /** Those of the routes, then those between them. */
  readonly violations: readonly Violation[];
}

export interface RouteEvaluation extends CostParts, TimeParts {
  readonly vehicle: number;
  readonly day: number;
  readonly stops: readonly StopEvaluation[];
  readonly break?: TakenBreak;
  /** Only where the shift has `longestSeconds`. */
  readonly leaveSeconds?: number;
  readonly endSeconds: number;
  readonly load: number;
  readonly cost: number;
  readonly violations: readonly Violation[];
}

export interface StopEvaluation extends Stop {
  /** Service begins so long after its last window closed; 0 when in time. */
  readonly lateSeconds: number;
}

export interface CostParts {
  readonly travelCost: number;
  readonly useCost: number;
  readonly hoursCost: number;
  readonly overtimeCost: number;
  /** Days other than the best. */
  readonly dayCost: number;
  /** Other vehicles than the preferred. */
  readonly otherVehicleCost: number;
}

/** Drive, work, wait and break together are the time from the start of the shift until the route is back. */
export interface TimeParts {
  readonly driveSeconds: number;
  readonly workSeconds: number;
  readonly waitSeconds: number;
  readonly breakSeconds: number;
  readonly overtimeSeconds: number;
  readonly lateSeconds: number;
}

export interface Violation {
  readonly code: ViolationCode;
  readonly vehicle: number;
  readonly day: number;
  readonly job?: number;
  /** How much: seconds late, seconds past the latest end or above the longest time out, load above the capacity. */
  readonly amount?: number;
}

export type ViolationCode =
  | 'late'
  | 'pastLatestEnd'
  | 'outTooLong'
  | 'breakMissed'
  | 'dayNotAllowed'
  | 'promisedOtherDay'
  | 'promisedOtherVehicle'
  | 'skillMissing'
  | 'overloaded'
  | 'frozenMoved'
  | 'plannedTwice'
  | 'groupBroken';

/** Costs and times of an assignment as given. Throws a RangeError for a job, a vehicle or a day the problem does not have. */
export function evaluatePlan(problem: Problem, assignment: Assignment): PlanEvaluation {
  const routes = assignment
    .filter(({ jobs }) => jobs.length > 0)
    .map(({ vehicle, day, jobs }) => evaluateRoute(problem, vehicle, day, jobs));
  const violations = routes.flatMap((route) => route.violations);
  const planned = new Set<number>();
  for (const { vehicle, day, stops } of routes)
    for (const { job } of stops) {
      if (planned.has(job)) violations.push({ code: 'plannedTwice', vehicle, day, job });
      planned.add(job);
    }
  violations.push(...findFrozenLeft(problem, assignment));
  violations.push(...findGroupsBroken(problem, problem.groups ?? [], assignment));
  const unassigned = problem.jobs.flatMap((_, j) => (planned.has(j) ? [] : [j]));
  const left = unassigned.map((j) => getJob(problem, j).penalty);
  const penaltyCost = sum(left, (penalty) => penalty ?? 0);
  return {
    routes,
    unassigned,
    penaltyCost,
    cost: penaltyCost + sum(routes, ({ cost }) => cost),
    missed: left.filter((penalty) => penalty === undefined).length,
    violations,
    travelCost: sum(routes, (route) => route.travelCost),
    useCost: sum(routes, (route) => route.useCost),
    hoursCost: sum(routes, (route) => route.hoursCost),
    overtimeCost: sum(routes, (route) => route.overtimeCost),
    dayCost: sum(routes, (route) => route.dayCost),
    otherVehicleCost: sum(routes, (route) => route.otherVehicleCost),
    driveSeconds: sum(routes, (route) => route.driveSeconds),
    workSeconds: sum(routes, (route) => route.workSeconds),
    waitSeconds: sum(routes, (route) => route.waitSeconds),
    breakSeconds: sum(routes, (route) => route.breakSeconds),
    overtimeSeconds: sum(routes, (route) => route.overtimeSeconds),
    lateSeconds: sum(routes, (route) => route.lateSeconds),
  };
}

/** One route as given. Throws a RangeError for a job, a vehicle or a day the problem does not have. */
export function evaluateRoute(
  problem: Problem,
  vehicle: number,
  day: number,
  jobs: readonly number[],
): RouteEvaluation {
  const { van, shift } = getShift(problem, vehicle, day);
  const timeline: Timeline =
    jobs.length === 0
      ? {
          stops: [],
          leaveSeconds: shift.startSeconds,
          endSeconds: shift.startSeconds,
          breakMissed: false,
        }
      : findTimeline(problem, shift, jobs);
  const list = jobs.map((j) => getJob(problem, j));
  const places = [shift.startPlace, ...list.map(({ place }) => place), shift.endPlace];
  const legs = jobs.length === 0 ? [] : places.slice(1).map((to, k) => ({ from: places[k] ?? 0, to }));
  const stops = timeline.stops.map((stop): StopEvaluation => {
    const windows = listWindows(getJob(problem, stop.job), day);
    const close = windows[windows.length - 1]?.close;
    return { ...stop, lateSeconds: close === undefined ? 0 : Math.max(0, stop.startSeconds - close) };
  });
  const { endSeconds } = timeline;
  const { hours, overtime, overtimeSeconds } = findHoursCost(shift, endSeconds, timeline.break !== undefined);
  const driveSeconds = sum(legs, ({ from, to }) => secondsBetween(problem, from, to));
  const workSeconds = sum(list, ({ serviceSeconds }) => serviceSeconds);
  const breakSeconds = timeline.break === undefined ? 0 : (shift.break?.seconds ?? 0);
  const parts: CostParts = {
    travelCost: sum(legs, ({ from, to }) => costBetween(problem, from, to)),
    useCost: jobs.length === 0 ? 0 : shift.useCost,
    hoursCost: hours,
    overtimeCost: overtime,
    dayCost: sum(list, (job) => job.days.find((allowed) => allowed.day === day)?.cost ?? 0),
    otherVehicleCost: sum(list, ({ preferred }) =>
      preferred === undefined || preferred.vehicle === vehicle ? 0 : preferred.otherwise,
    ),
  };
  return {
    vehicle,
    day,
    stops,
    ...(timeline.break === undefined ? {} : { break: timeline.break }),
    ...(shift.longestSeconds === undefined ? {} : { leaveSeconds: timeline.leaveSeconds }),
    endSeconds,
    load: sum(list, ({ load }) => load),
    cost: sum(Object.values(parts), (part) => part),
    ...parts,
    driveSeconds,
    workSeconds,
    waitSeconds: endSeconds - shift.startSeconds - driveSeconds - workSeconds - breakSeconds,
    breakSeconds,
    overtimeSeconds,
    lateSeconds: sum(stops, ({ lateSeconds }) => lateSeconds),
    violations: [
      ...findRouteViolations(van, shift, vehicle, jobs, list, timeline),
      ...stops.flatMap(({ job, lateSeconds }): readonly Violation[] =>
        lateSeconds > 0 ? [{ code: 'late', vehicle, day, job, amount: lateSeconds }] : [],
      ),
    ],
  };
}

function findRouteViolations(
  van: Vehicle,
  shift: Shift,
  vehicle: number,
  jobs: readonly number[],
  list: readonly Job[],
  { leaveSeconds, endSeconds, breakMissed }: Timeline,
): readonly Violation[] {
  const { day } = shift;
  const found: Violation[] = [];
  list.forEach((job, position) => {
    const at = { vehicle, day, job: jobs[position] ?? 0 };
    if (!job.days.some((allowed) => allowed.day === day)) found.push({ code: 'dayNotAllowed', ...at });
    if ((job.fixed?.day ?? day) !== day) found.push({ code: 'promisedOtherDay', ...at });
    if ((job.fixed?.vehicle ?? vehicle) !== vehicle) found.push({ code: 'promisedOtherVehicle', ...at });
    if ((job.skills & ~van.skills) !== 0) found.push({ code: 'skillMissing', ...at });
  });
  const excess = sum(list, ({ load }) => load) - van.capacity;
  if (excess > 0) found.push({ code: 'overloaded', vehicle, day, amount: excess });
  const past = endSeconds - shift.latestEndSeconds;
  if (past > 0) found.push({ code: 'pastLatestEnd', vehicle, day, amount: past });
  const above = endSeconds - leaveSeconds - (shift.longestSeconds ?? Number.POSITIVE_INFINITY);
  if (above > 0) found.push({ code: 'outTooLong', vehicle, day, amount: above });
  if (breakMissed) found.push({ code: 'breakMissed', vehicle, day });
  return found;
}

/** Frozen starts that the assignment does not begin with. */
function findFrozenLeft(problem: Problem, assignment: Assignment): readonly Violation[] {
  return problem.vehicles.flatMap(({ shifts }, vehicle) =>
    shifts.flatMap(({ day, frozen = [] }) => {
      if (frozen.length === 0) return [];
      const route = assignment.find((one) => one.vehicle === vehicle && one.day === day);
      return frozen.flatMap((job, position): readonly Violation[] =>
        route?.jobs[position] === job ? [] : [{ code: 'frozenMoved', vehicle, day, job }],
      );
    }),
  );
}

/** Planned visits of groups that are planned in part, or on days of no pattern; one that is held by a frozen visit may be in part. */
export function findGroupsBroken(
  problem: Problem,
  groups: readonly Group[],
  assignment: Assignment,
): readonly Violation[] {
  if (groups.length === 0) return [];
  const at = new Map<number, Violation>();
  for (const { vehicle, day, jobs } of assignment)
    for (const job of jobs) at.set(job, { code: 'groupBroken', vehicle, day, job });
  const frozen = new Set(
    problem.vehicles.flatMap(({ shifts }) => shifts.flatMap((shift) => shift.frozen ?? [])),
  );
  return groups.flatMap(({ jobs, patterns }) => {
    const whole = patterns.some((pattern) => jobs.every((j, k) => at.get(j)?.day === pattern[k]));
    return whole ? [] : jobs.flatMap((j) => (frozen.has(j) ? [] : (at.get(j) ?? [])));
  });
}

/** The assignment of a plan: what `evaluatePlan` and a new search start from. */
export function assignmentOf(plan: Pick<Plan, 'routes'>): Assignment {
  return plan.routes.map(({ vehicle, day, stops }) => ({ vehicle, day, jobs: stops.map(({ job }) => job) }));
}

/** Throws a RangeError that names the vehicle and the day when it does not work then. */
export function getShift(
  problem: Problem,
  vehicle: number,
  day: number,
): { readonly van: Vehicle; readonly shift: Shift } {
  const van = problem.vehicles[vehicle];
  const shift = van?.shifts.find((one) => one.day === day);
  if (van === undefined || shift === undefined)
    throw new RangeError(
      `vehicle ${vehicle} (${van?.name ?? 'unknown'}) has no shift on day ${day}; choose a day it works`,
    );
  return { van, shift };
}

export function sum<T>(list: readonly T[], amount: (item: T) => number): number {
  return list.reduce((total, item) => total + amount(item), 0);
}
