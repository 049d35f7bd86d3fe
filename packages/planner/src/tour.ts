import type { Random } from './random.ts';

/** Near places tried as the next end of an edge. */
const NEAR = 10;
/** Near places tried at each depth of an exchange: as many edges as this list is long, and one more, change at most. */
const BREADTH = [5, 3, 1] as const;
/** The kick swaps two neighbouring stretches of at most so many places. */
const LONGEST_STRETCH = 30;

/** The shortest closed tour found so far through a few places. */
export interface Tour {
  /** Kicks the tour and repairs it so many times; keeps what is no longer. */
  readonly step: (kicks: number) => void;
  readonly length: () => number;
  /** The places in order; either way round. */
  readonly order: () => Int32Array;
}

/**
 * Iterated Lin-Kernighan search: S. Lin, B. Kernighan, "An effective heuristic algorithm for the traveling-salesman problem",
 * Operations Research 21(2), 1973, with double-bridge kicks on short stretches (O. Martin, S. Otto, E. Felten, 1991; D. Applegate, W. Cook,
 * A. Rohe, "Chained Lin-Kernighan for large traveling salesman problems", INFORMS Journal on Computing 15(1), 2003).
 * `distance[a * count + b]` must be the same both ways; `count` is 5 or more. `start` is the tour to begin with.
 */
export function createTour(
  count: number,
  distance: Int32Array,
  start: readonly number[],
  random: Random,
): Tour {
  const tour = Int32Array.from(start);
  const position = new Int32Array(count);
  tour.forEach((city, at) => {
    position[city] = at;
  });
  const width = Math.min(NEAR, count - 1);
  const near = listNear(count, distance, width);
  const queue = new Int32Array(count);
  const queued = new Uint8Array(count);
  const journal: number[] = [];
  const stretch = Math.max(1, Math.min(LONGEST_STRETCH, Math.floor(count / 4)));
  /** The tour is stored backwards: a long stretch is turned by turning the rest instead. */
  let backwards = false;
  let head = 0;
  let waiting = 0;
  let length = 0;
  for (let at = 0; at < count; at += 1) {
    length += between(tour[at] ?? 0, tour[(at + 1) % count] ?? 0);
    push(at);
  }
  repair();
  journal.length = 0;

  return { step, length: () => length, order: () => tour.slice() };

  function step(kicks: number): void {
    for (let k = 0; k < kicks; k += 1) {
      const before = length;
      kick();
      repair();
      if (length > before) {
        while (journal.length > 0) {
          const to = journal.pop() ?? 0;
          const from = journal.pop() ?? 0;
          turn(to, from);
        }
        length = before;
      }
      journal.length = 0;
    }
  }

  /** Swaps two neighbouring stretches: a double bridge. */
  function kick(): void {
    let at = tour[random.below(count)] ?? 0;
    const before = at;
    at = next(at);
    const a = at;
    for (let i = random.below(stretch); i > 0; i -= 1) at = next(at);
    const b = at;
    at = next(at);
    const c = at;
    for (let i = random.below(stretch); i > 0; i -= 1) at = next(at);
    const d = at;
    const after = next(at);
    length += between(before, c) + between(d, a) + between(b, after);
    length -= between(before, a) + between(b, c) + between(d, after);
    flip(a, d);
    flip(d, c);
    flip(b, a);
    for (const city of [before, a, b, c, d, after]) push(city);
  }

  function repair(): void {
    while (waiting > 0) {
      const city = queue[head] ?? 0;
      head = (head + 1) % count;
      waiting -= 1;
      queued[city] = 0;
      while (improve(city));
    }
  }

  /** Takes out the edge after or before a place and looks for a shorter tour by a chain of exchanges. */
  function improve(first: number): boolean {
    const after = next(first);
    if (exchange(first, after, between(first, after), 0, true)) return true;
    const before = previous(first);
    return exchange(first, before, between(first, before), 0, false);
  }

  /** The path from `last` round to `first` is `gain` shorter than the tour was. True when it was closed to a shorter tour. */
  function exchange(first: number, last: number, gain: number, depth: number, forwards: boolean): boolean {
    const most = BREADTH[depth] ?? 0;
    let tried = 0;
    for (let k = 0; k < width && tried < most; k += 1) {
      const joined = near[last * width + k] ?? 0;
      const left = gain - between(last, joined);
      if (left <= 0) return false;
      const end = forwards ? previous(joined) : next(joined);
      if (joined === first || end === last) continue;
      tried += 1;
      const open = left + between(end, joined);
      if (forwards) flip(last, end);
      else flip(end, last);
      const closed = open - between(end, first);
      if (closed > 0) {
        length -= closed;
        push(first);
        push(end);
        push(last);
        push(joined);
        return true;
      }
      if (depth + 1 < BREADTH.length && exchange(first, end, open, depth + 1, forwards)) {
        push(last);
        push(joined);
        return true;
      }
      const to = journal.pop() ?? 0;
      const from = journal.pop() ?? 0;
      turn(to, from);
    }
    return false;
  }

  function flip(from: number, to: number): void {
    turn(from, to);
    journal.push(from, to);
  }

  /** Turns the stretch that leads from one place to another; undone by `turn(to, from)`. */
  function turn(from: number, to: number): void {
    let i = position[backwards ? to : from] ?? 0;
    let j = position[backwards ? from : to] ?? 0;
    const inner = j >= i ? j - i + 1 : j - i + 1 + count;
    let swaps = inner >> 1;
    if (2 * inner > count) {
      const outer = i;
      i = j + 1 === count ? 0 : j + 1;
      j = outer === 0 ? count - 1 : outer - 1;
      swaps = (count - inner) >> 1;
      backwards = !backwards;
    }
    for (; swaps > 0; swaps -= 1) {
      const a = tour[i] ?? 0;
      const b = tour[j] ?? 0;
      tour[i] = b;
      position[b] = i;
      tour[j] = a;
      position[a] = j;
      i = i + 1 === count ? 0 : i + 1;
      j = j === 0 ? count - 1 : j - 1;
    }
  }

  function next(city: number): number {
    const at = position[city] ?? 0;
    if (backwards) return tour[at === 0 ? count - 1 : at - 1] ?? 0;
    return tour[at + 1 === count ? 0 : at + 1] ?? 0;
  }

  function previous(city: number): number {
    const at = position[city] ?? 0;
    if (backwards) return tour[at + 1 === count ? 0 : at + 1] ?? 0;
    return tour[at === 0 ? count - 1 : at - 1] ?? 0;
  }

  function push(city: number): void {
    if (queued[city] === 1) return;
    queued[city] = 1;
    queue[(head + waiting) % count] = city;
    waiting += 1;
  }

  function between(a: number, b: number): number {
    return distance[a * count + b] ?? 0;
  }
}

function listNear(count: number, distance: Int32Array, width: number): Int32Array {
  const near = new Int32Array(count * width);
  for (let city = 0; city < count; city += 1) {
    const row = distance.subarray(city * count, (city + 1) * count);
    const others = Array.from({ length: count }, (_, other) => other).filter((other) => other !== city);
    others.sort((a, b) => (row[a] ?? 0) - (row[b] ?? 0) || a - b);
    near.set(others.slice(0, width), city * width);
  }
  return near;
}
