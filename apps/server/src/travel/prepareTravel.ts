import { setImmediate as breathe } from 'node:timers/promises';
import { greatCircleTable, nearPlaces, roadTable, type TravelTable } from '@sillwatch/rounds';
import type { Place } from '@sillwatch/trade';
import { cacheKeyOf, type PairToKeep, type TravelCache } from './cache.ts';
import { type RoadSource, RoadSourceError } from './roadSource.ts';

export interface TravelTask {
  readonly places: readonly Place[];
  /** Numbers of places that are asked about to and from everywhere: where rounds begin and end. */
  readonly hubs: readonly number[];
  readonly signal: AbortSignal;
  readonly onProgress?: (done: number, total: number) => void;
}

/** Nearest places asked about for each place: beyond them, the great circle scaled to these is near enough. */
export const NEAR_PLACES = 60;
/** Origins of one question: neighbours, so that their near places are mostly the same. */
const ORIGINS = 25;
/** Questions at once. */
const AT_ONCE = 2;

/**
 * Travel between the places of a plan: from the road source and its cache for near pairs, estimated for all others.
 * A source that fails is not asked further; the plan then says so. Rejects only when `signal` says stop.
 */
export async function prepareTravel(
  source: RoadSource | undefined,
  cache: TravelCache,
  task: TravelTask,
): Promise<TravelTable> {
  const { places, signal } = task;
  if (source === undefined) return greatCircleTable(places);
  const near = withHubs(nearPlaces(places, NEAR_PLACES), task.hubs);
  const found = near.map((to) => ({
    to,
    seconds: new Int32Array(to.length).fill(-1),
    metres: new Int32Array(to.length).fill(-1),
  }));
  const missing: (readonly number[])[] = [];
  for (const [p, row] of found.entries()) {
    const place = places[p];
    const known = place === undefined ? new Map() : cache.read(source.cacheKey, place);
    const open: number[] = [];
    row.to.forEach((q, k) => {
      const there = places[q];
      const pair = there === undefined ? undefined : known.get(cacheKeyOf(there));
      if (pair === undefined) open.push(k);
      else {
        row.seconds[k] = pair.seconds;
        row.metres[k] = pair.metres;
      }
    });
    missing.push(open);
    if (p % 100 === 99) await breathe();
  }
  const failure = await askMissing(source, cache, task, found, missing);
  signal.throwIfAborted();
  const total = found.reduce((sum, { to }) => sum + to.length, 0);
  const open = missing.reduce((sum, pairs) => sum + pairs.length, 0);
  if (failure === undefined) return roadTable(source.source, places, found);
  const why = `${source.name} failed: ${failure.message}`;
  // What was never answered stays -1, and is estimated.
  if (open === total) return greatCircleTable(places, undefined, [`${why}; all distances are estimated`]);
  return roadTable(source.source, places, found, [
    `${why}; up to ${open} of ${total} near pairs are estimated`,
  ]);
}

interface Row {
  readonly to: Int32Array;
  readonly seconds: Int32Array;
  readonly metres: Int32Array;
}

async function askMissing(
  source: RoadSource,
  cache: TravelCache,
  task: TravelTask,
  found: readonly Row[],
  missing: readonly (readonly number[])[],
): Promise<RoadSourceError | undefined> {
  const { places, signal, onProgress } = task;
  const questions = listQuestions(places, found, missing, source.mostPlaces);
  const rest = questions.values();
  let done = 0;
  let failure: RoadSourceError | undefined;
  const work = async (): Promise<void> => {
    for (const { origins, destinations } of rest) {
      if (failure !== undefined) return;
      try {
        const pick = (numbers: readonly number[]): readonly Place[] =>
          numbers.flatMap((p) => places[p] ?? []);
        const answer = await source.askTable(pick(origins), pick(destinations), signal);
        keepAnswer(source.cacheKey, cache, places, found, origins, destinations, answer);
      } catch (error) {
        signal.throwIfAborted();
        if (!(error instanceof RoadSourceError)) throw error;
        failure ??= error;
        return;
      }
      done += 1;
      onProgress?.(done, questions.length);
    }
  };
  await Promise.all(Array.from({ length: AT_ONCE }, work));
  return failure;
}

