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

interface Path {
  readonly state: ChainState;
  readonly cost: number;
  readonly steps: readonly Step[];
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
  let paths: readonly Path[] = [{ state: one.start, cost: 0, steps: [] }];
  places.forEach((place, index) => {
    const left = places.length - index - 1;
    const day = days[place] ?? 0;
    const byState = new Map<string, Path>();
    const keep = (state: ChainState | undefined, cost: number, steps: readonly Step[]): void => {
      if (state === undefined || state.late > one.lateAllowed || fewestFrom(state, one) > left) return;
      const key = Object.values(state).join(',');
      const known = byState.get(key);
      if (known === undefined || cost < known.cost) byState.set(key, { state, cost, steps });
    };
    for (const { state, cost, steps } of paths) {
      keep(passBy(state, place), cost, steps);
      const fromLook = Math.abs(day - state.lookTarget);
      const fromYear = Math.abs(day - state.yearTarget);
      keep(serveLook(state, one, place), cost + fromLook, [...steps, { place, service: 'look' }]);
      keep(serveYearly(state, one, place), cost + fromYear, [...steps, { place, service: 'yearly' }]);
    }
    paths = [...byState.values()];
  });
  let best: Path | undefined;
  for (const path of paths) {
    if (isDone(path.state, one, one.lateAllowed) && (best === undefined || path.cost < best.cost))
      best = path;
  }
  return best === undefined ? undefined : { fromTargets: best.cost, steps: best.steps };
}

/**
 * Moves one visit at a time to the day that brings all services nearest to their targets, until no move helps or
 * `rounds` are over. The number of visits stays; a best arrangement of all visits at once is not promised.
 */
export function settleOnTargets(
  classes: readonly BoundClass[],
  found: readonly number[],
  days: readonly Day[],
  rounds: number,
): readonly number[] {
  const costOf = (places: readonly number[]): number => {
    let cost = 0;
    for (const one of classes) {
      const assigned = assignClass(one, places, days);
      if (assigned === undefined) return Number.POSITIVE_INFINITY;
      cost += assigned.fromTargets;
    }
    return cost;
  };
  let places = found;
  let least = costOf(places);
  for (let round = 0; round < rounds; round += 1) {
    const before = least;
    for (let visit = places.length - 1; visit >= 0; visit -= 1) {
      const from = (places[visit - 1] ?? -1) + 1;
      const to = (places[visit + 1] ?? days.length) - 1;
      for (let place = from; place <= to; place += 1) {
        const moved = places.with(visit, place);
        const cost = costOf(moved);
        if (cost < least) {
          least = cost;
          places = moved;
        }
      }
    }
    if (least === before) break;
  }
  return places;
}
