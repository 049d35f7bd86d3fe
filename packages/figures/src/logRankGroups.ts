import { cholesky, choleskySolve } from './cholesky.ts';
import type { Watched } from './kaplanMeier.ts';
import { chiSquareTail } from './special.ts';

export interface LogRankGroups {
  readonly chiSquare: number;
  /** groups less one */
  readonly degrees: number;
  /** chance of so large a difference where there is none */
  readonly p: number;
  readonly observed: readonly number[];
  readonly expected: readonly number[];
}

/**
 * Log-rank test of any number of groups (Peto and Peto 1972, JRSS A 135, 185-207), with the hypergeometric covariance. Undefined where the
 * groups say nothing of each other: fewer than two with subjects, or no event while two are at risk.
 */
export function logRankGroups(groups: readonly (readonly Watched[])[]): LogRankGroups | undefined {
  const count = groups.length;
  const events = listLeaving(groups);
  const atRisk = groups.map((group) => group.length);
  const observed = new Float64Array(count);
  const expected = new Float64Array(count);
  const covariance = new Float64Array(count * count);
  for (const { eventsOf, leavingOf } of events) {
    const risk = atRisk.reduce((sum, one) => sum + one, 0);
    const deaths = eventsOf.reduce((sum, one) => sum + one, 0);
    if (deaths > 0) {
      const spread = risk > 1 ? (deaths * (risk - deaths)) / (risk * risk * (risk - 1)) : 0;
      for (let a = 0; a < count; a += 1) {
        const riskA = atRisk[a] ?? 0;
        observed[a] = (observed[a] ?? 0) + (eventsOf[a] ?? 0);
        expected[a] = (expected[a] ?? 0) + (deaths * riskA) / risk;
        for (let b = 0; b < count; b += 1)
          covariance[a * count + b] =
            (covariance[a * count + b] ?? 0) + spread * riskA * ((a === b ? risk : 0) - (atRisk[b] ?? 0));
      }
    }
    leavingOf.forEach((leaving, group) => {
      atRisk[group] = (atRisk[group] ?? 0) - leaving;
    });
  }
  return testOf(observed, expected, covariance, count);
}

/** By time: events and all who leave the watch then, a group. */
function listLeaving(
  groups: readonly (readonly Watched[])[],
): readonly { readonly eventsOf: number[]; readonly leavingOf: number[] }[] {
  const byTime = new Map<number, { eventsOf: number[]; leavingOf: number[] }>();
  groups.forEach((group, index) => {
    for (const { time, event } of group) {
      let at = byTime.get(time);
      if (at === undefined) {
        at = { eventsOf: groups.map(() => 0), leavingOf: groups.map(() => 0) };
        byTime.set(time, at);
      }
      at.leavingOf[index] = (at.leavingOf[index] ?? 0) + 1;
      if (event) at.eventsOf[index] = (at.eventsOf[index] ?? 0) + 1;
    }
  });
  return [...byTime].sort(([a], [b]) => a - b).map(([, at]) => at);
}

function testOf(
  observed: Float64Array,
  expected: Float64Array,
  covariance: Float64Array,
  count: number,
): LogRankGroups | undefined {
  // Groups that were never at risk at an event say nothing; one of the others is left out, as the differences add to 0.
  const heard = [...expected.keys()].filter((group) => (covariance[group * count + group] ?? 0) > 0);
  const size = heard.length - 1;
  if (size < 1) return undefined;
  const kept = heard.slice(0, size);
  const matrix = Float64Array.from(kept.flatMap((a) => kept.map((b) => covariance[a * count + b] ?? 0)));
  const difference = Float64Array.from(kept, (a) => (observed[a] ?? 0) - (expected[a] ?? 0));
  const lower = cholesky(matrix, size);
  if (lower === undefined) return undefined;
  const solved = choleskySolve(lower, size, difference);
  const chiSquare = difference.reduce((sum, one, index) => sum + one * (solved[index] ?? 0), 0);
  return {
    chiSquare,
    degrees: size,
    p: chiSquareTail(Math.max(0, chiSquare), size),
    observed: [...observed],
    expected: [...expected],
  };
}
