import { MAX_SECONDS, worstJob, worstShift } from './check.ts';
import { createGroups, type GroupTable } from './groups.ts';
import { createLegs, findDearest, type Leg } from './legs.ts';
import { createNear } from './near.ts';
import type { Job, Problem, TimeWindow, UnassignedReason } from './problem.ts';
import { createMayTake, findReasons } from './reasons.ts';
import { listWindows } from './timeline.ts';
import type { DayWindows } from './windows.ts';

/** Up to this many job-route pairs the cost of putting the one on the other is tabled. */
const ASSIGN_PAIRS = 4_000_000;
/** Marks a pair that may not be. */
export const NEVER = -1;

/**
 * A checked problem on typed arrays. Nodes: jobs are 0 to `jobs` - 1; route r begins at node `jobs` + 2 r and ends at `jobs` + 2 r + 1.
 * A route is one shift of one vehicle. Windows of a job that differ by day (`varies`) are here the outer ends over all of its days.
 */
export interface Tables extends DayWindows {
  readonly jobs: number;
  readonly routes: number;
  readonly nodes: number;
  readonly place: Int32Array;
  readonly service: Int32Array;
  readonly load: Int32Array;
  readonly skills: Int32Array;
  /** `dayCost[job * days + day]`, NEVER where it may not be done. */
  readonly dayCost: Int32Array;
  /** Days allowed, to order jobs by how little choice they leave. */
  readonly dayCount: Int32Array;
  readonly penalty: Float64Array;
  readonly preferred: Int32Array;
  readonly otherwise: Float64Array;
  readonly fixedVehicle: Int32Array;
  /** Why no otherwise empty route could do the job; undefined where one could. */
  readonly reasons: readonly (UnassignedReason | undefined)[];
  /** 1 where no route may take the job. One out of reach alone may still be reached by way of another: odd, but matrices are odd. */
  readonly hopeless: Uint8Array;
  readonly vehicleOf: Int32Array;
  readonly dayOf: Int32Array;
  readonly vehicleSkills: Int32Array;
  readonly capacity: Int32Array;
  readonly startSeconds: Int32Array;
  readonly regularEnd: Int32Array;
  readonly latestEnd: Int32Array;
  /** 1 where a route leaves when it likes and must be back `longest` later. */
  readonly hasLongest: Uint8Array;
  readonly longest: Int32Array;
  readonly useCost: Float64Array;
  readonly secondCost: Float64Array;
  readonly overtimeCost: Float64Array;
  readonly hasBreak: Uint8Array;
  readonly breakEarliest: Int32Array;
  readonly breakLatest: Int32Array;
  readonly breakSeconds: Int32Array;
  readonly breakUnpaid: Uint8Array;
  /** Routes that differ in nothing share a kind: only one empty route of a kind need be tried. */
  readonly kindOf: Int32Array;
  readonly kinds: number;
  readonly frozen: readonly (readonly number[])[];
  /** 1 where a job is frozen. */
  readonly isHeld: Uint8Array;
  readonly groups: readonly GroupTable[];
  /** The group of each job, -1 for none. */
  readonly groupOf: Int32Array;
  readonly seconds: Leg;
  readonly cost: Leg;
  /** Cost of putting a job on a route, beside driving and hours; NEVER where it may not be. */
  readonly assignCost: (job: number, route: number) => number;
  /** `near[job * nearCount + k]` is the k-th nearest job that could share a route, -1 after the last. */
  readonly near: Int32Array;
  readonly nearCount: number;
}

