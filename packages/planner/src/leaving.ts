import type { Problem, Shift } from './problem.ts';
import {
  findEarliest,
  findHoursCost,
  getJob,
  LATE,
  listWindows,
  placeBreak,
  secondsBetween,
  type Timeline,
  walk,
} from './timeline.ts';

/** One way to lay the break of a shift with a longest time out: nowhere, before leaving, or on the way. */
interface Way {
  /** Leaves no earlier. */
  readonly from: number;
  /** Seconds out without any waiting. */
  readonly busy: number;
  /** The times when it leaves then; undefined when a stop or the end is late. */
  readonly leaveAt: (leave: number) => Timeline | undefined;
}

/**
 * The times at which a shift does these jobs in this order: the earliest, or, where it has a longest time out, those whose hours cost least
 * within it, leaving as late as the same end allows. Where nothing is in time, the earliest times with the latest leaving that
 * makes nothing later.
 */
export function findTimeline(problem: Problem, shift: Shift, jobs: readonly number[]): Timeline {
  const longest = shift.longestSeconds;
  if (longest === undefined) return findEarliest(problem, shift, jobs);
  const timelines = listWays(problem, shift, jobs).flatMap((way): readonly Timeline[] => {
    const found = findWithin(way, longest);
    return found === undefined
      ? []
      : [leaveLate(way.leaveAt, found, ({ endSeconds }) => endSeconds <= found.endSeconds)];
  });
  const costOf = ({ endSeconds, break: rest }: Timeline): number => {
    const { hours, overtime } = findHoursCost(shift, endSeconds, rest !== undefined);
    return hours + overtime;
  };
  const [first, ...others] = timelines;
  if (first !== undefined)
    return others.reduce((best, next) => {
      const dearer = costOf(next) - costOf(best);
      return dearer < 0 || (dearer === 0 && timeOut(next) < timeOut(best)) ? next : best;
    }, first);
  const earliest = findEarliest(problem, shift, jobs);
  const late = sumLate(problem, shift, earliest);
  return leaveLate(
    (startSeconds) => findEarliest(problem, { ...shift, startSeconds }, jobs),
    earliest,
    (next) =>
      next.endSeconds <= earliest.endSeconds &&
      next.breakMissed === earliest.breakMissed &&
      sumLate(problem, shift, next) <= late,
  );
}

function listWays(problem: Problem, shift: Shift, jobs: readonly number[]): readonly Way[] {
  const { break: rest, ...bare } = shift;
  const { startSeconds, latestEndSeconds } = shift;
  const busy = findBusy(problem, shift, jobs);
  const inTime = (timeline: Timeline, latestEnd: number): Timeline | undefined =>
    timeline.endSeconds > latestEnd || sumLate(problem, shift, timeline) > 0 ? undefined : timeline;
  const unrested = (leave: number, latestEnd: number): Timeline | undefined =>
    inTime(walk(problem, { ...bare, startSeconds: leave }, jobs, undefined, []), latestEnd);
  if (rest === undefined)
    return [{ from: startSeconds, busy, leaveAt: (leave) => unrested(leave, latestEndSeconds) }];
  const { earliestSeconds, latestSeconds, seconds } = rest;
  const restedFirst: Way = {
    from: Math.max(startSeconds, earliestSeconds) + seconds,
    busy,
    leaveAt: (leave) => {
      const timeline = unrested(leave, latestEndSeconds);
      const begin = Math.min(latestSeconds, leave - seconds);
      return timeline && { ...timeline, break: { startSeconds: begin, place: shift.startPlace } };
    },
  };
  return [
    {
      from: startSeconds,
      busy,
      leaveAt: (leave) => unrested(leave, Math.min(latestEndSeconds, latestSeconds)),
    },
    ...(startSeconds > latestSeconds ? [] : [restedFirst]),
    {
      from: startSeconds,
      busy: busy + seconds,
      leaveAt: (leave) => {
        const left = { ...shift, startSeconds: leave };
        const { taken, restedEnd } = placeBreak(problem, left, jobs, rest, { strict: true, first: false });
        return restedEnd === LATE
          ? undefined
          : inTime(walk(problem, left, jobs, rest, taken), latestEndSeconds);
      },
    },
  ];
}

/**
 * The earliest end within the longest time out; undefined where there is none. Leaving later never ends earlier, so what ends at `end` must
 * leave at `end - longest` or later. Each round waits for another opening, or is the last: a way without waiting is as short as can be.
 */
function findWithin({ from, busy, leaveAt }: Way, longest: number): Timeline | undefined {
  if (busy > longest) return undefined;
  for (let leave = from; ; ) {
    const timeline = leaveAt(leave);
    if (timeline === undefined || timeOut(timeline) <= longest) return timeline;
    leave = timeline.endSeconds - longest;
  }
}

/** The latest leaving that is still good, by halving: later leaving never turns bad to good. */
function leaveLate(
  leaveAt: (leave: number) => Timeline | undefined,
  timeline: Timeline,
  isGood: (next: Timeline) => boolean,
): Timeline {
  let best = timeline;
  let good = timeline.leaveSeconds;
  let bad = timeline.endSeconds + 1;
  while (bad - good > 1) {
    const middle = Math.floor((good + bad) / 2);
    const next = leaveAt(middle);
    if (next !== undefined && isGood(next)) {
      best = next;
      good = middle;
    } else bad = middle;
  }
  return best;
}

function findBusy(problem: Problem, shift: Shift, jobs: readonly number[]): number {
  let busy = 0;
  let at = shift.startPlace;
  for (const number of jobs) {
    const { place, serviceSeconds } = getJob(problem, number);
    busy += secondsBetween(problem, at, place) + serviceSeconds;
    at = place;
  }
  return busy + secondsBetween(problem, at, shift.endPlace);
}

function sumLate(problem: Problem, shift: Shift, { stops }: Timeline): number {
  return stops.reduce((total, { job, startSeconds }) => {
    const windows = listWindows(getJob(problem, job), shift.day);
    return total + Math.max(0, startSeconds - (windows[windows.length - 1]?.close ?? startSeconds));
  }, 0);
}

function timeOut({ leaveSeconds, endSeconds }: Timeline): number {
  return endSeconds - leaveSeconds;
}
