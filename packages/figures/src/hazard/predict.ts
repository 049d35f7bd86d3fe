import { normalQuantile } from '../special.ts';
import type { HazardFit } from './model.ts';
import { effectsShare, varianceWith } from './variance.ts';

export interface HazardAt {
  /** mean of the linear predictor, and its standard error */
  readonly eta: number;
  readonly standardError: number;
}

/** Where a new look stands: its unit, or the nearest group that the fit knows; `level` above the top = nothing known. */
export interface HazardPlace {
  readonly level: number;
  readonly node: number;
}

/**
 * The linear predictor for a look with these columns. Levels below `place` are new to the fit: their spread is added to the
 * uncertainty.
 */
export function hazardAt(fit: HazardFit, x: ArrayLike<number>, place: HazardPlace): HazardAt {
  const { columns, coefficients, shift, levels, parents } = fit;
  let eta = 0;
  for (let j = 0; j < columns; j += 1) eta += (x[j] ?? 0) * ((coefficients[j] ?? 0) + (shift[j] ?? 0));
  let node = place.node;
  for (let level = place.level; level < levels.length; level += 1) {
    eta += (levels[level]?.effect[node] ?? 0) + (levels[level]?.shift[node] ?? 0);
    node = parents[level]?.[node] ?? 0;
  }
  const share = effectsShare(levels, parents, columns, place.node, place.level);
  let variance = varianceWith(share, fit.covariance, x);
  for (let level = 0; level < Math.min(place.level, levels.length); level += 1)
    variance += (levels[level]?.spread ?? 0) ** 2;
  return { eta, standardError: Math.sqrt(Math.max(0, variance)) };
}

export interface HazardChance {
  /** mean chance over what is not known */
  readonly chance: number;
  readonly lower: number;
  readonly upper: number;
}

/** Chance of a hit with its interval (of `confidence`, such as 0.9). */
export function hazardChance(at: HazardAt, confidence: number): HazardChance {
  const reach = normalQuantile(1 - (1 - confidence) / 2) * at.standardError;
  return { chance: meanChance(at), lower: logistic(at.eta - reach), upper: logistic(at.eta + reach) };
}

export function logistic(eta: number): number {
  const e = Math.exp(-Math.abs(eta));
  return eta >= 0 ? 1 / (1 + e) : e / (1 + e);
}

/** Mean of a logistic of a normal variate, by Gauss and Hermite's rule with 9 points. */
export function meanChance({ eta, standardError }: HazardAt): number {
  let sum = 0;
  for (const { at, weight } of NORMAL_NODES) sum += weight * logistic(eta + standardError * at);
  return sum;
}

/** Points and weights for the mean of a function of a standard normal variate (Abramowitz and Stegun 1964, table 25.10, n = 9, rescaled). */
export const NORMAL_NODES: readonly { readonly at: number; readonly weight: number }[] = [
  [0, 0.720_235_215_606_051],
  [0.723_551_018_752_837_6, 0.432_651_559_002_555_8],
  [1.468_553_289_216_668, 0.088_474_527_394_376_57],
  [2.266_580_584_531_843, 0.004_943_624_275_536_947],
  [3.190_993_201_781_528, 0.000_039_606_977_263_264_38],
].flatMap(([root = 0, raw = 0]) => {
  const weight = raw / Math.sqrt(Math.PI);
  const at = root * Math.SQRT2;
  return root === 0
    ? [{ at, weight }]
    : [
        { at: -at, weight },
        { at, weight },
      ];
});
