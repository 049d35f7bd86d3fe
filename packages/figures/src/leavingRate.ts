/** Looks so many days after one that found them there: how many found them there again, and how many found them gone. */
export interface StayLooks {
  readonly days: number;
  readonly stayed: number;
  readonly left: number;
}

/**
 * How often they leave, a day, where nothing but "there" or "gone" is known of each time between two looks: the rate of an exponential time
 * until they leave that makes the looks likeliest. They are there after d days with chance exp(-rate d). Without a look that found
 * them gone the rate is 0; without one that found them there it has no upper end. Throws a RangeError for both, and for days not above 0.
 */
export function leavingRate(looks: readonly StayLooks[]): number {
  let stayedDays = 0;
  let left = 0;
  for (const one of looks) {
    if (!(one.days > 0)) throw new RangeError(`looks lie some days apart, not ${one.days}`);
    stayedDays += one.stayed * one.days;
    left += one.left;
  }
  if (stayedDays === 0 || left === 0)
    throw new RangeError(
      'a rate of leaving takes looks that found them there and looks that found them gone',
    );
  // The slope of the log-likelihood falls with the rate: positive far down, negative far up.
  const slope = (rate: number): number =>
    looks.reduce((sum, one) => sum + (one.left * one.days) / Math.expm1(rate * one.days), -stayedDays);
  let low = 0;
  let high = left / stayedDays;
  while (slope(high) > 0) high *= 2;
  for (let halving = 0; halving < 60; halving += 1) {
    const middle = (low + high) / 2;
    if (slope(middle) > 0) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
