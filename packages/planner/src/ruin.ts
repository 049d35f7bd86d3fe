import type { Random } from './random.ts';
import type { Routes } from './routes.ts';
import type { Tables } from './tables.ts';

/** Longest string taken out of one route (L max of the paper). */
const LONGEST_STRING = 10;
/** The longest route a ruin empties as a whole: strings alone seldom give up a route that is one too many. */
const LONGEST_ROUTE = 60;
/** Share of strings that keep a piece in the middle (alpha) and chance of that piece growing (beta). */
const SPLIT_SHARE = 0.5;
const SPLIT_GROWTH = 0.01;
/**
 * Where visits hang together: share of ruins that take visits out alone, on one day, so that most come back on that day; the others take all visits
 * of a group, for other days (decision 0208).
 */
const ALONE = 0.4;
/**
 * So many ruins follow each other about one job and its neighbours where there are many more jobs: what they read of the travel matrix stays
 * near the processor, and the neighbourhood is searched to some end (decision 0213).
 */
const STAY = 500;
const MANY = 4;

/**
 * Takes strings of neighbouring jobs out of routes near a random job: Christiaens and Vanden Berghe, "Slack induction by string
 * removals for vehicle routing problems", Transportation Science 54(2), 2020, section 5.2. About `removed` jobs on average.
 */
export interface Ruin {
  /** Strings about a random job. */
  readonly strings: () => number;
  /** A job and, on a day it would rather be done, strings of the routes nearest to it: what stands in its way must look for other days. */
  readonly room: (job: number, day: number) => number;
}

