import type { Tables } from './tables.ts';
import { earliestStart, latestStart, type Windows } from './windows.ts';

/** A time no route reaches: there is no way. */
export const NO_WAY = 1_500_000_000;

/** What is kept at each node of a route with a break, beside the times of `Routes`, which are then those as if there were none. */
export interface BreakTimes {
  /** Earliest departure with the break behind; NO_WAY where it cannot be. */
  readonly departRested: Int32Array;
  /** Latest arrival with the break still to come (or not needed) that keeps the rest of the route in time; -1 where none does. */
  readonly latestFree: Int32Array;
}

export interface Breaks extends BreakTimes {
  /** When a break that may begin at `time` is over; NO_WAY when it is too late for it. */
  readonly restFrom: (route: number, time: number) => number;
  /** Brings the times of a route up to date, after those without a break. */
  readonly refresh: (route: number) => void;
  /** Cost of the hours when the route, not yet and already rested, arrives at `node` at these times; infinite where it is late. */
  readonly hoursFrom: (route: number, node: number, free: number, rested: number) => number;
  /** Whether the route is in time with its break. */
  readonly isInTime: (route: number) => boolean;
}

/** The links and times of the routes that breaks are laid into. */
export interface BreakRoutes {
  readonly next: Int32Array;
  readonly prev: Int32Array;
  readonly depart: Int32Array;
  readonly latest: Int32Array;
  readonly legSeconds: Int32Array;
}

/**
 * Breaks by two labels a node, one with the break behind and one without, forwards and backwards, so that an insertion is tested in a
 * few steps however long the route. The break lies on arrival at a stop, after its service, or before driving out.
 */
export function createBreaks(tables: Tables, live: Windows, routes: BreakRoutes): Breaks {
  const { jobs, nodes, service, latestEnd, regularEnd, startSeconds, secondCost, overtimeCost } = tables;
  const { breakEarliest, breakLatest, breakSeconds, breakUnpaid } = tables;
  const { next, prev, depart, latest, legSeconds } = routes;
  const kept = tables.hasBreak.includes(1) ? nodes : 0;
  const departRested = new Int32Array(kept);
  const latestFree = new Int32Array(kept);

  return { departRested, latestFree, restFrom, refresh, hoursFrom, isInTime };

  function restFrom(r: number, time: number): number {
    const begin = Math.max(time, breakEarliest[r] ?? 0);
    return begin <= (breakLatest[r] ?? 0) ? begin + (breakSeconds[r] ?? 0) : NO_WAY;
  }

  function serve(node: number, arrive: number): number {
    const start = arrive >= NO_WAY ? -1 : earliestStart(live, node, arrive);
    return start < 0 ? NO_WAY : start + (service[node] ?? 0);
  }

  function refresh(r: number): void {
    const first = jobs + 2 * r;
    const last = first + 1;
    departRested[first] = restFrom(r, depart[first] ?? 0);
    for (let node = next[first] ?? last; node !== last; node = next[node] ?? last)
      departRested[node] = restedAfter(r, node, prev[node] ?? first);
    const before = prev[last] ?? first;
    departRested[last] = Math.min(NO_WAY, (departRested[before] ?? 0) + (legSeconds[last] ?? 0));

    latestFree[last] = Math.min(latestEnd[r] ?? 0, breakLatest[r] ?? 0);
    for (let node = prev[last] ?? first; node !== first; node = prev[node] ?? first) {
      const after = next[node] ?? last;
      const leg = legSeconds[after] ?? 0;
      const duration = service[node] ?? 0;
      let bound = latestStart(live, node, (latestFree[after] ?? -1) - leg - duration);
      const rested = restBefore(r, (latest[after] ?? -1) - leg);
      if (rested >= 0) bound = Math.max(bound, latestStart(live, node, rested - duration));
      latestFree[node] = Math.max(bound, restBefore(r, latest[node] ?? -1));
    }
  }

  /** The latest begin of a break, or of waiting for it, that is over by `time`; -1 when there is none. */
  function restBefore(r: number, time: number): number {
    const begin = Math.min(breakLatest[r] ?? 0, time - (breakSeconds[r] ?? 0));
    return begin >= (breakEarliest[r] ?? 0) ? begin : -1;
  }

  function restedAfter(r: number, node: number, before: number): number {
    const leg = legSeconds[node] ?? 0;
    const earlier = serve(node, (departRested[before] ?? 0) + leg);
    const onArrival = serve(node, restFrom(r, (depart[before] ?? 0) + leg));
    return Math.min(earlier, onArrival, restFrom(r, depart[node] ?? 0));
  }

  function hoursFrom(r: number, node: number, free: number, rested: number): number {
    while (node < jobs) {
      const onArrival = serve(node, restFrom(r, free));
      free = serve(node, free);
      rested = Math.min(serve(node, rested), onArrival, restFrom(r, free));
      node = next[node] ?? jobs;
      free += legSeconds[node] ?? 0;
      rested += legSeconds[node] ?? 0;
    }
    const bound = latestEnd[r] ?? 0;
    const without =
      free <= Math.min(bound, breakLatest[r] ?? 0) ? hoursAt(r, free, 0) : Number.POSITIVE_INFINITY;
    return rested <= bound
      ? Math.min(without, hoursAt(r, rested, breakUnpaid[r] === 1 ? (breakSeconds[r] ?? 0) : 0))
      : without;
  }

  function hoursAt(r: number, finish: number, unpaid: number): number {
    const hours = (secondCost[r] ?? 0) * (finish - (startSeconds[r] ?? 0) - unpaid);
    return hours + (overtimeCost[r] ?? 0) * Math.max(0, finish - (regularEnd[r] ?? 0));
  }

  function isInTime(r: number): boolean {
    const last = jobs + 2 * r + 1;
    const bound = latestEnd[r] ?? 0;
    return (
      (depart[last] ?? 0) <= Math.min(bound, breakLatest[r] ?? 0) || (departRested[last] ?? NO_WAY) <= bound
    );
  }
}
