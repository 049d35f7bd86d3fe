import type { Watched } from './kaplanMeier.ts';
import { chiSquareTail } from './special.ts';

export interface LogRank {
  readonly chiSquare: number;
  /** chance of so large a difference where there is none */
  readonly p: number;
  readonly observed: readonly [number, number];
  readonly expected: readonly [number, number];
}

/**
 * Log-rank test of two groups (Mantel 1966; Peto and Peto 1972), with the hypergeometric variance.
 * Undefined where the groups say nothing of each other: an empty group, or no event while both are at risk.
 */
export function logRank(a: readonly Watched[], b: readonly Watched[]): LogRank | undefined {
  const times = [...new Set([...a, ...b].filter((one) => one.event).map((one) => one.time))].sort(
    (x, y) => x - y,
  );
  let observedA = 0;
  let observedB = 0;
  let expectedA = 0;
  let variance = 0;
  for (const time of times) {
    const riskA = a.filter((one) => one.time >= time).length;
    const riskB = b.filter((one) => one.time >= time).length;
    const eventsA = a.filter((one) => one.event && one.time === time).length;
    const eventsB = b.filter((one) => one.event && one.time === time).length;
    const risk = riskA + riskB;
    const events = eventsA + eventsB;
    observedA += eventsA;
    observedB += eventsB;
    expectedA += (events * riskA) / risk;
    if (risk > 1) variance += (riskA * riskB * events * (risk - events)) / (risk * risk * (risk - 1));
  }
  if (variance === 0) return undefined;
  const chiSquare = (observedA - expectedA) ** 2 / variance;
  const expectedB = observedA + observedB - expectedA;
  return {
    chiSquare,
    p: chiSquareTail(chiSquare, 1),
    observed: [observedA, observedB],
    expected: [expectedA, expectedB],
  };
}
