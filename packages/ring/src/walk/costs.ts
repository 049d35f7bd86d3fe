/** Symmetric costs between `size` places, row by row: the cost from i to j stands at i * size + j. */
export interface CostTable {
  readonly size: number;
  readonly values: Float64Array;
}

/** Calls `cost` once for each pair. Throws a RangeError for a cost that is negative or not a number. */
export function buildCosts(size: number, cost: (from: number, to: number) => number): CostTable {
  const values = new Float64Array(size * size);
  for (let from = 0; from < size; from += 1) {
    for (let to = from + 1; to < size; to += 1) {
      const value = cost(from, to);
      if (!(value >= 0)) throw new RangeError(`cost from ${from} to ${to} is ${value}`);
      values[from * size + to] = value;
      values[to * size + from] = value;
    }
  }
  return { size, values };
}

/** Where a walk from place 0 ends: back at 0, wherever is shortest, or at one of the places. */
export type WalkEnd = 'start' | 'anywhere' | number;

export function costOfOrder(costs: CostTable, order: readonly number[], end: WalkEnd): number {
  const { size, values } = costs;
  let sum = 0;
  for (let index = 1; index < order.length; index += 1)
    sum += values[(order[index - 1] ?? 0) * size + (order[index] ?? 0)] ?? 0;
  if (end === 'start') sum += values[(order.at(-1) ?? 0) * size + (order[0] ?? 0)] ?? 0;
  return sum;
}