/** Lays out a problem that `checkProblem` did not refuse. `nearest` is the length of each job's list of neighbours. */
export function createTables(problem: Problem, nearest: number): Tables {
  const jobs = problem.jobs.length;
  const shifts = problem.vehicles.flatMap((vehicle, index) =>
    vehicle.shifts.map((shift) => ({ vehicle, index, shift })),
  );
  const routes = shifts.length;
  const nodes = jobs + 2 * routes;
  const { days } = problem;
  const { seconds, cost } = createLegs(problem);

  const place = new Int32Array(nodes);
  const service = new Int32Array(nodes);
  const open = new Int32Array(nodes);
  const close = new Int32Array(nodes).fill(MAX_SECONDS);
  const load = new Int32Array(jobs);
  const skills = new Int32Array(jobs);
  const several = new Uint8Array(nodes);
  const windowFrom = new Int32Array(nodes);
  const windowTo = new Int32Array(nodes);
  const varies = Uint8Array.from(problem.jobs, (job) => (differsByDay(job) ? 1 : 0));
  const perDay = varies.includes(1) ? jobs * days : 0;
  const dayFrom = new Int32Array(perDay);
  const dayTo = new Int32Array(perDay);
  const dayCost = new Int32Array(jobs * days).fill(NEVER);
  const dayCount = new Int32Array(jobs);
  const penalty = new Float64Array(jobs);
  const preferred = new Int32Array(jobs).fill(-1);
  const otherwise = new Float64Array(jobs);
  const fixedVehicle = new Int32Array(jobs).fill(-1);
  const opens: number[] = [];
  const closes: number[] = [];
  const dearestLeg = problem.travel.kind === 'function' ? problem.travel.most : findDearest(cost);
  let worst = 1;
  for (const { shift } of shifts) worst += worstShift(shift) + 2 * dearestLeg;
  for (const job of problem.jobs) worst += worstJob(job, dearestLeg);

  problem.jobs.forEach((job, j) => {
    place[j] = job.place;
    service[j] = job.serviceSeconds;
    load[j] = job.load;
    skills[j] = job.skills;
    penalty[j] = job.penalty ?? worst;
    preferred[j] = job.preferred?.vehicle ?? -1;
    otherwise[j] = job.preferred?.otherwise ?? 0;
    fixedVehicle[j] = job.fixed?.vehicle ?? -1;
    for (const { day, cost: dayPrice } of job.days) {
      if (job.fixed?.day !== undefined && job.fixed.day !== day) continue;
      dayCost[j * days + day] = dayPrice;
      dayCount[j] = (dayCount[j] ?? 0) + 1;
    }
    const put = (windows: readonly TimeWindow[]): void => {
      for (const window of windows) {
        opens.push(window.open);
        closes.push(window.close);
      }
    };
    windowFrom[j] = opens.length;
    if (varies[j] === 1) {
      const outer = job.days.map(({ day }) => findOuter(listWindows(job, day)));
      open[j] = Math.min(MAX_SECONDS, ...outer.map((ends) => ends.open));
      close[j] = Math.max(0, ...outer.map((ends) => ends.close));
      for (const { day } of job.days) {
        dayFrom[j * days + day] = opens.length;
        put(listWindows(job, day));
        dayTo[j * days + day] = opens.length;
      }
      return;
    }
    const windows = listWindows(job, job.days[0]?.day ?? 0);
    put(windows);
    windowTo[j] = opens.length;
    open[j] = findOuter(windows).open;
    close[j] = findOuter(windows).close;
    several[j] = windows.length > 1 ? 1 : 0;
  });

  const column = (pick: (entry: (typeof shifts)[number]) => number): Int32Array =>
    Int32Array.from(shifts, pick);
  const prices = (pick: (entry: (typeof shifts)[number]) => number): Float64Array =>
    Float64Array.from(shifts, pick);
  shifts.forEach(({ shift }, r) => {
    place[jobs + 2 * r] = shift.startPlace;
    place[jobs + 2 * r + 1] = shift.endPlace;
  });
  const named = new Set<number>();
  for (const job of problem.jobs) {
    if (job.preferred !== undefined) named.add(job.preferred.vehicle);
    if (job.fixed?.vehicle !== undefined) named.add(job.fixed.vehicle);
  }
  const kindByKey = new Map<string, number>();
  const kindOf = Int32Array.from(shifts, ({ vehicle, index, shift }) => {
    const key = [
      named.has(index) ? index : -1,
      vehicle.skills,
      vehicle.capacity,
      shift.day,
      shift.startPlace,
      shift.endPlace,
      shift.startSeconds,
      shift.regularEndSeconds,
      shift.latestEndSeconds,
      shift.longestSeconds ?? 'any length',
      shift.useCost,
      shift.secondCost,
      shift.overtimeSecondCost,
      ...(shift.break === undefined ? [] : Object.values(shift.break)),
    ].join(' ');
    const kind = kindByKey.get(key) ?? kindByKey.size;
    kindByKey.set(key, kind);
    return kind;
  });

  const isHeld = new Uint8Array(jobs);
  for (const { shift } of shifts) for (const j of shift.frozen ?? []) isHeld[j] = 1;

  const bare = {
    jobs,
    routes,
    nodes,
    days,
    place,
    service,
    open,
    close,
    load,
    skills,
    several,
    windowFrom,
    windowTo,
    varies,
    dayFrom,
    dayTo,
    windowOpen: Int32Array.from(opens),
    windowClose: Int32Array.from(closes),
    dayCost,
    dayCount,
    penalty,
    preferred,
    otherwise,
    fixedVehicle,
    vehicleOf: column(({ index }) => index),
    dayOf: column(({ shift }) => shift.day),
    vehicleSkills: column(({ vehicle }) => vehicle.skills),
    capacity: column(({ vehicle }) => vehicle.capacity),
    startSeconds: column(({ shift }) => shift.startSeconds),
    regularEnd: column(({ shift }) => shift.regularEndSeconds),
    latestEnd: column(({ shift }) => shift.latestEndSeconds),
    hasLongest: Uint8Array.from(shifts, ({ shift }) => (shift.longestSeconds === undefined ? 0 : 1)),
    longest: column(({ shift }) => shift.longestSeconds ?? MAX_SECONDS),
    useCost: prices(({ shift }) => shift.useCost),
    secondCost: prices(({ shift }) => shift.secondCost),
    overtimeCost: prices(({ shift }) => shift.overtimeSecondCost),
    hasBreak: Uint8Array.from(shifts, ({ shift }) => (shift.break === undefined ? 0 : 1)),
    breakEarliest: column(({ shift }) => shift.break?.earliestSeconds ?? 0),
    breakLatest: column(({ shift }) => shift.break?.latestSeconds ?? 0),
    breakSeconds: column(({ shift }) => shift.break?.seconds ?? 0),
    breakUnpaid: Uint8Array.from(shifts, ({ shift }) => (shift.break?.paid === false ? 1 : 0)),
    kindOf,
    kinds: kindByKey.size,
    frozen: shifts.map(({ shift }) => shift.frozen ?? []),
    isHeld,
    seconds,
    cost,
  };
  const assignCost = createAssignCost(bare);
  const withCost = { ...bare, assignCost };
  const groups = createGroups(problem, createMayTake(withCost));
  const groupOf = new Int32Array(jobs).fill(-1);
  groups.forEach((group, g) => {
    for (const j of group.jobs) groupOf[j] = g;
  });
  const reasons = findReasons(withCost, groups);
  const hopeless = Uint8Array.from(reasons, (reason) =>
    reason === undefined || reason === 'outOfReach' ? 0 : 1,
  );
  for (const group of groups) if (group.patterns.length === 0) for (const j of group.jobs) hopeless[j] = 1;
  const near = createNear({ ...withCost, groupOf }, problem.travel, hopeless, nearest);
  return { ...withCost, groups, groupOf, reasons, hopeless, ...near };
}

