/**
 * A bucket per key that fills at a steady rate: `capacity` at once, then `capacity` per `windowMs`.
 * Held in this process; behind several processes each counts for itself (docs/security.md).
 */
export interface RateLimiter {
  /** Takes one; undefined = allowed, otherwise seconds to wait. */
  take(key: string): number | undefined;
}

const MOST_KEYS = 50_000;

export function createRateLimiter(capacity: number, windowMs: number, now: () => number): RateLimiter {
  const buckets = new Map<string, { left: number; at: number }>();
  const perMs = capacity / windowMs;
  return {
    take(key) {
      const at = now();
      const bucket = buckets.get(key) ?? { left: capacity, at };
      bucket.left = Math.min(capacity, bucket.left + Math.max(0, at - bucket.at) * perMs);
      bucket.at = at;
      // Put back at the end, so that the first key is always the one unused for longest.
      buckets.delete(key);
      buckets.set(key, bucket);
      if (buckets.size > MOST_KEYS) {
        const oldest = buckets.keys().next();
        if (oldest.done !== true) buckets.delete(oldest.value);
      }
      if (bucket.left < 1) return Math.max(1, Math.ceil((1 - bucket.left) / perMs / 1000));
      bucket.left -= 1;
      return undefined;
    },
  };
}
