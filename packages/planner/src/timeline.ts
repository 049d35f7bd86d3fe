import type { Break, Job, Problem, Shift, Stop, TakenBreak, TimeWindow } from './problem.ts';

/** When a route is where. Late stops begin on arrival. */
export interface Timeline {
  readonly stops: readonly Stop[];
  readonly leaveSeconds: number;
  readonly endSeconds: number;
  readonly break?: TakenBreak;
  /** The route needs its break and has no room for it. */
  readonly breakMissed: boolean;
}

/** How the break came to lie before the departure from a stop. */
type Taken = 'never' | 'earlier' | 'onArrival' | 'afterService';

/** The windows of a job on a day: those of its promise, of the day, or its own. */
export function listWindows(job: Job, day: number): readonly TimeWindow[] {
  const start = job.fixed?.startSeconds;
  if (start !== undefined) return [{ open: start, close: start }];
  return job.days.find((allowed) => allowed.day === day)?.windows ?? job.windows;
}

/** Cost of the hours of a route: its time from the start of the shift (without an unpaid break) and its overtime. */
export function findHoursCost(shift: Shift, endSeconds: number, breakTaken: boolean): HoursCost {
  const unpaid = breakTaken && shift.break?.paid === false ? shift.break.seconds : 0;
  const overtimeSeconds = Math.max(0, endSeconds - shift.regularEndSeconds);
  return {
    hours: shift.secondCost * (endSeconds - shift.startSeconds - unpaid),
    overtime: shift.overtimeSecondCost * overtimeSeconds,
    overtimeSeconds,
  };
}

export interface HoursCost {
  readonly hours: number;
  readonly overtime: number;
  readonly overtimeSeconds: number;
}

/**
 * The earliest times at which a shift can do these jobs in this order, leaving at `startSeconds` or after a break. Where there is a break
 * it lies where the hours cost least; stops are late only where every place of the break makes one late.
 */
export function findEarliest(problem: Problem, shift: Shift, jobs: readonly number[]): Timeline {
  const rest = shift.break;
  if (rest === undefined) return walk(problem, shift, jobs, undefined, []);
  for (const strict of [true, false]) {
    const { taken, freeEnd, restedEnd } = placeBreak(problem, shift, jobs, rest, { strict, first: true });
    const free = walk(problem, shift, jobs, undefined, []);
    const cost = (end: number, breakTaken: boolean): number => {
      const { hours, overtime } = findHoursCost(shift, end, breakTaken);
      return hours + overtime;
    };
    const mayDoWithout = freeEnd <= rest.latestSeconds;
    if (mayDoWithout && (restedEnd === LATE || cost(freeEnd, false) <= cost(restedEnd, true))) return free;
    if (restedEnd < LATE) return walk(problem, shift, jobs, rest, taken);
    if (!strict) return { ...free, breakMissed: !mayDoWithout };
  }
  throw new Error('both passes of the break are over');
}

/** A time that cannot be kept. */
export const LATE = Number.POSITIVE_INFINITY;

interface Placed {
  readonly taken: readonly Taken[];
  readonly freeEnd: number;
  readonly restedEnd: number;
}

/**
 * Earliest departures from each stop without and with the break taken. `strict`: a late stop or end is no way at all; `first`: the break may
 * lie before driving out.
 */
export function placeBreak(
  problem: Problem,
  shift: Shift,
  jobs: readonly number[],
  rest: Break,
  { strict, first }: { readonly strict: boolean; readonly first: boolean },
): Placed {
  const restFrom = (time: number): number => {
    const begin = Math.max(time, rest.earliestSeconds);
    return begin <= rest.latestSeconds ? begin + rest.seconds : LATE;
  };
  let at = shift.startPlace;
  let free = shift.startSeconds;
  let rested = first ? restFrom(free) : LATE;
  const taken: Taken[] = [rested < LATE ? 'afterService' : 'never'];
  for (const number of jobs) {
    const job = getJob(problem, number);
    const windows = listWindows(job, shift.day);
    const serve = (arrive: number): number => {
      if (arrive === LATE) return LATE;
      const start = findStart(windows, arrive);
      return start === undefined && strict ? LATE : (start ?? arrive) + job.serviceSeconds;
    };
    const drive = secondsBetween(problem, at, job.place);
    const arrive = free + drive;
    free = serve(arrive);
    const ways = [
      ['earlier', serve(rested + drive)],
      ['onArrival', serve(restFrom(arrive))],
      ['afterService', restFrom(free)],
    ] as const;
    let best: Taken = 'never';
    rested = LATE;
    for (const [way, time] of ways)
      if (time < rested) {
        rested = time;
        best = way;
      }
    taken.push(best);
    at = job.place;
  }
  const home = secondsBetween(problem, at, shift.endPlace);
  const back = (time: number): number =>
    strict && time + home > shift.latestEndSeconds ? LATE : time + home;
  return { taken, freeEnd: back(free), restedEnd: back(rested) };
}

/** The times along a route; `taken` (one for the start and one a stop) says where the break lies: the last one that is not 'earlier'. */
export function walk(
  problem: Problem,
  shift: Shift,
  jobs: readonly number[],
  rest: Break | undefined,
  taken: readonly Taken[],
): Timeline {
  const at = taken.findLastIndex((way) => way !== 'earlier');
  let place = shift.startPlace;
  let time = shift.startSeconds;
  let found: TakenBreak | undefined;
  const take = (): void => {
    if (rest === undefined) return;
    found = { startSeconds: Math.max(time, rest.earliestSeconds), place };
    time = found.startSeconds + rest.seconds;
  };
  if (at === 0) take();
  const leaveSeconds = time;
  const stops: Stop[] = [];
  jobs.forEach((number, position) => {
    const job = getJob(problem, number);
    time += secondsBetween(problem, place, job.place);
    place = job.place;
    const arriveSeconds = time;
    if (at === position + 1 && taken[at] === 'onArrival') take();
    const startSeconds = findStart(listWindows(job, shift.day), time) ?? time;
    stops.push({ job: number, arriveSeconds, startSeconds });
    time = startSeconds + job.serviceSeconds;
    if (at === position + 1 && taken[at] === 'afterService') take();
  });
  const endSeconds = time + secondsBetween(problem, place, shift.endPlace);
  return {
    stops,
    leaveSeconds,
    endSeconds,
    breakMissed: false,
    ...(found === undefined ? {} : { break: found }),
  };
}

/** When service begins after arriving at `arrive`; undefined when the last window has closed. */
export function findStart(windows: readonly TimeWindow[], arrive: number): number | undefined {
  if (windows.length === 0) return arrive;
  const window = windows.find(({ close }) => close >= arrive);
  return window === undefined ? undefined : Math.max(arrive, window.open);
}

/** Throws a RangeError for a number that is not on the problem's list. */
export function getJob(problem: Problem, number: number): Job {
  const job = problem.jobs[number];
  if (job === undefined)
    throw new RangeError(`job ${number} is not 0 to ${problem.jobs.length - 1}; give a job of the problem`);
  return job;
}

export function secondsBetween({ travel }: Problem, from: number, to: number): number {
  return travel.kind === 'matrix'
    ? (travel.seconds[from * travel.places + to] ?? 0)
    : travel.seconds(from, to);
}

export function costBetween(problem: Problem, from: number, to: number): number {
  const { travel } = problem;
  if (travel.cost === undefined) return secondsBetween(problem, from, to);
  return travel.kind === 'matrix' ? (travel.cost[from * travel.places + to] ?? 0) : travel.cost(from, to);
}