function differsByDay(job: Job): boolean {
  return job.fixed?.startSeconds === undefined && job.days.some(({ windows }) => windows !== undefined);
}

function findOuter(windows: readonly TimeWindow[]): TimeWindow {
  return { open: windows[0]?.open ?? 0, close: windows[windows.length - 1]?.close ?? MAX_SECONDS };
}

export type BareTables = Omit<
  Tables,
  'assignCost' | 'groups' | 'groupOf' | 'reasons' | 'hopeless' | 'near' | 'nearCount'
>;

function createAssignCost(tables: BareTables): (job: number, route: number) => number {
  const {
    jobs,
    routes,
    days,
    dayCost,
    dayOf,
    skills,
    vehicleSkills,
    fixedVehicle,
    vehicleOf,
    preferred,
    otherwise,
  } = tables;
  const { load, capacity } = tables;
  const compute = (job: number, route: number): number => {
    const price = dayCost[job * days + (dayOf[route] ?? 0)] ?? NEVER;
    if (price < 0) return NEVER;
    const needed = skills[job] ?? 0;
    if ((needed & (vehicleSkills[route] ?? 0)) !== needed) return NEVER;
    if ((load[job] ?? 0) > (capacity[route] ?? 0)) return NEVER;
    const vehicle = vehicleOf[route] ?? 0;
    const only = fixedVehicle[job] ?? -1;
    if (only >= 0 && only !== vehicle) return NEVER;
    const wished = preferred[job] ?? -1;
    return wished >= 0 && wished !== vehicle ? price + (otherwise[job] ?? 0) : price;
  };
  if (jobs * routes > ASSIGN_PAIRS) return compute;
  const table = new Float64Array(jobs * routes);
  for (let job = 0; job < jobs; job += 1)
    for (let route = 0; route < routes; route += 1) table[job * routes + route] = compute(job, route);
  return (job, route) => table[job * routes + route] ?? NEVER;
}
