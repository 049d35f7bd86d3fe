/** First wait, its growth and its ceiling, seconds. */
const FIRST_SECONDS = 2;
const MOST_SECONDS = 300;

/**
 * Milliseconds to wait after the nth failure in a row (from 1): full jitter, so that the phones of a firm that lost the
 * server together do not come back together. Source: Brooker (2015), Exponential Backoff and Jitter. `random` in [0, 1).
 */
export function backoffMs(failures: number, random: () => number, retryAfterSeconds?: number): number {
  const most = Math.min(MOST_SECONDS, FIRST_SECONDS * 2 ** Math.max(0, failures - 1));
  // Never at once: the least is half a second.
  const own = 500 + random() * (most * 1000 - 500);
  return Math.round(Math.max(own, (retryAfterSeconds ?? 0) * 1000));
}
