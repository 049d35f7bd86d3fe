import type { CostTable } from './costs.ts';
import { createRandom } from './random.ts';
import { createTour, nextOf, previousOf, replaceEdges, type Tour } from './tour.ts';

export interface ImproveOptions {
  readonly seed: number;
  /** How often the tour is disturbed and mended again; the work grows in proportion. */
  readonly kicks: number;
}

/** Neighbours looked at from each place; ten is what Johnson and McGeoch 1997 found enough. */
const NEIGHBOURS = 10;
/** Longest stretch that an Or-opt move carries (Or 1976). */
const LONGEST_CARRIED = 3;
/** Longest of the two stretches that a kick exchanges: near places, so that mending stays local. */
const LONGEST_KICKED = 50;
/** Less than this is the dust of adding doubles, not a gain. */
const DUST = 1e-9;

/**
 * A short closed tour through all places: nearest neighbour, then 2-opt and Or-opt over neighbour lists, then iterated
 * local search with a local double bridge (Martin, Otto and Felten 1991; Johnson and McGeoch 1997). Same arguments, same tour.
 */
export function improveTour(costs: CostTable, { seed, kicks }: ImproveOptions): Int32Array {
  const { size } = costs;
  const tour = createTour(nearestNeighbourOrder(costs));
  if (size < 5) return tour.order;
  const search = createSearch(costs, tour);
  search.mendAll();
  const random = createRandom(seed);
  const kept = tour.order.slice();
  let gained = 0;
  for (let kick = 0; kick < kicks; kick += 1) {
    gained = search.kick(random) + search.mend();
    if (gained >= -DUST) {
      kept.set(tour.order);
      continue;
    }
    tour.order.set(kept);
    for (let index = 0; index < size; index += 1) tour.position[kept[index] ?? 0] = index;
  }
  return kept;
}

/** Both return what the tour became shorter by (negative: longer). */
interface Search {
  kick(random: (below: number) => number): number;
  mend(): number;
  mendAll(): void;
}

