import { chiSquareTail, incompleteBeta } from './special.ts';

/** Between these a share or ratio lies by chance alone, with the chance that was asked for. */
export interface Limits {
  readonly lower: number;
  readonly upper: number;
}

/**
 * Exact limits of a share about a target, `trials` in number (more than 0, need not be whole): the binomial quantiles, interpolated so
 * that the funnel has no teeth (Spiegelhalter 2005, Statistics in Medicine 24, 1185-1202, appendix A.1). `inside` = chance of lying
 * between, such as 0.95 or 0.998.
 */
export function binomialLimits(target: number, trials: number, inside: number): Limits {
  if (!(target >= 0 && target <= 1))
    throw new RangeError(`a target share lies between 0 and 1, not at ${target}`);
  if (!(trials > 0)) throw new RangeError(`trials are more than 0, not ${trials}`);
  if (target === 0 || target === 1) return { lower: target, upper: target };
  const atMost = (count: number): number =>
    count < 0 ? 0 : count >= trials ? 1 : 1 - incompleteBeta(target, count + 1, trials - count);
  return ends(atMost, inside, trials, (quantile) => Math.min(1, quantile / trials));
}

/** As binomialLimits, for a count over the count that is expected (more than 0): limits of their ratio. */
export function poissonLimits(expected: number, inside: number): Limits {
  if (!(expected > 0) || !Number.isFinite(expected))
    throw new RangeError(`an expected count is more than 0, not ${expected}`);
  const atMost = (count: number): number => (count < 0 ? 0 : chiSquareTail(2 * expected, 2 * count + 2));
  return ends(atMost, inside, Number.POSITIVE_INFINITY, (quantile) => quantile / expected);
}

function ends(
  atMost: (count: number) => number,
  inside: number,
  most: number,
  toValue: (quantile: number) => number,
): Limits {
  if (!(inside > 0 && inside < 1)) throw new RangeError(`a chance lies between 0 and 1, not at ${inside}`);
  const tail = (1 - inside) / 2;
  return {
    lower: Math.max(0, toValue(smoothQuantile(atMost, tail, most))),
    upper: toValue(smoothQuantile(atMost, 1 - tail, most)),
  };
}

/** The least count with a chance of at most it of `p` or more, less the part of its own chance that is over. */
function smoothQuantile(atMost: (count: number) => number, p: number, most: number): number {
  let high = 1;
  while (high < most && atMost(high) < p) high *= 2;
  let low = -1;
  high = Math.min(high, Math.ceil(most));
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (atMost(middle) >= p) high = middle;
    else low = middle;
  }
  const over = atMost(high) - p;
  const own = atMost(high) - atMost(high - 1);
  return own > 0 ? high - over / own : high;
}

/** One cluster (a property): events of trials. */
export interface Cluster {
  readonly events: number;
  readonly trials: number;
}

/**
 * By how much clusters make a share less certain than as many independent trials would (Rao and Scott 1992, Biometrics 48, 577-585): the
 * ratio of the variances, at least 1. Trials divided by it may be taken for independent. 1 with fewer than two clusters.
 */
export function designEffect(clusters: readonly Cluster[]): number {
  const filled = clusters.filter(({ trials }) => trials > 0);
  const trials = filled.reduce((sum, one) => sum + one.trials, 0);
  const events = filled.reduce((sum, one) => sum + one.events, 0);
  const share = events / trials;
  if (filled.length < 2 || events === 0 || events === trials) return 1;
  const squares = filled.reduce((sum, one) => sum + (one.events - one.trials * share) ** 2, 0);
  const clustered = (filled.length / (filled.length - 1)) * (squares / (trials * trials));
  return Math.max(1, clustered / ((share * (1 - share)) / trials));
}
