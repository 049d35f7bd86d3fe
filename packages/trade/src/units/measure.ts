import type { Branded } from './brand.ts';

export type Metres = Branded<'metres'>;
export type Grams = Branded<'grams'>;
export type Seconds = Branded<'seconds'>;

function isMetres(value: number): value is Metres {
  return Number.isFinite(value);
}
function isGrams(value: number): value is Grams {
  return Number.isFinite(value) && value >= 0;
}
function isSeconds(value: number): value is Seconds {
  return Number.isFinite(value) && value >= 0;
}

/** Throws a RangeError unless finite; may be negative (a coordinate). */
export function metres(value: number): Metres {
  if (!isMetres(value)) throw new RangeError(`not a length in metres: ${value}`);
  return value;
}
/** Throws a RangeError unless finite and 0 or more. */
export function grams(value: number): Grams {
  if (!isGrams(value)) throw new RangeError(`not a mass in grams: ${value}`);
  return value;
}
/** Throws a RangeError unless finite and 0 or more. */
export function seconds(value: number): Seconds {
  if (!isSeconds(value)) throw new RangeError(`not a duration in seconds: ${value}`);
  return value;
}

/** Exactly 0.3048 m: the international foot, the only one since 2023 (NIST, 85 FR 62698). */
export const METRES_PER_FOOT = 0.3048;
/** Exactly 28.349523125 g: the avoirdupois ounce (NIST SP 811, appendix B). */
export const GRAMS_PER_OUNCE = 28.349_523_125;
