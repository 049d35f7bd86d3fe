import { type Breaks, createBreaks } from './breaks.ts';
import { createLongest, type Longest } from './longest.ts';
import type { Tables } from './tables.ts';
import { copyWindows, earliestStart, latestStart, setWindows, type Windows } from './windows.ts';

/**
 * The routes under search: linked lists of nodes (see Tables), with what an insertion test needs kept at each node.
 * `latest` is the latest arrival that keeps the rest of the route in time (Savelsbergh 1992); the finish of the rest after
 * arriving at `t` is max(t + `span`, `floor`) (Vidal et al. 2013) where every job has one window.
 * Only sequences that keep every window are ever stored.
 */
export interface Routes {
  readonly next: Int32Array;
  readonly prev: Int32Array;
  /** -1 for a job on no route. */
  readonly routeOf: Int32Array;
  readonly depart: Int32Array;
  readonly latest: Int32Array;
  readonly span: Int32Array;
  readonly floor: Int32Array;
  /** Of the leg that ends at the node. */
  readonly legSeconds: Int32Array;
  /** Cost of the leg that ends at the node. */
  readonly legCost: Float64Array;
  readonly count: Int32Array;
  readonly routeLoad: Int32Array;
  /** Legs, hours, driving out and what its jobs cost there; 0 for an empty route. */
  readonly routeCost: Float64Array;
  readonly hoursCost: Float64Array;
  /** Driving and service, without waiting and breaks: no hours of the route are less. Kept where hours are paid. */
  readonly workSeconds: Int32Array;
  /** Jobs with several windows on the route: their finish is walked, not looked up. */
  readonly severalOn: Int32Array;
  /** 1 where the cost of a route depends on when it ends. */
  readonly paid: Uint8Array;
  /** The node after which jobs may be inserted: the start, or the last frozen job. */
  readonly tail: Int32Array;
  readonly isFrozen: Uint8Array;
  /** Windows of each job on the day of its route. A job on no route may be turned to any day. */
  readonly live: Windows;
  readonly breaks: Breaks;
  readonly longest: Longest;
  readonly empties: Int32Array;
  readonly absent: Int32Array;
  readonly emptyCount: () => number;
  readonly absentCount: () => number;
  /** Cost of all routes and of the penalties of all absent jobs. */
  readonly total: () => number;
  readonly hoursAt: (route: number, finish: number) => number;
  /** Unlinks a job; the route must be refreshed before it is used again. */
  readonly take: (job: number) => void;
  readonly insert: (job: number, after: number, route: number) => void;
  /**
   * Brings times and costs of a route up to date; false when it is not in time, as can happen after taking jobs out where the direct
   * way between two places is slower than the way through a third.
   */
  readonly refresh: (route: number) => boolean;
  /** From here on changes can be undone. */
  readonly mark: () => void;
  readonly undo: () => void;
  /** The routes changed since the mark; good until the next change. */
  readonly touchedRoutes: () => Int32Array;
}

/** A leg not asked for since its ends changed. */
const UNKNOWN = -1;

