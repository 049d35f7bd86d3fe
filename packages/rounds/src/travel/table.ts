import type { Place, TravelSource } from '@sillwatch/trade';
import {
  GREAT_CIRCLE,
  type GreatCircleSettings,
  greatCircleTravel,
  type PlaceTravel,
  type TravelOf,
} from '../plan/travel.ts';

/**
 * Travel between numbered places as plain data, so that it can be handed to another thread or kept on disk. Near pairs
 * are as the source gave them; all others are estimated from the great circle and scaled to agree with them.
 */
export interface TravelTable {
  readonly source: TravelSource;
  /** To be said on every plan besides the source, in words: what fell back, and why. */
  readonly notes: readonly string[];
  readonly places: readonly Place[];
  /** The near places of place p are `to[first[p]]` to `to[first[p + 1] - 1]`, ascending. */
  readonly first: Int32Array;
  readonly to: Int32Array;
  /** Of each near pair, by road, there and not back; -1 = the source knows no way. */
  readonly seconds: Int32Array;
  readonly metres: Int32Array;
  readonly estimate: GreatCircleSettings;
  /** What the estimate is multiplied by to agree with the near pairs; 1 where there are none. */
  readonly secondsFactor: number;
  readonly metresFactor: number;
}

/** What a source answered for the near places of one place, in their order; -1 = it knows no way. */
export interface NearAnswers {
  readonly to: Int32Array;
  readonly seconds: Int32Array;
  readonly metres: Int32Array;
}

/** Offline: every pair is estimated, none is near. */
export function greatCircleTable(
  places: readonly Place[],
  estimate: GreatCircleSettings = GREAT_CIRCLE,
  notes: readonly string[] = [],
): TravelTable {
  const none = new Int32Array(0);
  return {
    source: 'great circle',
    notes,
    places,
    first: new Int32Array(places.length + 1),
    to: none,
    seconds: none,
    metres: none,
    estimate,
    secondsFactor: 1,
    metresFactor: 1,
  };
}

/** Puts together what a road source answered, one entry a place, and fits the estimate of all other pairs to it. */
export function roadTable(
  source: TravelSource,
  places: readonly Place[],
  answers: readonly NearAnswers[],
  notes: readonly string[] = [],
  estimate: GreatCircleSettings = GREAT_CIRCLE,
): TravelTable {
  const first = new Int32Array(places.length + 1);
  for (let p = 0; p < places.length; p += 1) first[p + 1] = (first[p] ?? 0) + (answers[p]?.to.length ?? 0);
  const total = first[places.length] ?? 0;
  const to = new Int32Array(total);
  const seconds = new Int32Array(total).fill(-1);
  const metres = new Int32Array(total).fill(-1);
  answers.forEach((answer, p) => {
    const order = [...answer.to.keys()].sort((a, b) => (answer.to[a] ?? 0) - (answer.to[b] ?? 0));
    order.forEach((k, n) => {
      const at = (first[p] ?? 0) + n;
      to[at] = answer.to[k] ?? 0;
      seconds[at] = answer.seconds[k] ?? -1;
      metres[at] = answer.metres[k] ?? -1;
    });
  });
  const bare = { ...greatCircleTable(places, estimate, notes), source, first, to, seconds, metres };
  return { ...bare, ...fitFactors(bare) };
}

/** The ratio of the sums over all near pairs that are known. */
function fitFactors(table: TravelTable): Pick<TravelTable, 'secondsFactor' | 'metresFactor'> {
  const { first, to, seconds, metres } = table;
  const guess = greatCircleTravel(table.estimate)(table.places);
  const sums = { seconds: 0, metres: 0, guessedSeconds: 0, guessedMetres: 0 };
  for (let p = 0; p < table.places.length; p += 1) {
    for (let k = first[p] ?? 0; k < (first[p + 1] ?? 0); k += 1) {
      const there = to[k] ?? 0;
      if ((seconds[k] ?? -1) < 0) continue;
      sums.seconds += seconds[k] ?? 0;
      sums.metres += metres[k] ?? 0;
      sums.guessedSeconds += guess.seconds(p, there);
      sums.guessedMetres += guess.metres(p, there);
    }
  }
  return {
    secondsFactor: sums.guessedSeconds > 0 ? sums.seconds / sums.guessedSeconds : 1,
    metresFactor: sums.guessedMetres > 0 ? sums.metres / sums.guessedMetres : 1,
  };
}

/**
 * A table made ready for the questions of a plan. Places are found in it by their coordinates; one that is not in it is
 * estimated. A place to itself, or to another at the same spot, is 0.
 */
export function tableTravel(table: TravelTable): TravelOf {
  const numberOf = new Map(table.places.map((place, p) => [keyOf(place), p]));
  return (asked) => {
    const numbers = Int32Array.from(asked, (place) => numberOf.get(keyOf(place)) ?? -1);
    const guess = greatCircleTravel(table.estimate)(asked);
    const scaled = (estimate: number, factor: number): number => Math.round(estimate * factor);
    const near = (from: number, there: number): number =>
      findNear(table, numbers[from] ?? -1, numbers[there] ?? -1);
    const isSame = (from: number, there: number): boolean =>
      from === there || ((numbers[from] ?? -1) >= 0 && numbers[from] === numbers[there]);
    const travel: PlaceTravel = {
      source: table.source,
      seconds: (from, there) => {
        if (isSame(from, there)) return 0;
        const k = near(from, there);
        return k < 0 ? scaled(guess.seconds(from, there), table.secondsFactor) : (table.seconds[k] ?? 0);
      },
      metres: (from, there) => {
        if (isSame(from, there)) return 0;
        const k = near(from, there);
        return k < 0 ? scaled(guess.metres(from, there), table.metresFactor) : (table.metres[k] ?? 0);
      },
      mostSeconds: most(table.seconds, scaled(guess.mostSeconds, table.secondsFactor)),
      mostMetres: most(table.metres, scaled(guess.mostMetres, table.metresFactor)),
    };
    return travel;
  };
}

/** Index of the pair by binary search; -1 where it is not near or no way is known. */
function findNear({ first, to, seconds }: TravelTable, from: number, there: number): number {
  if (from < 0 || there < 0) return -1;
  let low = first[from] ?? 0;
  let high = (first[from + 1] ?? 0) - 1;
  while (low <= high) {
    const middle = (low + high) >> 1;
    const found = to[middle] ?? 0;
    if (found === there) return (seconds[middle] ?? -1) < 0 ? -1 : middle;
    if (found < there) low = middle + 1;
    else high = middle - 1;
  }
  return -1;
}

function most(values: Int32Array, least: number): number {
  return values.reduce((found, value) => Math.max(found, value), least);
}

/** Six decimals are a tenth of a metre: finer differences are none on a road. */
export function keyOf({ latitude, longitude }: Place): string {
  return `${latitude.toFixed(6)},${longitude.toFixed(6)}`;
}
