import { NO_WAY } from './breaks.ts';
import { MAX_SECONDS } from './check.ts';
import type { BareTables } from './tables.ts';
import { earliestStart, type Windows } from './windows.ts';

/** Routes that may leave later than their shift starts, and must be back within its longest time out. Kept at each of their nodes: */
export interface Longest {
  /** Seconds out when done at the node, without any waiting. */
  readonly lead: Int32Array;
  /** The latest leaving that keeps the outer ends of the windows up to the node. */
  readonly leaveBy: Int32Array;
  /** Brings the times of a route up to date, after those of `Routes`. */
  readonly refresh: (route: number) => void;
  /** What the hours of the route cost, back within its longest time out; infinite where it cannot be. */
  readonly hours: (route: number) => number;
  /** The same with a job put in after `before`: as many steps as the route has stops, for routes with a break or several windows. */
  readonly hoursWith: (job: number, before: number, route: number) => number;
}

/** The links and times of the routes that the longest time out is held on. */
export interface LongestRoutes {
  readonly next: Int32Array;
  readonly depart: Int32Array;
  readonly legSeconds: Int32Array;
  readonly severalOn: Int32Array;
}

/**
 * Where every job has one window, a route that leaves at `t` is back at max(t + busy, floor) (Vidal et al. 2013), so it is out shortest when
 * it leaves as late as keeps its windows (Savelsbergh 1992): max(busy, earliest end - latest leaving), and still ends as early as can be.
 */
export function createLongest(tables: BareTables, live: Windows, routes: LongestRoutes): Longest {
  const { jobs, nodes, service, latestEnd, hasLongest, longest, hasBreak } = tables;
  const { next, depart, legSeconds, severalOn } = routes;
  const any = hasLongest.includes(1);
  const lead = new Int32Array(any ? nodes : 0);
  const leaveBy = new Int32Array(any ? nodes : 0);
  const cost = new Float64Array(any ? tables.routes : 0);
  const chain = new Int32Array(any ? jobs : 0);
  const hoursWithin = createHoursWithin(tables, live);

  return { lead, leaveBy, refresh, hours: (r) => cost[r] ?? 0, hoursWith };

  function refresh(r: number): void {
    const first = jobs + 2 * r;
    const last = first + 1;
    let busy = 0;
    let bound = MAX_SECONDS;
    lead[first] = busy;
    leaveBy[first] = bound;
    let count = 0;
    for (let node = next[first] ?? last; node !== last; node = next[node] ?? last) {
      busy += legSeconds[node] ?? 0;
      bound = Math.min(bound, (live.close[node] ?? 0) - busy);
      busy += service[node] ?? 0;
      lead[node] = busy;
      leaveBy[node] = bound;
      chain[count] = node;
      count += 1;
    }
    busy += legSeconds[last] ?? 0;
    bound = Math.min(bound, (latestEnd[r] ?? 0) - busy);
    if (hasBreak[r] === 1 || (severalOn[r] ?? 0) > 0) cost[r] = hoursWithin(r, chain, count);
    else {
      const finish = depart[last] ?? 0;
      const shortest = Math.max(busy, finish - bound);
      cost[r] = shortest <= (longest[r] ?? 0) ? hoursAt(tables, r, finish, 0) : Number.POSITIVE_INFINITY;
    }
  }

  function hoursWith(job: number, before: number, r: number): number {
    const first = jobs + 2 * r;
    const last = first + 1;
    let count = 0;
    for (let node = first; node !== last; node = next[node] ?? last) {
      if (node !== first) {
        chain[count] = node;
        count += 1;
      }
      if (node !== before) continue;
      chain[count] = job;
      count += 1;
    }
    return hoursWithin(r, chain, count);
  }
}

/**
 * What the hours of a route cost at least when it does the first `count` jobs of `chain` and is back within its longest time out; infinite
 * where it cannot be. Exact with a break and several windows.
 */
