import type { Day } from '../units/index.ts';
import { type ChainState, fewestFrom, isDone, passBy, serveLook, serveYearly } from './visitChains.ts';
import type { BoundClass } from './visitSearch.ts';

export interface Step {
  readonly place: number;
  readonly service: 'look' | 'yearly';
}

export interface Assignment {
  /** sum of the days between each service and its target */
  readonly fromTargets: number;
  readonly steps: readonly Step[];
}

/** Steps linked backwards, so that paths share their beginnings. */
interface Trail {
  readonly step: Step;
  readonly before: Trail | undefined;
}

interface Path {
  readonly state: ChainState;
  readonly cost: number;
  readonly trail: Trail | undefined;
}

/**
 * What one class has done at which of these visits, as near to the targets as these visits allow; undefined when they
 * cannot keep it. Every state is followed, and of equal ones the path nearest to the targets.
 */
export function assignClass(
  one: BoundClass,
  places: readonly number[],
  days: readonly Day[],
): Assignment | undefined {
  let paths: readonly Path[] = [{ state: one.start, cost: 0, trail: undefined }];
  for (let visit = 0; visit < places.length && paths.length > 0; visit += 1) {
    paths = visitOnce(one, paths, places[visit] ?? days.length, places.length - visit - 1, days);
  }
  let best: Path | undefined;
  for (const path of paths) {
    if (isDone(path.state, one, one.lateAllowed) && (best === undefined || path.cost < best.cost))
      best = path;
  }
  return best === undefined ? undefined : { fromTargets: best.cost, steps: toSteps(best.trail) };
}

function visitOnce(
  one: BoundClass,
  paths: readonly Path[],
  place: number,
  left: number,
  days: readonly Day[],
): readonly Path[] {
  const day = days[place] ?? 0;
  const next: Path[] = [];
  const keep = (state: ChainState | undefined, cost: number, path: Path, service?: Step['service']): void => {
    if (state === undefined || state.late > one.lateAllowed || fewestFrom(state, one) > left) return;
    const known = next.findIndex((other) => isSame(other.state, state));
    const equal = next[known];
    if (equal !== undefined && equal.cost <= cost) return;
    const trail = service === undefined ? path.trail : { step: { place, service }, before: path.trail };
    if (equal === undefined) next.push({ state, cost, trail });
    else next[known] = { state, cost, trail };
  };
  for (const path of paths) {
    const { state, cost } = path;
    keep(passBy(state, place), cost, path);
    keep(serveLook(state, one, place), cost + Math.abs(day - state.lookTarget), path, 'look');
    keep(serveYearly(state, one, place), cost + Math.abs(day - state.yearTarget), path, 'yearly');
  }
  return next;
}

/** Targets tell apart what windows cut off by the horizon's end do not. */
function isSame(a: ChainState, b: ChainState): boolean {
  return (
    a.lookTarget === b.lookTarget &&
    a.yearTarget === b.yearTarget &&
    a.lookFirst === b.lookFirst &&
    a.lookLast === b.lookLast &&
    a.yearFirst === b.yearFirst &&
    a.yearLast === b.yearLast &&
    a.lookLate === b.lookLate &&
    a.late === b.late
  );
}

function toSteps(trail: Trail | undefined): readonly Step[] {
  const steps: Step[] = [];
  for (let rest = trail; rest !== undefined; rest = rest.before) steps.push(rest.step);
  return steps.reverse();
}

/** Usable days by which visits are moved, coarse before fine. */
const STRIDES = [16, 8, 4, 2, 1] as const;

/**
 * Moves one visit, or one and all after it, by some days while that brings the services nearer to their targets. The
 * number of visits stays; a best arrangement of all visits at once is not promised.
 */
export function settleOnTargets(
  classes: readonly BoundClass[],
  found: readonly number[],
  days: readonly Day[],
): readonly number[] {
  let places = found;
  let least = costOf(classes, places, days, Number.POSITIVE_INFINITY);
  const tryMove = (first: number, end: number, by: number): boolean => {
    const moved = places.map((place, visit) => (visit >= first && visit < end ? place + by : place));
    const isInOrder = moved.every((place, visit) => place > (moved[visit - 1] ?? -1) && place < days.length);
    if (!isInOrder) return false;
    const cost = costOf(classes, moved, days, least);
    if (cost >= least) return false;
    least = cost;
    places = moved;
    return true;
  };
  for (const stride of STRIDES) {
    for (let first = 0; first < places.length; first += 1) {
      for (const by of [-stride, stride]) {
        while (tryMove(first, places.length, by));
        while (tryMove(first, first + 1, by));
      }
    }
  }
  return places;
}

/** Given up, as infinite, where it cannot come under `under`. */
function costOf(
  classes: readonly BoundClass[],
  places: readonly number[],
  days: readonly Day[],
  under: number,
): number {
  let cost = 0;
  for (const one of classes) {
    const assigned = assignClass(one, places, days);
    if (assigned === undefined) return Number.POSITIVE_INFINITY;
    cost += assigned.fromTargets;
    if (cost >= under) return Number.POSITIVE_INFINITY;
  }
  return cost;
}
