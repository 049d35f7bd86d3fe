import { MAX_SECONDS } from './check.ts';
import type { Random } from './random.ts';
import type { Routes } from './routes.ts';
import type { Tables } from './tables.ts';
import { createTour } from './tour.ts';

/** Fewer stops than these are soon tried through by ruin and recreate. */
const FEWEST_STOPS = 8;
/** Kicks of the tour for each iteration of the search, which costs about as much. */
const KICKS = 4;
/** Holds the leg from the end back to the start in every tour, where they are two places. */
const HELD = -MAX_SECONDS;

/** The shortest order of one route that has only its way to shorten. */
export interface SingleTour {
  /** True when it became shorter. */
  readonly step: (iterations: number) => boolean;
  /** The jobs in the shortest order found, in the snapshot form of `Solver`. */
  readonly snapshot: () => Int32Array;
}

/**
 * A tour instead of ruin and recreate where nothing but the way counts: one route, no windows, breaks, groups or frozen jobs, every job on
 * it, and legs that cost the same both ways. Undefined elsewhere. Whether it is in time is for the search to see.
 */
export function createSingleTour(tables: Tables, state: Routes, random: Random): SingleTour | undefined {
  const { jobs, routes, place, cost, seconds } = tables;
  const { matrix } = cost;
  const plain =
    routes === 1 &&
    jobs >= FEWEST_STOPS &&
    state.count[0] === jobs &&
    matrix !== undefined &&
    cost.turned === matrix &&
    (state.paid[0] === 0 || seconds.matrix === matrix) &&
    tables.hasBreak[0] === 0 &&
    tables.groups.length === 0 &&
    !tables.isHeld.includes(1) &&
    !tables.varies.includes(1) &&
    tables.open.subarray(0, jobs).every((open) => open === 0) &&
    tables.close.subarray(0, jobs).every((close) => close === MAX_SECONDS);
  if (!plain) return undefined;
  const closed = place[jobs] === place[jobs + 1];
  const count = jobs + (closed ? 1 : 2);
  const distance = new Int32Array(count * count);
  for (let a = 0; a < count; a += 1)
    for (let b = 0; b < count; b += 1)
      if (a !== b) distance[a * count + b] = cost.between(place[a] ?? 0, place[b] ?? 0);
  if (!closed) {
    distance[jobs * count + jobs + 1] = HELD;
    distance[(jobs + 1) * count + jobs] = HELD;
  }
  const start: number[] = [jobs];
  for (let node = state.next[jobs] ?? jobs; node < jobs; node = state.next[node] ?? jobs) start.push(node);
  if (!closed) start.push(jobs + 1);
  const tour = createTour(count, distance, start, random);

  return { step, snapshot };

  function step(iterations: number): boolean {
    const before = tour.length();
    tour.step(iterations * KICKS);
    return tour.length() < before;
  }

  function snapshot(): Int32Array {
    const order = tour.order();
    const at = order.indexOf(jobs);
    const list = Array.from({ length: count - 1 }, (_, k) => order[(at + 1 + k) % count] ?? 0);
    // The end stands beside the start: after it, and the tour is read backwards, or before it.
    const inner = list.filter((node) => node < jobs);
    return Int32Array.of(0, jobs, ...(!closed && list[0] === jobs + 1 ? inner.reverse() : inner));
  }
}
