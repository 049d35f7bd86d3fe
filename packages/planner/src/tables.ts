import { MAX_SECONDS, worstJob, worstShift } from './check.ts';
import { createNear } from './near.ts';
import type { Problem, UnassignedReason } from './problem.ts';

/** Up to this many places a travel function is asked once for every pair and kept as a matrix (64 MB at most). */
const MATRIX_PLACES = 4000;
/** Up to this many job-route pairs the cost of putting the one on the other is tabled. */
const ASSIGN_PAIRS = 4_000_000;
/** Marks a pair that may not be. */
export const NEVER = -1;

/**
 * A checked problem on typed arrays. Nodes: jobs are 0 to `jobs` - 1; route r begins at node `jobs` + 2 r and ends at `jobs` + 2 r + 1.
 * A route is one shift of one vehicle. Where a job has several windows, `open` and `close` are the outer ends.
 */
export interface Tables {
  readonly jobs: number;
  readonly routes: number;
  readonly nodes: number;
  readonly days: number;
  readonly place: Int32Array;
  readonly service: Int32Array;
  readonly open: Int32Array;
  readonly close: Int32Array;
  readonly load: Int32Array;
  readonly skills: Int32Array;
  /** 1 where a job has more than one window; its windows are `windowFrom[j]` to `windowFrom[j + 1]` - 1. */
  readonly several: Uint8Array;
  readonly windowFrom: Int32Array;
  readonly windowOpen: Int32Array;
  readonly windowClose: Int32Array;
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
  readonly useCost: Float64Array;
  readonly secondCost: Float64Array;
  readonly overtimeCost: Float64Array;
  /** Routes that differ in nothing share a kind: only one empty route of a kind need be tried. */
  readonly kindOf: Int32Array;
  readonly kinds: number;
  readonly frozen: readonly (readonly number[])[];
  readonly seconds: Leg;
  readonly cost: Leg;
  /** Cost of putting a job on a route, beside driving and hours; NEVER where it may not be. */
  readonly assignCost: (job: number, route: number) => number;
  /** `near[job * nearCount + k]` is the k-th nearest job that could share a route, -1 after the last. */
  readonly near: Int32Array;
  readonly nearCount: number;
}

/** Travel between nodes; `matrix` is by place, `places` its stride, undefined when only `between` can tell. */
export interface Leg {
  readonly places: number;
  readonly matrix: Int32Array | undefined;
  /** The matrix turned about, so that a job's legs in both directions lie in one row each. */
  readonly turned: Int32Array | undefined;
  readonly between: (fromPlace: number, toPlace: number) => number;
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
  const windowFrom = new Int32Array(jobs + 1);
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
    for (const window of job.windows) {
      opens.push(window.open);
      closes.push(window.close);
    }
    windowFrom[j + 1] = opens.length;
    const first = job.windows[0];
    const last = job.windows[job.windows.length - 1];
    if (first !== undefined && last !== undefined) {
      open[j] = first.open;
      close[j] = last.close;
    }
    several[j] = job.windows.length > 1 ? 1 : 0;
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
      shift.useCost,
      shift.secondCost,
      shift.overtimeSecondCost,
    ].join(' ');
    const kind = kindByKey.get(key) ?? kindByKey.size;
    kindByKey.set(key, kind);
    return kind;
  });

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
    useCost: prices(({ shift }) => shift.useCost),
    secondCost: prices(({ shift }) => shift.secondCost),
    overtimeCost: prices(({ shift }) => shift.overtimeSecondCost),
    kindOf,
    kinds: kindByKey.size,
    frozen: shifts.map(({ shift }) => shift.frozen ?? []),
    seconds,
    cost,
  };
  const assignCost = createAssignCost(bare);
  const withCost = { ...bare, assignCost };
  const reasons = findReasons(withCost);
  const hopeless = Uint8Array.from(reasons, (reason) =>
    reason === undefined || reason === 'outOfReach' ? 0 : 1,
  );
  return { ...withCost, reasons, hopeless, ...createNear(withCost, problem.travel, hopeless, nearest) };
}

export type BareTables = Omit<Tables, 'assignCost' | 'reasons' | 'hopeless' | 'near' | 'nearCount'>;

function createLegs(problem: Problem): { readonly seconds: Leg; readonly cost: Leg } {
  const { travel } = problem;
  const { places } = travel;
  if (travel.kind === 'matrix') {
    const seconds = matrixLeg(places, travel.seconds);
    return { seconds, cost: travel.cost === undefined ? seconds : matrixLeg(places, travel.cost) };
  }
  const leg = (ask: (from: number, to: number) => number): Leg => {
    if (places > MATRIX_PLACES) return { places, matrix: undefined, turned: undefined, between: ask };
    const matrix = new Int32Array(places * places);
    for (let from = 0, at = 0; from < places; from += 1)
      for (let to = 0; to < places; to += 1, at += 1) {
        const value = ask(from, to);
        // The check at the door asks for a sample only; here every pair is at hand.
        if (!Number.isInteger(value) || value < 0 || value > travel.most)
          throw new RangeError(
            `travel: from place ${from} to place ${to} it answers ${value}; give a whole number from 0 to ${travel.most}`,
          );
        matrix[at] = value;
      }
    return matrixLeg(places, matrix);
  };
  const seconds = leg(travel.seconds);
  return { seconds, cost: travel.cost === undefined ? seconds : leg(travel.cost) };
}

