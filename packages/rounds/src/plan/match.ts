import type { Day } from '@sillwatch/trade';

/** Cost of a published visit that no visit of the new plan takes over, in days: above it a pair is not the same visit. */
const UNMATCHED_DAYS = 45;

/**
 * Pairs the visits to one property in two plans, both in the order of their days and never crossing, so that the days between
 * pairs are fewest. Returns for each of `now` the index in `before`, or -1.
 */
export function matchVisits(
  before: readonly Day[],
  now: readonly { readonly earliest: Day; readonly nominal: Day; readonly latest: Day }[],
): readonly number[] {
  const width = now.length + 1;
  const cost = new Float64Array((before.length + 1) * width);
  const pairs = new Uint8Array((before.length + 1) * width);
  for (let b = before.length - 1; b >= 0; b -= 1) {
    cost[b * width + now.length] = (cost[(b + 1) * width + now.length] ?? 0) + UNMATCHED_DAYS;
    for (let n = now.length - 1; n >= 0; n -= 1) {
      const skipBefore = (cost[(b + 1) * width + n] ?? 0) + UNMATCHED_DAYS;
      const skipNow = cost[b * width + n + 1] ?? 0;
      const pair = (cost[(b + 1) * width + n + 1] ?? 0) + daysBetween(before[b], now[n]);
      cost[b * width + n] = Math.min(pair, skipBefore, skipNow);
      pairs[b * width + n] = pair <= Math.min(skipBefore, skipNow) ? 1 : skipBefore <= skipNow ? 2 : 0;
    }
  }
  const found = now.map(() => -1);
  let b = 0;
  let n = 0;
  while (b < before.length && n < now.length) {
    const way = pairs[b * width + n];
    if (way === 1) found[n] = b;
    if (way !== 0) b += 1;
    if (way !== 2) n += 1;
  }
  return found;
}

function daysBetween(
  day: Day | undefined,
  span: { readonly earliest: Day; readonly nominal: Day; readonly latest: Day } | undefined,
): number {
  if (day === undefined || span === undefined) return UNMATCHED_DAYS;
  const outside = Math.max(0, span.earliest - day, day - span.latest);
  return outside + Math.abs(span.nominal - day) / 1000;
}