/** All jobs absent but the frozen ones, which `checkProblem` has passed. */
export function createRoutes(tables: Tables): Routes {
  const { jobs, routes, nodes, place, service, load, penalty, assignCost, varies, dayOf, hasBreak } = tables;
  const { hasLongest } = tables;
  const live = copyWindows(tables);
  const { open, close, several } = live;
  const { startSeconds, regularEnd, latestEnd, useCost, secondCost, overtimeCost } = tables;
  const { matrix: secondsMatrix, between: secondsBetween, places } = tables.seconds;
  const { matrix: costMatrix, between: costBetween } = tables.cost;
  const next = new Int32Array(nodes);
  const prev = new Int32Array(nodes);
  const routeOf = new Int32Array(nodes).fill(-1);
  const depart = new Int32Array(nodes);
  const latest = new Int32Array(nodes);
  const span = new Int32Array(nodes);
  const floor = new Int32Array(nodes);
  const legSeconds = new Int32Array(nodes).fill(UNKNOWN);
  const legCost = new Float64Array(nodes);
  const count = new Int32Array(routes);
  const routeLoad = new Int32Array(routes);
  const routeCost = new Float64Array(routes);
  const hoursCost = new Float64Array(routes);
  const workSeconds = new Int32Array(routes);
  const severalOn = new Int32Array(routes);
  const paid = new Uint8Array(routes);
  const breaks = createBreaks(tables, live, { next, prev, depart, latest, legSeconds });
  const longest = createLongest(tables, live, { next, depart, legSeconds, severalOn });
  const tail = new Int32Array(routes);
  const isFrozen = new Uint8Array(nodes);
  const empties = new Int32Array(routes);
  const emptyAt = new Int32Array(routes).fill(-1);
  const absent = new Int32Array(jobs);
  const absentAt = new Int32Array(jobs).fill(-1);
  const touched = new Int32Array(routes);
  const touchedIn = new Int32Array(routes);
  const savedFrom = new Int32Array(routes + 1);
  const saved = new Int32Array(jobs);
  const savedSeconds = new Int32Array(jobs);
  const savedCost = new Float64Array(jobs);
  const endSeconds = new Int32Array(routes);
  const endCost = new Float64Array(routes);
  let emptyCount = 0;
  let absentCount = 0;
  let total = 0;
  let touchedCount = 0;
  let epoch = 0;

  for (let r = 0; r < routes; r += 1) {
    const first = jobs + 2 * r;
    next[first] = first + 1;
    prev[first + 1] = first;
    next[first + 1] = -1;
    prev[first] = -1;
    routeOf[first] = r;
    routeOf[first + 1] = r;
    tail[r] = first;
    paid[r] = (secondCost[r] ?? 0) > 0 || (overtimeCost[r] ?? 0) > 0 ? 1 : 0;
    refresh(r);
  }
  for (let j = 0; j < jobs; j += 1) addAbsent(j);
  tables.frozen.forEach((sequence, r) => {
    for (const j of sequence) {
      link(j, tail[r] ?? 0, r);
      isFrozen[j] = 1;
      tail[r] = j;
    }
    if (sequence.length > 0) refresh(r);
  });

  return {
    next,
    prev,
    routeOf,
    depart,
    latest,
    span,
    floor,
    legSeconds,
    legCost,
    count,
    routeLoad,
    routeCost,
    hoursCost,
    workSeconds,
    severalOn,
    paid,
    tail,
    isFrozen,
    live,
    breaks,
    longest,
    empties,
    absent,
    emptyCount: () => emptyCount,
    absentCount: () => absentCount,
    total: () => total,
    hoursAt,
    take,
    insert,
    refresh,
    mark,
    undo,
    touchedRoutes: () => touched.subarray(0, touchedCount),
  };

  function mark(): void {
    epoch += 1;
    touchedCount = 0;
  }

  function undo(): void {
    for (let t = 0; t < touchedCount; t += 1) {
      const r = touched[t] ?? 0;
      for (let node = next[jobs + 2 * r] ?? 0; node < jobs; node = next[node] ?? 0) addAbsent(node);
      count[r] = 0;
      routeLoad[r] = 0;
      severalOn[r] = 0;
    }
    for (let t = 0; t < touchedCount; t += 1) {
      const r = touched[t] ?? 0;
      const first = jobs + 2 * r;
      next[first] = first + 1;
      prev[first + 1] = first;
      const end = savedFrom[t + 1] ?? 0;
      let after = first;
      for (let s = savedFrom[t] ?? 0; s < end; s += 1) {
        const j = saved[s] ?? 0;
        link(j, after, r);
        legSeconds[j] = savedSeconds[s] ?? 0;
        legCost[j] = savedCost[s] ?? 0;
        after = j;
      }
      legSeconds[first + 1] = endSeconds[t] ?? 0;
      legCost[first + 1] = endCost[t] ?? 0;
      refresh(r);
    }
    mark();
  }

  function touch(r: number): void {
    if (touchedIn[r] === epoch) return;
    touchedIn[r] = epoch;
    let s = touchedCount === 0 ? 0 : (savedFrom[touchedCount] ?? 0);
    savedFrom[touchedCount] = s;
    for (let node = next[jobs + 2 * r] ?? 0; node < jobs; node = next[node] ?? 0) {
      saved[s] = node;
      savedSeconds[s] = legSeconds[node] ?? 0;
      savedCost[s] = legCost[node] ?? 0;
      s += 1;
    }
    const last = jobs + 2 * r + 1;
    endSeconds[touchedCount] = legSeconds[last] ?? 0;
    endCost[touchedCount] = legCost[last] ?? 0;
    touched[touchedCount] = r;
    touchedCount += 1;
    savedFrom[touchedCount] = s;
  }

  function take(j: number): void {
    const r = routeOf[j] ?? 0;
    touch(r);
    const before = prev[j] ?? 0;
    const after = next[j] ?? 0;
    next[before] = after;
    prev[after] = before;
    legSeconds[after] = UNKNOWN;
    count[r] = (count[r] ?? 0) - 1;
    routeLoad[r] = (routeLoad[r] ?? 0) - (load[j] ?? 0);
    severalOn[r] = (severalOn[r] ?? 0) - (several[j] ?? 0);
    addAbsent(j);
  }

  function insert(j: number, after: number, r: number): void {
    touch(r);
    const filled = (count[r] ?? 0) > 0;
    link(j, after, r);
    if (filled && paid[r] === 0 && hasBreak[r] === 0 && hasLongest[r] === 0) refreshAbout(j, r);
    else refresh(r);
  }

  /** As `refresh` after one insertion that keeps the route in time: stops where times are as they were. */
  function refreshAbout(j: number, r: number): void {
    const first = jobs + 2 * r;
    const last = first + 1;
    const before = prev[j] ?? 0;
    const after = next[j] ?? 0;
    const spared = legCost[after] ?? 0;
    measure(j);
    measure(after);
    const added = (legCost[j] ?? 0) + (legCost[after] ?? 0) - spared + assignCost(j, r);
    routeCost[r] = (routeCost[r] ?? 0) + added;
    total += added;
    let time = depart[before] ?? 0;
    for (let node = j; ; node = next[node] ?? 0) {
      time += legSeconds[node] ?? 0;
      if (node !== last) {
        if (several[node] === 1) time = earliestStart(live, node, time);
        else if (time < (open[node] ?? 0)) time = open[node] ?? 0;
        time += service[node] ?? 0;
      }
      if (node === last || (depart[node] === time && node !== j)) break;
      depart[node] = time;
    }
    let bound = latest[after] ?? 0;
    let leg = legSeconds[after] ?? 0;
    for (let node = j; node !== first; node = prev[node] ?? 0) {
      bound -= (service[node] ?? 0) + leg;
      if (several[node] === 1) bound = latestStart(live, node, bound);
      else if (bound > (close[node] ?? 0)) bound = close[node] ?? 0;
      if (latest[node] === bound && node !== j) break;
      latest[node] = bound;
      leg = legSeconds[node] ?? 0;
    }
  }

  /** The leg that ends at the node. */
  function measure(node: number): void {
    const from = place[prev[node] ?? 0] ?? 0;
    const to = place[node] ?? 0;
    legSeconds[node] =
      secondsMatrix === undefined ? secondsBetween(from, to) : (secondsMatrix[from * places + to] ?? 0);
    legCost[node] = costMatrix === undefined ? costBetween(from, to) : (costMatrix[from * places + to] ?? 0);
  }

  function link(j: number, before: number, r: number): void {
    const after = next[before] ?? 0;
    next[before] = j;
    prev[j] = before;
    next[j] = after;
    prev[after] = j;
    legSeconds[j] = UNKNOWN;
    legSeconds[after] = UNKNOWN;
    routeOf[j] = r;
    if (varies[j] === 1) setWindows(tables, live, j, dayOf[r] ?? 0);
    count[r] = (count[r] ?? 0) + 1;
    routeLoad[r] = (routeLoad[r] ?? 0) + (load[j] ?? 0);
    severalOn[r] = (severalOn[r] ?? 0) + (several[j] ?? 0);
    const at = absentAt[j] ?? 0;
    absentCount -= 1;
    const moved = absent[absentCount] ?? 0;
    absent[at] = moved;
    absentAt[moved] = at;
    absentAt[j] = -1;
    total -= penalty[j] ?? 0;
  }

  function addAbsent(j: number): void {
    routeOf[j] = -1;
    absent[absentCount] = j;
    absentAt[j] = absentCount;
    absentCount += 1;
    total += penalty[j] ?? 0;
  }

  function hoursAt(r: number, finish: number): number {
    const hours = (secondCost[r] ?? 0) * (finish - (startSeconds[r] ?? 0));
    const late = finish - (regularEnd[r] ?? 0);
    return late > 0 ? hours + late * (overtimeCost[r] ?? 0) : hours;
  }

  function refresh(r: number): boolean {
    const first = jobs + 2 * r;
    const last = first + 1;
    let cost = 0;
    let time = startSeconds[r] ?? 0;
    let inTime = true;
    depart[first] = time;
    for (let node = next[first] ?? 0; ; node = next[node] ?? 0) {
      if ((legSeconds[node] ?? 0) < 0) measure(node);
      cost += legCost[node] ?? 0;
      time += legSeconds[node] ?? 0;
      if (node === last) break;
      if (time > (close[node] ?? 0)) inTime = false;
      else if (several[node] === 1) time = earliestStart(live, node, time);
      else if (time < (open[node] ?? 0)) time = open[node] ?? 0;
      time += service[node] ?? 0;
      depart[node] = time;
      cost += assignCost(node, r);
    }
    depart[last] = time;
    const finish = time;
    let bound = latestEnd[r] ?? 0;
    let rest = 0;
    let least = -1;
    latest[last] = bound;
    span[last] = 0;
    floor[last] = -1;
    let leg = legSeconds[last] ?? 0;
    for (let node = prev[last] ?? 0; node !== first; node = prev[node] ?? 0) {
      const busy = (service[node] ?? 0) + leg;
      bound -= busy;
      if (several[node] === 1) bound = latestStart(live, node, bound);
      else if (bound > (close[node] ?? 0)) bound = close[node] ?? 0;
      latest[node] = bound;
      rest += busy;
      span[node] = rest;
      const soonest = (open[node] ?? 0) + rest;
      if (soonest > least) least = soonest;
      floor[node] = least;
      leg = legSeconds[node] ?? 0;
    }
    workSeconds[r] = rest + leg;
    if (hasBreak[r] === 1) breaks.refresh(r);
    const hours = hasLongest[r] === 1 ? hoursWithin(r) : 0;
    const before = routeCost[r] ?? 0;
    if ((count[r] ?? 0) === 0) {
      routeCost[r] = 0;
      hoursCost[r] = 0;
      if ((emptyAt[r] ?? -1) < 0) {
        emptyAt[r] = emptyCount;
        empties[emptyCount] = r;
        emptyCount += 1;
      }
    } else {
      if (paid[r] === 0) hoursCost[r] = 0;
      else if (hasLongest[r] === 1) hoursCost[r] = hours === Number.POSITIVE_INFINITY ? 0 : hours;
      else hoursCost[r] = hasBreak[r] === 1 ? restedHours(r) : hoursAt(r, finish);
      routeCost[r] = cost + (hoursCost[r] ?? 0) + (useCost[r] ?? 0);
      const hole = emptyAt[r] ?? -1;
      if (hole >= 0) {
        emptyCount -= 1;
        const moved = empties[emptyCount] ?? 0;
        empties[hole] = moved;
        emptyAt[moved] = hole;
        emptyAt[r] = -1;
      }
    }
    total += (routeCost[r] ?? 0) - before;
    if (hasBreak[r] === 1 && !breaks.isInTime(r) && count[r] !== 0) return false;
    if (hours === Number.POSITIVE_INFINITY && count[r] !== 0) return false;
    return inTime && (finish <= (latestEnd[r] ?? 0) || count[r] === 0);
  }

  function hoursWithin(r: number): number {
    longest.refresh(r);
    return longest.hours(r);
  }

  /** A route that is late has no hours; it is not kept. */
  function restedHours(r: number): number {
    const last = jobs + 2 * r + 1;
    const hours = breaks.hoursFrom(r, last, depart[last] ?? 0, breaks.departRested[last] ?? 0);
    return hours === Number.POSITIVE_INFINITY ? 0 : hours;
  }
}