function matrixLeg(places: number, matrix: Int32Array): Leg {
  let same = true;
  for (let from = 0; from < places && same; from += 1)
    for (let to = 0; to < from && same; to += 1)
      same = matrix[from * places + to] === matrix[to * places + from];
  let turned = matrix;
  if (!same) {
    turned = new Int32Array(matrix.length);
    for (let from = 0; from < places; from += 1)
      for (let to = 0; to < places; to += 1) turned[to * places + from] = matrix[from * places + to] ?? 0;
  }
  return { places, matrix, turned, between: (from, to) => matrix[from * places + to] ?? 0 };
}

function findDearest(leg: Leg): number {
  let dearest = 0;
  for (const value of leg.matrix ?? []) if (value > dearest) dearest = value;
  return dearest;
}

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

/** For each job, why no empty route could do it; undefined where one could. */
function findReasons(
  tables: BareTables & Pick<Tables, 'assignCost'>,
): readonly (UnassignedReason | undefined)[] {
  const { jobs, routes, kinds, kindOf, assignCost } = tables;
  const firstOfKind = new Int32Array(kinds).fill(-1);
  for (let r = routes - 1; r >= 0; r -= 1) firstOfKind[kindOf[r] ?? 0] = r;
  const representatives = [...firstOfKind];
  const reasons: (UnassignedReason | undefined)[] = [];
  for (let j = 0; j < jobs; j += 1) {
    const fits = representatives.some((r) => assignCost(j, r) >= 0 && reachesAlone(tables, j, r));
    reasons.push(fits ? undefined : reasonFor(tables, j, representatives));
  }
  return reasons;
}

function reasonFor(
  tables: BareTables & Pick<Tables, 'assignCost'>,
  j: number,
  routes: readonly number[],
): UnassignedReason {
  const needed = tables.skills[j] ?? 0;
  const only = tables.fixedVehicle[j] ?? -1;
  const onDay = routes.filter(
    (r) => (tables.dayCost[j * tables.days + (tables.dayOf[r] ?? 0)] ?? NEVER) >= 0,
  );
  if (onDay.length === 0) return 'noShiftOnItsDays';
  const skilled = onDay.filter((r) => (needed & (tables.vehicleSkills[r] ?? 0)) === needed);
  if (skilled.length === 0) return 'noVehicleWithSkills';
  const promised = skilled.filter((r) => only < 0 || only === tables.vehicleOf[r]);
  if (promised.length === 0) return 'promisedVehicleOff';
  return promised.every((r) => (tables.load[j] ?? 0) > (tables.capacity[r] ?? 0))
    ? 'tooMuchLoad'
    : 'outOfReach';
}

function reachesAlone(tables: BareTables, j: number, r: number): boolean {
  const { place, jobs, seconds } = tables;
  const at = place[j] ?? 0;
  const arrive = (tables.startSeconds[r] ?? 0) + seconds.between(place[jobs + 2 * r] ?? 0, at);
  const start = earliestStart(tables, j, arrive);
  const back = seconds.between(at, place[jobs + 2 * r + 1] ?? 0);
  return start >= 0 && start + (tables.service[j] ?? 0) + back <= (tables.latestEnd[r] ?? 0);
}

type Windows = Pick<Tables, 'open' | 'close' | 'several' | 'windowFrom' | 'windowOpen' | 'windowClose'>;

/** When service starts after arriving at `arrive`; -1 when the last window has closed. */
export function earliestStart(tables: Windows, j: number, arrive: number): number {
  if (arrive > (tables.close[j] ?? 0)) return -1;
  const opening = tables.open[j] ?? 0;
  if (tables.several[j] !== 1) return Math.max(arrive, opening);
  const end = tables.windowFrom[j + 1] ?? 0;
  for (let w = tables.windowFrom[j] ?? 0; w < end; w += 1)
    if (arrive <= (tables.windowClose[w] ?? 0)) return Math.max(arrive, tables.windowOpen[w] ?? 0);
  return -1;
}

/** The latest start of service no later than `bound`; -1 when the first window opens after it. */
export function latestStart(tables: Windows, j: number, bound: number): number {
  if (bound < (tables.open[j] ?? 0)) return -1;
  if (tables.several[j] !== 1) return Math.min(bound, tables.close[j] ?? 0);
  const first = tables.windowFrom[j] ?? 0;
  for (let w = (tables.windowFrom[j + 1] ?? 0) - 1; w >= first; w -= 1)
    if ((tables.windowOpen[w] ?? 0) <= bound) return Math.min(bound, tables.windowClose[w] ?? 0);
  return -1;
}
