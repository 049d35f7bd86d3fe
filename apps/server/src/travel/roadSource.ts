import type { Place, TravelSource } from '@sillwatch/trade';

/** Something that knows roads: a service over HTTP, or a road network in this process. */
export interface RoadSource {
  readonly source: TravelSource;
  /** For notes on plans, in words: "the road service at localhost:5000". */
  readonly name: string;
  /** Answers are kept under it; another network, profile or address has another. */
  readonly cacheKey: string;
  /** Origins and destinations together in one question. */
  readonly mostPlaces: number;
  /** Every origin to every destination by road. Throws a RoadSourceError when it cannot answer. */
  askTable(
    origins: readonly Place[],
    destinations: readonly Place[],
    signal: AbortSignal,
  ): Promise<RoadAnswer>;
}

/** Row by row, one row an origin, whole seconds and metres; -1 = it knows no way. */
export interface RoadAnswer {
  readonly seconds: Int32Array;
  readonly metres: Int32Array;
}

/** The source cannot answer; the message says why in words. */
export class RoadSourceError extends Error {
  override readonly name = 'RoadSourceError';
}

/** Whole numbers of an answer's row-by-row table; null = no way. Throws a RoadSourceError for anything else. */
export function flattenRows(
  rows: unknown,
  origins: number,
  destinations: number,
  factor: number,
  what: string,
): Int32Array {
  const flat = new Int32Array(origins * destinations).fill(-1);
  if (!Array.isArray(rows) || rows.length !== origins)
    throw new RoadSourceError(`its answer has no ${what} for every origin`);
  rows.forEach((row: unknown, from) => {
    if (!Array.isArray(row) || row.length !== destinations)
      throw new RoadSourceError(`its answer has no ${what} for every destination`);
    row.forEach((value: unknown, to) => {
      if (value === null) return;
      const whole = typeof value === 'number' ? Math.round(value * factor) : Number.NaN;
      if (!(whole >= 0 && whole <= MOST_VALUE))
        throw new RoadSourceError(`its answer has ${JSON.stringify(value)} among the ${what}`);
      flat[from * destinations + to] = whole;
    });
  });
  return flat;
}

/** Seconds or metres: more than half the way round the world is no answer. */
const MOST_VALUE = 20_000_000;
