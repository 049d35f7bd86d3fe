import { exactBinomial, type Interval } from './exactBinomial.ts';
import { chiSquareTail } from './special.ts';

/** A chance that was promised before, and what came. */
export interface Promised {
  readonly chance: number;
  readonly happened: boolean;
}

export interface CalibrationBand {
  readonly cases: number;
  readonly happened: number;
  /** mean of the promised chances */
  readonly promised: number;
  /** share that happened, with its exact interval */
  readonly seen: Interval;
}

export interface Calibration {
  readonly cases: number;
  readonly happened: number;
  /** sum of all promised chances */
  readonly expected: number;
  /** mean squared error of the chances (Brier 1950) */
  readonly brier: number;
  /** chance of so poor a fit where every promise is right (Spiegelhalter 1986, Statistics in Medicine 5, 421-433) */
  readonly p: number | null;
  readonly bands: readonly CalibrationBand[];
}

/** Promises against what came, in bands of about equal expected number of events, lowest chances first. Undefined without a case. */
export function calibrate(
  promises: readonly Promised[],
  bands: number,
  confidence: number,
): Calibration | undefined {
  if (!Number.isInteger(bands) || bands < 1)
    throw new RangeError(`bands are a whole number from 1, not ${bands}`);
  for (const { chance } of promises)
    if (!(chance >= 0 && chance <= 1))
      throw new RangeError(`a chance lies between 0 and 1, not at ${chance}`);
  if (promises.length === 0) return undefined;
  const sorted = [...promises].sort((a, b) => a.chance - b.chance);
  const expected = sorted.reduce((sum, { chance }) => sum + chance, 0);
  const found: CalibrationBand[] = [];
  let from = 0;
  let reached = 0;
  for (let band = 1; band <= bands; band += 1) {
    let to = from;
    while (to < sorted.length && (band === bands || reached < (expected * band) / bands)) {
      reached += sorted[to]?.chance ?? 0;
      to += 1;
    }
    const of = sorted.slice(from, to);
    from = to;
    const happened = of.filter((one) => one.happened).length;
    const seen = exactBinomial(happened, of.length, confidence);
    if (seen === undefined) continue;
    found.push({
      cases: of.length,
      happened,
      promised: of.reduce((sum, { chance }) => sum + chance, 0) / of.length,
      seen,
    });
  }
  return {
    cases: sorted.length,
    happened: sorted.filter((one) => one.happened).length,
    expected,
    brier:
      sorted.reduce((sum, { chance, happened }) => sum + (chance - (happened ? 1 : 0)) ** 2, 0) /
      sorted.length,
    p: spiegelhalterTest(sorted),
    bands: found,
  };
}

function spiegelhalterTest(promises: readonly Promised[]): number | null {
  let sum = 0;
  let variance = 0;
  for (const { chance, happened } of promises) {
    sum += ((happened ? 1 : 0) - chance) * (1 - 2 * chance);
    variance += (1 - 2 * chance) ** 2 * chance * (1 - chance);
  }
  return variance === 0 ? null : chiSquareTail((sum * sum) / variance, 1);
}
