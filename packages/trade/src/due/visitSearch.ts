import {
  type ChainClass,
  type ChainState,
  fewestFrom,
  isDone,
  passBy,
  serveLook,
  serveYearly,
} from './visitChains.ts';

export interface VisitSearch {
  readonly places: readonly number[];
  /** False when a depth was given up after `mostNodes`: the places keep every window, but fewer may do. */
  readonly proven: boolean;
}

/** A class with the least days late that any choice of visits can leave it. */
export interface BoundClass extends ChainClass {
  readonly lateAllowed: number;
}

/**
 * The fewest places at which all classes can be kept. For a given list of visits the stations do not hinder each
 * other, so a node holds, for each class, every state that the visits so far could have left it in, and branches over
 * days only. Deepens the number of visits from a lower bound, and remembers what failed.
 */
export function searchVisits(classes: readonly BoundClass[], n: number, mostNodes: number): VisitSearch {
  const start = classes.map((one) => [one.start]);
  let proven = true;
  for (
    let visits = Math.max(0, ...classes.map((one) => fewestFrom(one.start, one)));
    visits <= n;
    visits += 1
  ) {
    const tries: Tries = { classes, n, failed: new Set(), left: mostNodes };
    const places = extend(tries, start, -1, visits);
    if (places !== undefined) return { places, proven };
    if (tries.left <= 0) proven = false;
  }
  throw new Error('visits on every usable day keep every window that can be kept');
}

/**
 * The least total days late of one class when every usable day has a visit: best first by days late, then latest day.
 * A look that must come late counts only when it is done: a yearly service before it can still rescue it.
 */
export function leastLate(one: ChainClass): number {
  const buckets = new Map<number, ChainState[]>([[one.start.late, [one.start]]]);
  const seen = new Set<string>();
  let best = Number.POSITIVE_INFINITY;
  while (buckets.size > 0) {
    const least = Math.min(...buckets.keys());
    if (least >= best) break;
    const bucket = buckets.get(least);
    const state = bucket?.pop();
    if (bucket === undefined || state === undefined) {
      buckets.delete(least);
      continue;
    }
    if (fewestFrom(state, one) === 0) {
      best = Math.min(best, lateOf(state));
      if (best <= least) break;
    }
    const last = Math.min(state.lookLast, state.yearLast, one.look.first.length - 1);
    for (let place = Math.min(state.lookFirst, state.yearFirst); place <= last; place += 1) {
      for (const next of [serveLook(state, one, place), serveYearly(state, one, place)]) {
        if (next === undefined) continue;
        const key = stateKey(next);
        if (seen.has(key)) continue;
        seen.add(key);
        const known = buckets.get(next.late);
        if (known === undefined) buckets.set(next.late, [next]);
        else known.push(next);
      }
    }
  }
  return best;
}

interface Tries {
  readonly classes: readonly BoundClass[];
  readonly n: number;
  readonly failed: Set<string>;
  left: number;
}

function extend(
  tries: Tries,
  sets: readonly (readonly ChainState[])[],
  after: number,
  visits: number,
): readonly number[] | undefined {
  const { classes, n } = tries;
  if (classes.every((one, c) => sets[c]?.some((state) => isDone(state, one, one.lateAllowed)))) return [];
  if (visits === 0 || tries.left <= 0) return undefined;
  tries.left -= 1;
  const key = `${visits}:${[...new Set(sets.map((set, c) => `${ruleKey(classes, c)}${setKey(set)}`))].sort().join('/')}`;
  if (tries.failed.has(key)) return undefined;
  let latest = n - 1;
  for (const set of sets) {
    latest = Math.min(latest, Math.max(...set.map((state) => Math.min(state.lookLast, state.yearLast))));
  }
  for (let place = latest; place > after; place -= 1) {
    const next = visitAll(classes, sets, place, visits - 1);
    if (next === undefined) continue;
    const rest = extend(tries, next, place, visits - 1);
    if (rest !== undefined) return [place, ...rest];
  }
  tries.failed.add(key);
  return undefined;
}

/** Every state worth keeping after a visit; undefined when some class has none that `visits` more could finish. */
function visitAll(
  classes: readonly BoundClass[],
  sets: readonly (readonly ChainState[])[],
  place: number,
  visits: number,
): readonly (readonly ChainState[])[] | undefined {
  const next: (readonly ChainState[])[] = [];
  for (let c = 0; c < classes.length; c += 1) {
    const one = classes[c];
    if (one === undefined) break;
    const kept: ChainState[] = [];
    for (const state of sets[c] ?? []) {
      for (const after of [
        passBy(state, place),
        serveLook(state, one, place),
        serveYearly(state, one, place),
      ]) {
        if (after === undefined || after.late > one.lateAllowed || fewestFrom(after, one) > visits) continue;
        keepBest(kept, after);
      }
    }
    if (kept.length === 0) return undefined;
    next.push(kept);
  }
  return next;
}

/** Adds a state unless another can do all that it can; drops those that it outdoes. */
function keepBest(kept: ChainState[], state: ChainState): void {
  if (kept.some((other) => covers(other, state))) return;
  for (let k = kept.length - 1; k >= 0; k -= 1) {
    const other = kept[k];
    if (other !== undefined && covers(state, other)) kept.splice(k, 1);
  }
  kept.push(state);
}

/** True when every way to go on from `b` is open to `a` and leaves it no later. */
function covers(a: ChainState, b: ChainState): boolean {
  return (
    a.lookFirst <= b.lookFirst &&
    a.lookLast >= b.lookLast &&
    a.yearFirst <= b.yearFirst &&
    a.yearLast >= b.yearLast &&
    a.late <= b.late &&
    lateOf(a) <= lateOf(b)
  );
}

function lateOf(state: ChainState): number {
  return state.late + state.lookLate;
}

function stateKey({ lookFirst, lookLast, lookLate, yearFirst, yearLast, late }: ChainState): string {
  return `${lookFirst},${lookLast},${yearFirst},${yearLast},${late},${lookLate}`;
}

function setKey(set: readonly ChainState[]): string {
  return set.map(stateKey).sort().join(' ');
}

/** Classes that go on by the same rules and allowance share a key. */
function ruleKey(classes: readonly BoundClass[], c: number): string {
  const own = classes[c];
  const first = classes.findIndex(
    (one) => one.look === own?.look && one.year === own.year && one.lateAllowed === own.lateAllowed,
  );
  return `${first}=`;
}
