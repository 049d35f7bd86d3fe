import { type CostTable, costOfOrder, type WalkEnd } from './costs.ts';
import { exactWalk, MOST_EXACT } from './exactWalk.ts';
import { improveTour } from './improveTour.ts';

export interface WalkOrder {
  /** Every place once, place 0 first. */
  readonly order: readonly number[];
  readonly cost: number;
  /** True when no shorter walk exists. */
  readonly isExact: boolean;
}

export interface SearchOptions {
  readonly seed: number;
  /** Disturbances per place beyond the exact size; see docs/decisions. */
  readonly kicksPerPlace?: number;
}

/** Enough for less than 1 % over the best known on every TSPLIB instance tried; see bench/ring/walk.ts. */
const KICKS_PER_PLACE = 120;
/** A table of costs for more would take more memory than a phone gives. */
const MOST_PLACES = 2000;

/**
 * The shortest walk from place 0 through all the others, closed or open: proven up to 15 others, searched for beyond.
 * Throws a RangeError for no places, more than 2,000, or an end that is no place.
 */
export function shortestWalk(costs: CostTable, end: WalkEnd, options: SearchOptions): WalkOrder {
  const { size } = costs;
  if (size < 1 || size > MOST_PLACES)
    throw new RangeError(`${size} places; a walk takes 1 to ${MOST_PLACES}`);
  if (typeof end === 'number' && !(Number.isInteger(end) && end >= 0 && end < size))
    throw new RangeError(`no place ${end} to end at`);
  const goal = end === 0 ? 'start' : end;
  if (size - 1 <= MOST_EXACT) {
    const order = exactWalk(costs, goal);
    return { order, cost: costOfOrder(costs, order, goal), isExact: true };
  }
  const kicks = (options.kicksPerPlace ?? KICKS_PER_PLACE) * size;
  const order =
    goal === 'start'
      ? fromStart(improveTour(costs, { seed: options.seed, kicks }))
      : openOrder(costs, goal, options.seed, kicks);
  return { order, cost: costOfOrder(costs, order, goal), isExact: false };
}

/**
 * An open walk is a closed one through one more place that costs nothing from where the walk may end and
 * is tied to where it must start (and end) by a reward larger than any detour.
 */
function openOrder(costs: CostTable, end: number | 'anywhere', seed: number, kicks: number): number[] {
  const { size, values } = costs;
  const reward = 4 * values.reduce((a, b) => Math.max(a, b), 1);
  const wide = size + 1;
  const widened = new Float64Array(wide * wide);
  for (let from = 0; from < size; from += 1) {
    widened.set(values.subarray(from * size, (from + 1) * size), from * wide);
    const isTied = from === 0 || from === end;
    const toExtra = isTied ? -reward : end === 'anywhere' ? 0 : reward;
    widened[from * wide + size] = toExtra;
    widened[size * wide + from] = toExtra;
  }
  const tour = Array.from(improveTour({ size: wide, values: widened }, { seed, kicks }));
  const at = tour.indexOf(size);
  const walk = [...tour.slice(at + 1), ...tour.slice(0, at)];
  return walk[0] === 0 ? walk : walk.reverse();
}

function fromStart(tour: Int32Array): number[] {
  const order = Array.from(tour);
  const at = order.indexOf(0);
  return [...order.slice(at), ...order.slice(0, at)];
}
