import { clopperPearson, type Interval } from './exactBinomial.ts';
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
 * into the later time). An upper end without limit is Infinity. Undefined without an event or exposure. Where events come in clusters,
 * `effect` (1 or more, see designEffect) of them count for one: then it is exact no longer, and wide enough.
 */
export function compareRates(now: Rate, before: Rate, confidence: number, effect = 1): RateRatio | undefined {
  for (const { events } of [now, before])
    if (!Number.isInteger(events) || events < 0)
      throw new RangeError(`events are a whole number from 0, not ${events}`);
  if (!(effect >= 1)) throw new RangeError(`a design effect is 1 or more, not ${effect}`);
  if (now.events + before.events === 0 || !(now.exposure > 0) || !(before.exposure > 0)) return undefined;
  const later = now.events / effect;
  const earlier = before.events / effect;
  const events = later + earlier;
  const share = clopperPearson(later, earlier, confidence);
  const times = before.exposure / now.exposure;
  const ratio = (at: number): number => (at >= 1 ? Number.POSITIVE_INFINITY : (at / (1 - at)) * times);
  const evenShare = now.exposure / (now.exposure + before.exposure);
  return {
    estimate: ratio(share.estimate),
    lower: ratio(share.lower),
    upper: ratio(share.upper),
    p: Math.min(1, 2 * Math.min(atMost(later, events, evenShare), atLeast(later, events, evenShare))),
  };
}

function atMost(count: number, trials: number, share: number): number {
  return count >= trials ? 1 : 1 - incompleteBeta(share, count + 1, trials - count);
}

function atLeast(count: number, trials: number, share: number): number {
  return count <= 0 ? 1 : incompleteBeta(share, count, trials - count + 1);
}
