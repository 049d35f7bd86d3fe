import type { Random } from './random.ts';
import type { Routes } from './routes.ts';
import { NEVER, type Tables } from './tables.ts';

/** All jobs are looked through again after so many iterations. */
const EVERY = 500;
/** One iteration in so many makes room for a misplaced job, while there are any. */
const SHARE = 8;

/** A job and a day on which it would rather be done. */
export interface Wish {
  readonly job: number;
  readonly day: number;
}

/**
 * Jobs that lie dearly: left out, or on a day that costs more than their best one by `dear` at least, which no detour saves. Their best
 * days are full, so that strings about random jobs seldom free just the room that one of them needs.
 */
export function createMisplaced(
  tables: Tables,
  state: Routes,
  random: Random,
  dear: number,
): () => Wish | undefined {
  const { jobs, days, dayCost, dayOf, hopeless } = tables;
  const least = new Float64Array(jobs).fill(Number.POSITIVE_INFINITY);
  for (let j = 0; j < jobs; j += 1)
    for (let day = 0; day < days; day += 1) {
      const cost = dayCost[j * days + day] ?? NEVER;
      if (cost >= 0 && cost < (least[j] ?? 0)) least[j] = cost;
    }
  const found: number[] = [];
  let untilLook = 0;
  let untilWish = SHARE;

  return () => {
    // With one day there is no other to look to.
    if (days === 1) return undefined;
    untilLook -= 1;
    if (untilLook <= 0) lookThrough();
    if (found.length === 0) return undefined;
    untilWish -= 1;
    if (untilWish > 0) return undefined;
    untilWish = SHARE;
    const job = found[random.below(found.length)] ?? 0;
    if (!isMisplaced(job)) return undefined;
    const wished: number[] = [];
    for (let day = 0; day < days; day += 1) if (isCheap(job, day)) wished.push(day);
    const day = wished[random.below(Math.max(1, wished.length))];
    return day === undefined ? undefined : { job, day };
  };

  function lookThrough(): void {
    untilLook = EVERY;
    found.length = 0;
    for (let j = 0; j < jobs; j += 1) if (isMisplaced(j)) found.push(j);
  }

  function isMisplaced(j: number): boolean {
    if (hopeless[j] === 1 || state.isFrozen[j] === 1) return false;
    const r = state.routeOf[j] ?? -1;
    return r < 0 || !isCheap(j, dayOf[r] ?? 0);
  }

  function isCheap(j: number, day: number): boolean {
    const cost = dayCost[j * days + day] ?? NEVER;
    return cost >= 0 && cost < (least[j] ?? 0) + dear;
  }
}
