import { createRateLimiter } from '../http/limits.ts';

/**
 * Slows whoever tries addresses: after `most` wrong ones within a minute an address of the network gets no answer at all for
 * a while, right or wrong, so that the waiting itself tells nothing.
 */
export interface GuessGuard {
  /** Seconds to wait; undefined = may ask. */
  waitOf(peer: string): number | undefined;
  noteWrong(peer: string): void;
}

const MOST_KEPT = 50_000;

export function createGuessGuard(most: number, now: () => number): GuessGuard {
  const limiter = createRateLimiter(most, 60_000, now);
  const closedUntil = new Map<string, number>();
  return {
    waitOf(peer) {
      const until = closedUntil.get(peer);
      if (until === undefined) return undefined;
      if (until > now()) return Math.ceil((until - now()) / 1000);
      closedUntil.delete(peer);
      return undefined;
    },
    noteWrong(peer) {
      const wait = limiter.take(peer);
      if (wait === undefined) return;
      closedUntil.delete(peer);
      closedUntil.set(peer, now() + Math.max(wait, 10) * 1000);
      const oldest = closedUntil.keys().next();
      if (closedUntil.size > MOST_KEPT && oldest.done !== true) closedUntil.delete(oldest.value);
    },
  };
}