function createSearch(costs: CostTable, tour: Tour): Search {
  const { size, values } = costs;
  const near = listNeighbours(costs);
  const width = Math.min(NEIGHBOURS, size - 1);
  const queue = new Int32Array(size);
  const isQueued = new Uint8Array(size);
  let head = 0;
  let waiting = 0;
  const cost = (a: number, b: number): number => values[a * size + b] ?? 0;

  function enqueue(place: number): void {
    if (isQueued[place] === 1) return;
    isQueued[place] = 1;
    queue[(head + waiting) % size] = place;
    waiting += 1;
  }

  /** Exchanges the edges beside `a` for a shorter one: 2-opt. `step` looks along the tour or against it. */
  function tryExchange(a: number, step: typeof nextOf): number {
    const b = step(tour, a);
    const ab = cost(a, b);
    for (let rank = 0; rank < width; rank += 1) {
      const c = near[a * width + rank] ?? 0;
      const ac = cost(a, c);
      if (ac >= ab) return 0;
      const d = step(tour, c);
      if (c === b || d === a) continue;
      const gain = ab + cost(c, d) - ac - cost(b, d);
      if (gain <= DUST) continue;
      replaceEdges(tour, a, b, c, d);
      for (const place of [a, b, c, d]) enqueue(place);
      return gain;
    }
    return 0;
  }

  /**
   * Carries the stretch that ends at `a` (1 to 3 places, the rest of it on the side of `inward`) to an edge at a near place, either way round: Or-opt.
   * Stretch a..z, its neighbours p (beside a) and n (beside z): a goes next to c.
   */
  function tryCarry(a: number, inward: typeof nextOf, outward: typeof nextOf): number {
    const p = outward(tour, a);
    const pa = cost(p, a);
    let z = a;
    for (let length = 1; length <= LONGEST_CARRIED && length <= size - 3; length += 1) {
      if (length > 1) z = inward(tour, z);
      const n = inward(tour, z);
      const opened = pa + cost(z, n) - cost(p, n);
      for (let rank = 0; rank < width; rank += 1) {
        const c = near[a * width + rank] ?? 0;
        const ca = cost(c, a);
        if (ca >= opened) break;
        if (isWithin(c, a, length, inward)) continue;
        for (const isAhead of [true, false]) {
          // d: the other end of the edge at c that is opened.
          const d = isAhead ? inward(tour, c) : outward(tour, c);
          if (d === a || d === z) continue;
          const gain = opened + cost(c, d) - ca - cost(z, d);
          if (gain <= DUST) continue;
          carry(p, a, z, n, c, d, isAhead);
          for (const place of [p, a, z, n, c, d]) enqueue(place);
          return gain;
        }
      }
    }
    return 0;
  }

  function isWithin(c: number, a: number, length: number, inward: typeof nextOf): boolean {
    let place = a;
    for (let index = 0; index < length; index += 1) {
      if (place === c) return true;
      place = inward(tour, place);
    }
    return false;
  }

  /**
   * Or-opt as exchanges of two edges. In the direction p, a..z, n: with d after c the result is c, a..z, d; with d before c it is d, z..a, c.
   */
  function carry(p: number, a: number, z: number, n: number, c: number, d: number, isAhead: boolean): void {
    const first = isAhead ? c : d;
    const second = isAhead ? d : c;
    // p [a..z] [n..first] second  ->  p [first..n] [z..a] second  ->  p [n..first] [z..a] second
    if (first !== p) {
      replaceEdges(tour, p, a, first, second);
      if (n !== first) replaceEdges(tour, p, first, n, z);
    }
    if (isAhead) {
      // wanted: first, a..z, second
      replaceEdges(tour, first, z, a, second);
    }
  }

  function mend(): number {
    let gained = 0;
    while (waiting > 0) {
      const a = queue[head] ?? 0;
      head = head + 1 === size ? 0 : head + 1;
      waiting -= 1;
      isQueued[a] = 0;
      for (;;) {
        const gain =
          tryExchange(a, nextOf) ||
          tryExchange(a, previousOf) ||
          tryCarry(a, nextOf, previousOf) ||
          tryCarry(a, previousOf, nextOf);
        if (gain === 0) break;
        gained += gain;
      }
    }
    return gained;
  }

  /** Exchanges two neighbouring stretches at a random place: a double bridge that 2-opt and Or-opt do not simply undo. */
  function kick(random: (below: number) => number): number {
    const { order, position } = tour;
    const longest = Math.max(1, Math.min(LONGEST_KICKED, Math.floor((size - 2) / 2)));
    const firstLength = 1 + random(longest);
    const secondLength = 1 + random(longest);
    const start = random(size);
    const length = firstLength + secondLength;
    const stretch = Int32Array.from({ length }, (_, index) => order[(start + 1 + index) % size] ?? 0);
    const before = order[start] ?? 0;
    const after = order[(start + 1 + length) % size] ?? 0;
    const a = stretch[0] ?? 0;
    const b = stretch[firstLength - 1] ?? 0;
    const c = stretch[firstLength] ?? 0;
    const d = stretch[length - 1] ?? 0;
    for (let index = 0; index < length; index += 1) {
      const place = stretch[(index + firstLength) % length] ?? 0;
      const at = (start + 1 + index) % size;
      order[at] = place;
      position[place] = at;
    }
    for (const place of [before, a, b, c, d, after]) enqueue(place);
    return cost(before, a) + cost(b, c) + cost(d, after) - cost(before, c) - cost(d, a) - cost(b, after);
  }

  function mendAll(): void {
    for (const place of tour.order) enqueue(place);
    mend();
  }
  return { kick, mend, mendAll };
}

function listNeighbours({ size, values }: CostTable): Int32Array {
  const width = Math.min(NEIGHBOURS, size - 1);
  const near = new Int32Array(size * width);
  for (let from = 0; from < size; from += 1) {
    const row = values.subarray(from * size, (from + 1) * size);
    const others = Array.from({ length: size }, (_, place) => place).filter((place) => place !== from);
    others.sort((a, b) => (row[a] ?? 0) - (row[b] ?? 0) || a - b);
    near.set(others.slice(0, width), from * width);
  }
  return near;
}

function nearestNeighbourOrder({ size, values }: CostTable): Int32Array {
  const order = new Int32Array(size);
  const isTaken = new Uint8Array(size);
  let last = 0;
  isTaken[0] = 1;
  for (let index = 1; index < size; index += 1) {
    let pick = -1;
    let least = Number.POSITIVE_INFINITY;
    for (let place = 0; place < size; place += 1) {
      const value = values[last * size + place] ?? 0;
      if (isTaken[place] === 0 && value < least) {
        least = value;
        pick = place;
      }
    }
    order[index] = pick;
    isTaken[pick] = 1;
    last = pick;
  }
  return order;
}