interface Question {
  readonly origins: readonly number[];
  readonly destinations: readonly number[];
}

function listQuestions(
  places: readonly Place[],
  found: readonly Row[],
  missing: readonly (readonly number[])[],
  mostPlaces: number,
): readonly Question[] {
  const questions: Question[] = [];
  const asking = places.flatMap((_, p) => ((missing[p]?.length ?? 0) > 0 ? [p] : []));
  const size = Math.max(1, Math.min(ORIGINS, mostPlaces - 1));
  const order = byNeighbourhood(places, asking);
  for (let from = 0; from < order.length; from += size) {
    const origins = order.slice(from, from + size);
    const wanted = new Set(origins.flatMap((p) => (missing[p] ?? []).map((k) => found[p]?.to[k] ?? p)));
    const destinations = [...wanted].sort((a, b) => a - b);
    const step = Math.max(1, mostPlaces - origins.length);
    for (let at = 0; at < destinations.length; at += step)
      questions.push({ origins, destinations: destinations.slice(at, at + step) });
  }
  return questions;
}

function keepAnswer(
  cacheKey: string,
  cache: TravelCache,
  places: readonly Place[],
  found: readonly Row[],
  origins: readonly number[],
  destinations: readonly number[],
  answer: { readonly seconds: Int32Array; readonly metres: Int32Array },
): void {
  const kept: PairToKeep[] = [];
  origins.forEach((p, row) => {
    const { to, seconds: toSeconds, metres: toMetres } = found[p] ?? NO_ROW;
    destinations.forEach((q, column) => {
      const k = indexOf(to, q);
      const from = places[p];
      const there = places[q];
      if (k < 0 || from === undefined || there === undefined) return;
      const at = row * destinations.length + column;
      const seconds = answer.seconds[at] ?? -1;
      const metres = answer.metres[at] ?? -1;
      toSeconds[k] = seconds;
      toMetres[k] = metres;
      kept.push({ from, to: there, seconds, metres });
    });
  });
  cache.write(cacheKey, kept);
}

const NO_ROW: Row = { to: new Int32Array(0), seconds: new Int32Array(0), metres: new Int32Array(0) };

/** Binary search in an ascending list; -1 = not there. */
function indexOf(list: Int32Array, wanted: number): number {
  let low = 0;
  let high = list.length - 1;
  while (low <= high) {
    const middle = (low + high) >> 1;
    const value = list[middle] ?? 0;
    if (value === wanted) return middle;
    if (value < wanted) low = middle + 1;
    else high = middle - 1;
  }
  return -1;
}

function withHubs(near: readonly Int32Array[], hubs: readonly number[]): readonly Int32Array[] {
  if (hubs.length === 0) return near;
  const isHub = new Set(hubs);
  const all = Int32Array.from(near.keys());
  return near.map((to, p) =>
    isHub.has(p)
      ? all.filter((q) => q !== p)
      : Int32Array.from(new Set([...to, ...hubs]))
          .filter((q) => q !== p)
          .sort(),
  );
}

/** In strips of a grid from west to east and back, so that places after each other are near each other. */
function byNeighbourhood(places: readonly Place[], numbers: readonly number[]): readonly number[] {
  const south = places.reduce((least, { latitude }) => Math.min(least, latitude), 90);
  const north = places.reduce((most, { latitude }) => Math.max(most, latitude), -90);
  const strips = Math.max(1, Math.round(Math.sqrt(numbers.length / ORIGINS)));
  const high = Math.max((north - south) / strips, 1e-9);
  const stripOf = (p: number): number => Math.floor(((places[p]?.latitude ?? south) - south) / high);
  const along = (p: number): number => (places[p]?.longitude ?? 0) * (stripOf(p) % 2 === 0 ? 1 : -1);
  return [...numbers].sort((a, b) => stripOf(a) - stripOf(b) || along(a) - along(b) || a - b);
}
