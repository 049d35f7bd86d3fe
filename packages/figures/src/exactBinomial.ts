import { inverseIncompleteBeta } from './special.ts';

/** An estimate with its interval; all between 0 and 1. */
export interface Interval {
  readonly estimate: number;
  readonly lower: number;
  readonly upper: number;
}

/**
 * Exact two-sided interval of a proportion (Clopper and Pearson 1934, Biometrika 26, 404-413): `events` of `trials`,
 * `confidence` such as 0.95. Undefined without a trial: then there is too little to say.
 * @example exactBinomial(18, 19, 0.95) // 0.947, from 0.740 to 0.999
 */
export function exactBinomial(events: number, trials: number, confidence: number): Interval | undefined {
  if (!Number.isInteger(events) || !Number.isInteger(trials) || events < 0 || events > trials) {
    throw new RangeError(`events must be a whole number from 0 to the trials, not ${events} of ${trials}`);
  }
  if (!(confidence > 0 && confidence < 1))
    throw new RangeError(`a confidence lies between 0 and 1, not at ${confidence}`);
  if (trials === 0) return undefined;
  return clopperPearson(events, trials - events, confidence);
}

/** The interval for `events` and `others` of a kind, which need not be whole but are not both 0. */
export function clopperPearson(events: number, others: number, confidence: number): Interval {
  const tail = (1 - confidence) / 2;
  return {
    estimate: events / (events + others),
    lower: events === 0 ? 0 : inverseIncompleteBeta(tail, events, others + 1),
    upper: others === 0 ? 1 : inverseIncompleteBeta(1 - tail, events + 1, others),
  };
}