export function createHoursWithin(
  tables: BareTables,
  live: Windows,
): (route: number, chain: Int32Array, count: number) => number {
  const { jobs, place, service, seconds, startSeconds, latestEnd, longest } = tables;
  const { hasBreak, breakEarliest, breakLatest, breakSeconds, breakUnpaid } = tables;
  const legs = new Int32Array(jobs + 1);
  let route = 0;
  let list: Int32Array = legs;
  let size = 0;

  return (r, chain, count) => {
    route = r;
    list = chain;
    size = count;
    const start = startSeconds[r] ?? 0;
    const end = latestEnd[r] ?? 0;
    const busy = measure();
    if (hasBreak[r] !== 1) return hoursAt(tables, r, findEnd(unrested, start, end, busy), 0);
    const rest = breakSeconds[r] ?? 0;
    // Rested before leaving, or on the way; or back before the break is due.
    const rested = Math.min(
      findEnd(unrested, restFrom(start), end, busy),
      findEnd(restedOnTheWay, start, end, busy + rest),
    );
    const without = findEnd(unrested, start, Math.min(end, breakLatest[r] ?? 0), busy);
    return Math.min(
      hoursAt(tables, r, without, 0),
      hoursAt(tables, r, rested, breakUnpaid[r] === 1 ? rest : 0),
    );
  };

  /** Lays out the legs; the seconds out without any waiting. */
  function measure(): number {
    let busy = 0;
    let at = place[jobs + 2 * route] ?? 0;
    for (let k = 0; k <= size; k += 1) {
      const node = k === size ? jobs + 2 * route + 1 : (list[k] ?? 0);
      const to = place[node] ?? 0;
      legs[k] = seconds.between(at, to);
      busy += (legs[k] ?? 0) + (k === size ? 0 : (service[node] ?? 0));
      at = to;
    }
    return busy;
  }

  /**
   * The earliest end within the longest time out; NO_WAY where there is none. Leaving later never ends earlier, so what ends at `end` must leave
   * at `end - longest` or later. Each round waits for another opening, or is the last: a way without waiting is as short as can be.
   */
  function findEnd(endOf: (leave: number) => number, from: number, latest: number, busy: number): number {
    const out = longest[route] ?? 0;
    if (busy > out) return NO_WAY;
    for (let leave = from; ; ) {
      const end = endOf(leave);
      if (end > latest) return NO_WAY;
      if (end - leave <= out) return end;
      leave = end - out;
    }
  }

  function unrested(leave: number): number {
    let time = leave;
    for (let k = 0; k < size && time < NO_WAY; k += 1) time = serve(list[k] ?? 0, time + (legs[k] ?? 0));
    return time + (legs[size] ?? 0);
  }

  function restedOnTheWay(leave: number): number {
    let free = leave;
    let rested = NO_WAY;
    for (let k = 0; k < size; k += 1) {
      const node = list[k] ?? 0;
      const leg = legs[k] ?? 0;
      const onArrival = serve(node, restFrom(free + leg));
      free = serve(node, free + leg);
      rested = Math.min(serve(node, rested + leg), onArrival, restFrom(free));
    }
    return rested + (legs[size] ?? 0);
  }

  function serve(node: number, arrive: number): number {
    const start = arrive >= NO_WAY ? -1 : earliestStart(live, node, arrive);
    return start < 0 ? NO_WAY : start + (service[node] ?? 0);
  }

  function restFrom(time: number): number {
    const begin = Math.max(time, breakEarliest[route] ?? 0);
    return begin <= (breakLatest[route] ?? 0) ? begin + (breakSeconds[route] ?? 0) : NO_WAY;
  }
}

function hoursAt(tables: BareTables, r: number, finish: number, unpaid: number): number {
  if (finish >= NO_WAY) return Number.POSITIVE_INFINITY;
  const { startSeconds, regularEnd, secondCost, overtimeCost } = tables;
  const hours = (secondCost[r] ?? 0) * (finish - (startSeconds[r] ?? 0) - unpaid);
  return hours + (overtimeCost[r] ?? 0) * Math.max(0, finish - (regularEnd[r] ?? 0));
}