/** Both return how many jobs they wrote to `out`. */
export function createRuin(
  tables: Tables,
  state: Routes,
  random: Random,
  removed: number,
  whole: number,
  out: Int32Array,
): Ruin {
  const { jobs, routes, near, nearCount, hopeless, groups, groupOf, dayOf } = tables;
  const grouped = groups.length > 0;
  const meanGroup = findMeanGroup(tables);
  const { next, prev, routeOf, count, isFrozen, take, refresh } = state;
  const possible = Int32Array.from({ length: jobs }, (_, j) => j).filter((j) => hopeless[j] === 0);
  const ruinedIn = new Int32Array(routes);
  const stringsOn = new Int32Array(routes);
  const pieces = new Int32Array(2 * LONGEST_STRING + jobs);
  let round = 0;
  let middle = 0;
  let staying = 0;

  const routesOn = Map.groupBy(
    Array.from({ length: routes }, (_, r) => r),
    (r) => dayOf[r],
  );

  return { strings: takeStrings, room: takeRoom };

  function takeStrings(): number {
    if (possible.length === 0) return 0;
    round += 1;
    const alone = grouped && random.unit() < ALONE;
    const used = routes - state.emptyCount();
    const mean = used === 0 ? 1 : (jobs - state.absentCount()) / used;
    const longest = Math.max(1, Math.min(LONGEST_STRING, mean));
    const first = alone ? removed : removed / meanGroup;
    const strings = Math.floor(1 + random.unit() * ((4 * first) / (1 + longest) - 1));
    const seed = drawSeed();
    // The paper takes one string a route; where there are fewer routes than strings, that would take too little.
    const perRoute = Math.max(1, Math.ceil(strings / Math.max(1, used)));
    const home = routeOf[seed] ?? -1;
    if (home >= 0 && random.unit() < whole && (count[home] ?? 0) <= LONGEST_ROUTE)
      return alone ? takeRest(home, 0) : takeGroups(takeRest(home, 0));
    const day = alone && home >= 0 ? dayOf[home] : undefined;
    let ruined = 0;
    let taken = 0;
    let job = seed;
    for (let k = 0; ; k += 1) {
      const r = routeOf[job] ?? -1;
      const isOpen = r >= 0 && (day === undefined || dayOf[r] === day);
      if (isOpen && ruinedIn[r] !== round) {
        ruinedIn[r] = round;
        stringsOn[r] = 0;
      }
      if (isOpen && isFrozen[job] === 0 && (stringsOn[r] ?? 0) < perRoute) {
        stringsOn[r] = (stringsOn[r] ?? 0) + 1;
        const size = Math.floor(1 + random.unit() * Math.min(count[r] ?? 0, longest));
        taken = takeString(job, r, Math.min(size, count[r] ?? 0), taken);
        ruined += 1;
        if (ruined >= strings) break;
      }
      if (k >= nearCount) break;
      job = near[seed * nearCount + k] ?? -1;
      if (job < 0) break;
    }
    return grouped && !alone ? takeGroups(taken) : taken;
  }

  function drawSeed(): number {
    const any = (): number => possible[random.below(possible.length)] ?? 0;
    // While jobs are left out, room may come free anywhere.
    if (possible.length <= MANY * nearCount || state.absentCount() > 0) return any();
    staying -= 1;
    if (staying < 0) {
      staying = STAY;
      middle = any();
    }
    const k = random.below(nearCount);
    const other = near[middle * nearCount + k] ?? -1;
    return other < 0 ? middle : other;
  }

  function takeRoom(job: number, day: number): number {
    round += 1;
    let taken = 0;
    const home = routeOf[job] ?? -1;
    if (home >= 0) {
      take(job);
      out[0] = job;
      taken = refresh(home) ? 1 : takeRest(home, 1);
    }
    const most = taken + removed;
    const takeNear = (other: number): void => {
      const r = routeOf[other] ?? -1;
      if (r < 0 || dayOf[r] !== day || ruinedIn[r] === round || isFrozen[other] === 1) return;
      ruinedIn[r] = round;
      const size = Math.floor(1 + random.unit() * Math.min(count[r] ?? 0, LONGEST_STRING));
      taken = takeString(other, r, Math.min(size, count[r] ?? 0), taken);
    };
    for (let k = 0; k < nearCount && taken < most; k += 1) {
      const other = near[job * nearCount + k] ?? -1;
      if (other < 0) break;
      takeNear(other);
    }
    const open = routesOn.get(day) ?? [];
    for (let tries = 0; tries < open.length && taken < most; tries += 1) {
      const r = open[random.below(open.length)] ?? 0;
      let node = next[jobs + 2 * r] ?? 0;
      for (let steps = random.below(Math.max(1, count[r] ?? 0)); steps > 0; steps -= 1)
        node = next[node] ?? 0;
      if (node < jobs) takeNear(node);
    }
    return grouped ? takeGroups(taken) : taken;
  }

  /** Visits that hang together come out together, so that all of them may change their day. Not where they have no other, unless they may be left out. */
  function takeGroups(taken: number): number {
    let all = taken;
    // While jobs are left out others may have to make room.
    const crowded = state.absentCount() > taken;
    for (let i = 0; i < all; i += 1) {
      const group = groups[groupOf[out[i] ?? 0] ?? -1];
      if (group === undefined || !(group.patterns.length > 1 || group.optional || crowded)) continue;
      for (const sibling of group.jobs) {
        const r = routeOf[sibling] ?? -1;
        if (r < 0 || isFrozen[sibling] === 1) continue;
        take(sibling);
        out[all] = sibling;
        all += 1;
        if (!refresh(r)) all = takeRest(r, all);
      }
    }
    return all;
  }

  function takeString(job: number, r: number, size: number, taken: number): number {
    let kept = 0;
    const spare = (count[r] ?? 0) - size;
    if (size > 1 && spare > 0 && random.unit() < SPLIT_SHARE) {
      kept = 1;
      while (kept < spare && random.unit() < SPLIT_GROWTH) kept += 1;
    }
    const wanted = size + kept;
    let from = job;
    for (let back = random.below(wanted); back > 0; back -= 1) {
      const before = prev[from] ?? 0;
      if (before >= jobs || isFrozen[before] === 1) break;
      from = before;
    }
    let found = 0;
    for (let node = from; node < jobs && found < wanted; node = next[node] ?? 0) {
      pieces[found] = node;
      found += 1;
    }
    // The string ran into the end of the route: lengthen it at the other side.
    for (
      let node = prev[from] ?? 0;
      node < jobs && isFrozen[node] === 0 && found < wanted;
      node = prev[node] ?? 0
    ) {
      pieces[found] = node;
      found += 1;
    }
    const keepFrom = kept === 0 ? found : 1 + random.below(Math.max(1, size - 1));
    for (let p = 0; p < found; p += 1) {
      const node = pieces[p] ?? 0;
      if (p >= keepFrom && p < keepFrom + kept && node !== job) continue;
      take(node);
      out[taken] = node;
      taken += 1;
    }
    return refresh(r) ? taken : takeRest(r, taken);
  }

  /** Without the string the route is late: everything that may move comes out, which leaves it empty or as it was frozen. */
  function takeRest(r: number, taken: number): number {
    for (let node = next[jobs + 2 * r] ?? 0; node < jobs; ) {
      const after = next[node] ?? 0;
      if (isFrozen[node] === 0) {
        take(node);
        out[taken] = node;
        taken += 1;
      }
      node = after;
    }
    refresh(r);
    return taken;
  }
}

/** Visits in a group that has a choice of days, on average: so many come out for each that a string holds. */
function findMeanGroup({ groups }: Tables): number {
  const free = groups.filter(({ patterns }) => patterns.length > 1);
  return free.length === 0 ? 1 : free.reduce((sum, { jobs }) => sum + jobs.length, 0) / free.length;
}
