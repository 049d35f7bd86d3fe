import type { CostTable, WalkEnd } from './costs.ts';

/** Places besides the start that are solved exactly: 15 take 0.5 million states, 16 bits wide. */
export const MOST_EXACT = 15;

/**
 * The shortest walk from place 0 through every other place once (Held and Karp 1962, "A dynamic programming approach
 * to sequencing problems"): the order, place 0 first. Throws a RangeError above MOST_EXACT places besides the start.
 */
export function exactWalk(costs: CostTable, end: WalkEnd): number[] {
  const { size, values } = costs;
  const others = size - 1;
  if (others > MOST_EXACT)
    throw new RangeError(`${others} places besides the start; exact up to ${MOST_EXACT}`);
  if (others <= 0) return size === 1 ? [0] : [];
  const sets = 1 << others;
  // best[set * others + last]: cheapest way from 0 through all of `set`, ending at `last` (place last + 1).
  const best = new Float64Array(sets * others).fill(Number.POSITIVE_INFINITY);
  const before = new Int8Array(sets * others).fill(-1);
  for (let last = 0; last < others; last += 1) best[(1 << last) * others + last] = values[last + 1] ?? 0;
  for (let set = 1; set < sets; set += 1) {
    for (let last = 0; last < others; last += 1) {
      const so = best[set * others + last] ?? 0;
      if (so === Number.POSITIVE_INFINITY) continue;
      const row = (last + 1) * size + 1;
      for (let next = 0; next < others; next += 1) {
        if ((set & (1 << next)) !== 0) continue;
        const place = (set | (1 << next)) * others + next;
        const cost = so + (values[row + next] ?? 0);
        if (cost < (best[place] ?? 0)) {
          best[place] = cost;
          before[place] = last;
        }
      }
    }
  }
  const full = sets - 1;
  let last = pickLast(best, full * others, others, end, values, size);
  const order: number[] = [];
  for (let set = full; last >= 0; ) {
    order.push(last + 1);
    const previous = before[set * others + last] ?? -1;
    set &= ~(1 << last);
    last = previous;
  }
  return [0, ...order.reverse()];
}

function pickLast(
  best: Float64Array,
  row: number,
  others: number,
  end: WalkEnd,
  values: Float64Array,
  size: number,
): number {
  if (typeof end === 'number' && end !== 0) return end - 1;
  const isClosed = end === 'start' || end === 0;
  let pick = 0;
  let least = Number.POSITIVE_INFINITY;
  for (let last = 0; last < others; last += 1) {
    const cost = (best[row + last] ?? 0) + (isClosed ? (values[(last + 1) * size] ?? 0) : 0);
    if (cost < least) {
      least = cost;
      pick = last;
    }
  }
  return pick;
}
