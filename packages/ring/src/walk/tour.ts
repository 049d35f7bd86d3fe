/**
 * A closed tour on typed arrays. Orientation has no meaning: every move is said in edges, and may turn the tour round.
 */
export interface Tour {
  /** order[position] = place, position[place] = where it stands */
  readonly order: Int32Array;
  readonly position: Int32Array;
}

export function createTour(order: Int32Array): Tour {
  const position = new Int32Array(order.length);
  for (let index = 0; index < order.length; index += 1) position[order[index] ?? 0] = index;
  return { order, position };
}

export function nextOf({ order, position }: Tour, place: number): number {
  const at = (position[place] ?? 0) + 1;
  return order[at === order.length ? 0 : at] ?? 0;
}

export function previousOf({ order, position }: Tour, place: number): number {
  const at = position[place] ?? 0;
  return order[at === 0 ? order.length - 1 : at - 1] ?? 0;
}

/**
 * Replaces the edges (a, b) and (c, d) by (a, c) and (b, d). Needs b after a and d after c, or both before.
 * Turns round the shorter of the two ways, so at most half of the places move.
 */
export function replaceEdges(tour: Tour, a: number, b: number, c: number, d: number): void {
  if (nextOf(tour, a) === b) reversePath(tour, b, c);
  else reversePath(tour, a, d);
}

function reversePath({ order, position }: Tour, from: number, to: number): void {
  const size = order.length;
  let low = position[from] ?? 0;
  let high = position[to] ?? 0;
  let count = high - low + 1;
  if (count <= 0) count += size;
  if (count * 2 > size) {
    const outerLow = high + 1 === size ? 0 : high + 1;
    high = low === 0 ? size - 1 : low - 1;
    low = outerLow;
    count = size - count;
  }
  for (let swaps = count >> 1; swaps > 0; swaps -= 1) {
    const first = order[low] ?? 0;
    const last = order[high] ?? 0;
    order[low] = last;
    position[last] = low;
    order[high] = first;
    position[first] = high;
    low = low + 1 === size ? 0 : low + 1;
    high = high === 0 ? size - 1 : high - 1;
  }
}
