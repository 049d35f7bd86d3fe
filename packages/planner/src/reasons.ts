import { NO_WAY } from './breaks.ts';
import type { GroupTable } from './groups.ts';
import { createHoursWithin } from './longest.ts';
import type { UnassignedReason } from './problem.ts';
import { type BareTables, NEVER, type Tables } from './tables.ts';
import { copyWindows, earliestStart, setWindows, type Windows } from './windows.ts';

/** Whether any route of a day may take a job, in time or not: one out of reach alone may still be reached by way of another. */
export function createMayTake(
  tables: BareTables & Pick<Tables, 'assignCost'>,
): (job: number, day: number) => boolean {
  const { dayOf, assignCost } = tables;
  const representatives = listRepresentatives(tables);
  return (j, day) => representatives.some((r) => dayOf[r] === day && assignCost(j, r) >= 0);
}

/** For each job, why no empty route could do it; undefined where one could. A group without a pattern takes all its jobs along. */
export function findReasons(
  tables: BareTables & Pick<Tables, 'assignCost'>,
  groups: readonly GroupTable[],
): readonly (UnassignedReason | undefined)[] {
  const representatives = listRepresentatives(tables);
  const live = copyWindows(tables);
  const hoursWithin = createHoursWithin(tables, live);
  const inTime = (j: number, r: number): boolean =>
    reachesAlone(tables, live, j, r) &&
    (tables.hasLongest[r] !== 1 || hoursWithin(r, Int32Array.of(j), 1) < Number.POSITIVE_INFINITY);
  const reasons = Array.from({ length: tables.jobs }, (_, j) =>
    representatives.some((r) => tables.assignCost(j, r) >= 0 && inTime(j, r))
      ? undefined
      : reasonFor(tables, j, representatives),
  );
  for (const { jobs, patterns } of groups)
    if (patterns.length === 0)
      for (const j of jobs) if (tables.isHeld[j] === 0) reasons[j] ??= 'noShiftOnItsDays';
  return reasons;
}

function listRepresentatives({ routes, kinds, kindOf }: BareTables): readonly number[] {
  const firstOfKind = new Int32Array(kinds).fill(-1);
  for (let r = routes - 1; r >= 0; r -= 1) firstOfKind[kindOf[r] ?? 0] = r;
  return [...firstOfKind];
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

function reachesAlone(tables: BareTables, live: Windows, j: number, r: number): boolean {
  const { place, jobs, seconds, hasBreak, breakEarliest, breakLatest, breakSeconds } = tables;
  if (tables.varies[j] === 1) setWindows(tables, live, j, tables.dayOf[r] ?? 0);
  const at = place[j] ?? 0;
  const begin = tables.startSeconds[r] ?? 0;
  const drive = seconds.between(place[jobs + 2 * r] ?? 0, at);
  const back = seconds.between(at, place[jobs + 2 * r + 1] ?? 0);
  const latest = tables.latestEnd[r] ?? 0;
  const serve = (arrive: number): number => {
    const start = earliestStart(live, j, arrive);
    return start < 0 ? NO_WAY : start + (tables.service[j] ?? 0);
  };
  const rest = (time: number): number => {
    const from = Math.max(time, breakEarliest[r] ?? 0);
    return from <= (breakLatest[r] ?? 0) ? from + (breakSeconds[r] ?? 0) : NO_WAY;
  };
  const through = serve(begin + drive);
  if (hasBreak[r] !== 1) return through + back <= latest;
  if (through + back <= Math.min(latest, breakLatest[r] ?? 0)) return true;
  return [serve(rest(begin) + drive), serve(rest(begin + drive)), rest(through)].some(
    (time) => time + back <= latest,
  );
}
