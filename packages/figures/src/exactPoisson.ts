import type { Interval } from './exactBinomial.ts';
import { chiSquareTail } from './special.ts';

/**
 * Exact interval of a rate (Garwood 1936, Biometrika 28, 437-442): `events` seen over `exposure` (station-quarters, say). Undefined
 * without exposure: then there is too little to say.
 */
export function exactPoisson(events: number, exposure: number, confidence: number): Interval | undefined {
  if (!Number.isInteger(events) || events < 0)
    throw new RangeError(`events are a whole number from 0, not ${events}`);
  if (!(exposure >= 0) || !Number.isFinite(exposure))
    throw new RangeError(`exposure is 0 or more, not ${exposure}`);
  if (!(confidence > 0 && confidence < 1))
    throw new RangeError(`a confidence lies between 0 and 1, not at ${confidence}`);
  if (exposure === 0) return undefined;
  const tail = (1 - confidence) / 2;
  return {
    estimate: events / exposure,
    lower: events === 0 ? 0 : chiSquareWithTail(1 - tail, 2 * events) / 2 / exposure,
    upper: chiSquareWithTail(tail, 2 * events + 2) / 2 / exposure,
  };
}

/** The value that a chi-square variate exceeds with this chance (0 to 1, exclusive), by bisection to the last bit. */
export function chiSquareWithTail(chance: number, degrees: number): number {
  if (!(chance > 0 && chance < 1)) throw new RangeError(`a chance lies between 0 and 1, not at ${chance}`);
  let low = 0;
  let high = degrees + 10;
  while (chiSquareTail(high, degrees) > chance) high *= 2;
  for (let step = 0; step < 200; step += 1) {
    const middle = (low + high) / 2;
    if (middle === low || middle === high) break;
    if (chiSquareTail(middle, degrees) > chance) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
