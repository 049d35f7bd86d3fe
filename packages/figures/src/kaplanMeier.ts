import { normalQuantile } from './special.ts';

/** One subject: how long it was watched, and whether the event came at the end of that time or the watching merely ended. */
export interface Watched {
  /** 0 or more, any unit, the same for all */
  readonly time: number;
  readonly event: boolean;
}

export interface SurvivalStep {
  /** A time at which events happened; the curve falls here. */
  readonly time: number;
  readonly atRisk: number;
  readonly events: number;
  /** Share still without the event after this time. */
  readonly survival: number;
  /** Greenwood's standard error of `survival`. */
  readonly standardError: number;
  /** log-log interval; null where the share is 0 or 1 */
  readonly interval: { readonly lower: number; readonly upper: number } | null;
}

export interface SurvivalCurve {
  readonly subjects: number;
  readonly events: number;
  readonly steps: readonly SurvivalStep[];
  /** The first time at which half or fewer are left; null while more are. */
  readonly median: number | null;
}

/**
 * Share without the event over time (Kaplan and Meier 1958, JASA 53, 457-481), with Greenwood's variance and intervals on the log-log
 * scale (Kalbfleisch and Prentice 1980). A subject watched until an event time counts as at risk at it.
 * Undefined without a subject.
 */
export function kaplanMeier(subjects: readonly Watched[], confidence: number): SurvivalCurve | undefined {
  if (subjects.length === 0) return undefined;
  checkTimes(subjects);
  const z = normalQuantile(1 - (1 - confidence) / 2);
  const byTime = [...subjects].sort((a, b) => a.time - b.time);
  const steps: SurvivalStep[] = [];
  let atRisk = byTime.length;
  let survival = 1;
  let greenwood = 0;
  for (let index = 0; index < byTime.length; ) {
    const time = byTime[index]?.time ?? 0;
    let events = 0;
    let leaving = 0;
    for (; byTime[index + leaving]?.time === time; leaving += 1)
      if (byTime[index + leaving]?.event === true) events += 1;
    if (events > 0) {
      survival *= (atRisk - events) / atRisk;
      greenwood += atRisk === events ? Number.POSITIVE_INFINITY : events / (atRisk * (atRisk - events));
      const standardError = survival === 0 ? 0 : survival * Math.sqrt(greenwood);
      steps.push({
        time,
        atRisk,
        events,
        survival,
        standardError,
        interval: logLogInterval(survival, greenwood, z),
      });
    }
    atRisk -= leaving;
    index += leaving;
  }
  const half = steps.find((step) => step.survival <= 0.5 + 1e-12);
  return {
    subjects: subjects.length,
    events: steps.reduce((sum, step) => sum + step.events, 0),
    steps,
    median: half?.time ?? null,
  };
}

function checkTimes(subjects: readonly Watched[]): void {
  for (const { time } of subjects)
    if (!(time >= 0) || !Number.isFinite(time)) throw new RangeError(`a time is 0 or more, not ${time}`);
}

function logLogInterval(survival: number, greenwood: number, z: number): SurvivalStep['interval'] {
  if (survival <= 0 || survival >= 1) return null;
  const spread = (z * Math.sqrt(greenwood)) / Math.log(survival);
  return { lower: survival ** Math.exp(-spread), upper: survival ** Math.exp(spread) };
}

/** Mean time without the event up to `horizon`: the area under the curve to there (Irwin 1949). */
export function restrictedMean(curve: SurvivalCurve, horizon: number): number {
  if (!(horizon >= 0)) throw new RangeError(`a horizon is 0 or more, not ${horizon}`);
  let area = 0;
  let from = 0;
  let survival = 1;
  for (const step of curve.steps) {
    if (step.time >= horizon) break;
    area += (step.time - from) * survival;
    from = step.time;
    survival = step.survival;
  }
  return area + (horizon - from) * survival;
}
