import type { SurvivalCurve } from './kaplanMeier.ts';

/**
 * Interval of the median, by where the curve's own limits cross a half (Brookmeyer and Crowley 1982, Biometrics 38, 29-41). A null end
 * lies beyond what was watched.
 */
export function medianInterval(curve: SurvivalCurve): {
  readonly lower: number | null;
  readonly upper: number | null;
} {
  const crossing = (limitOf: (step: SurvivalCurve['steps'][number]) => number | undefined): number | null =>
    curve.steps.find((step) => (limitOf(step) ?? 1) <= 0.5 + 1e-12)?.time ?? null;
  return { lower: crossing((step) => step.interval?.lower), upper: crossing((step) => step.interval?.upper) };
}

export interface RestrictedMean {
  readonly mean: number;
  readonly standardError: number;
}

/**
 * Mean time without the event up to `horizon`, with its standard error: areas to the right of each fall, weighed by Greenwood's terms
 * (Klein and Moeschberger 2003, section 4.5, without their small-sample factor).
 */
export function restrictedMeanWithError(curve: SurvivalCurve, horizon: number): RestrictedMean {
  if (!(horizon >= 0)) throw new RangeError(`a horizon is 0 or more, not ${horizon}`);
  const steps = curve.steps.filter((step) => step.time < horizon);
  let areaRight = 0;
  let variance = 0;
  for (let index = steps.length - 1; index >= 0; index -= 1) {
    const step = steps[index];
    if (step === undefined) continue;
    areaRight += step.survival * ((steps[index + 1]?.time ?? horizon) - step.time);
    const left = step.atRisk - step.events;
    if (left > 0) variance += (areaRight * areaRight * step.events) / (step.atRisk * left);
  }
  return { mean: (steps[0]?.time ?? horizon) + areaRight, standardError: Math.sqrt(variance) };
}

/** Share without the event at a time, with its interval as it stands then; undefined once nobody is watched any longer. */
export function survivalAt(
  curve: SurvivalCurve,
  time: number,
): {
  readonly survival: number;
  readonly interval: { readonly lower: number; readonly upper: number } | null;
} {
  const step = curve.steps.findLast((one) => one.time <= time);
  return step === undefined
    ? { survival: 1, interval: null }
    : { survival: step.survival, interval: step.interval };
}
