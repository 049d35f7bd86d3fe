import { exactBinomial, type Interval } from './exactBinomial.ts';
import { incompleteBeta } from './special.ts';

export interface Rate {
  /** whole number */
  readonly events: number;
  /** more than 0, the same unit for both */
  readonly exposure: number;
}

export interface RateRatio extends Interval {
  /** chance of so large a difference where there is none, both sides */
  readonly p: number;
}

/**
 * How many times as high a rate is now as it was before, exact given the events of both (Clopper and Pearson's interval of the share that fell
 * into the later time). An upper end without limit is Infinity. Undefined without an event or exposure.
 */
export function compareRates(now: Rate, before: Rate, confidence: number): RateRatio | undefined {
  const events = now.events + before.events;
  if (events === 0 || !(now.exposure > 0) || !(before.exposure > 0)) return undefined;
  const share = exactBinomial(now.events, events, confidence);
  if (share === undefined) return undefined;
  const times = before.exposure / now.exposure;
  const ratio = (at: number): number => (at >= 1 ? Number.POSITIVE_INFINITY : (at / (1 - at)) * times);
  const evenShare = now.exposure / (now.exposure + before.exposure);
  return {
    estimate: ratio(share.estimate),
    lower: ratio(share.lower),
    upper: ratio(share.upper),
    p: Math.min(
      1,
      2 * Math.min(atMost(now.events, events, evenShare), atLeast(now.events, events, evenShare)),
    ),
  };
}

function atMost(count: number, trials: number, share: number): number {
  return count >= trials ? 1 : 1 - incompleteBeta(share, count + 1, trials - count);
}

function atLeast(count: number, trials: number, share: number): number {
  return count <= 0 ? 1 : incompleteBeta(share, count, trials - count + 1);
}
