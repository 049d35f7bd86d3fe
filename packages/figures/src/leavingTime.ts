import { leavingRate } from './leavingRate.ts';

/** Looks `to` days after they came, where they had been seen `from` days after they came: how many found them there again, how many gone. */
export interface SeenAgain {
  readonly from: number;
  readonly to: number;
  readonly stayed: number;
  readonly left: number;
}

/** A Weibull time until they leave: there after t days with chance exp(-(t / scale)^shape). Above shape 1 they leave the sooner, the longer they are there. */
export interface LeavingTime {
  readonly shape: number;
  /** days */
  readonly scale: number;
}

/** Of the logarithm of the shape, about 0: an exponential time until the record says otherwise. Common practice, no source. */
const SHAPE_SPREAD = 0.5;
const LEAST_SHAPE = 0.05;
const MOST_SHAPE = 20;
const GOLDEN = (Math.sqrt(5) - 1) / 2;

/**
 * The Weibull time that makes the looks likeliest, where nothing but "there" or "gone" is known between two of them (interval censoring).
 * The shape's logarithm has a normal prior of deviation `shapeSpread`; infinite: none. Days to the power of the shape are an exponential
 * time, whose rate is known for each shape (`leavingRate`), so that only the shape is sought. Throws a RangeError as `leavingRate` does, and
 * where `from` is below 0.
 */
export function leavingTime(looks: readonly SeenAgain[], shapeSpread = SHAPE_SPREAD): LeavingTime {
  for (const { from } of looks)
    if (!(from >= 0)) throw new RangeError(`they are seen after they came, not ${from} days after`);
  const fitted = (logShape: number): { readonly scale: number; readonly worth: number } => {
    const shape = Math.exp(logShape);
    const stays = looks.map(({ from, to, stayed, left }) => ({
      days: to ** shape - from ** shape,
      stayed,
      left,
    }));
    const rate = leavingRate(stays);
    const worth = stays.reduce(
      (sum, { days, stayed, left }) =>
        sum - stayed * rate * days + (left === 0 ? 0 : left * Math.log(-Math.expm1(-rate * days))),
      -0.5 * (logShape / shapeSpread) ** 2,
    );
    return { scale: rate ** (-1 / shape), worth };
  };
  // Golden section: the likelihood of a Weibull shape has one top.
  let low = Math.log(LEAST_SHAPE);
  let high = Math.log(MOST_SHAPE);
  let left = high - GOLDEN * (high - low);
  let right = low + GOLDEN * (high - low);
  let atLeft = fitted(left);
  let atRight = fitted(right);
  while (high - low > 1e-6) {
    if (atLeft.worth >= atRight.worth) {
      high = right;
      right = left;
      atRight = atLeft;
      left = high - GOLDEN * (high - low);
      atLeft = fitted(left);
    } else {
      low = left;
      left = right;
      atLeft = atRight;
      right = low + GOLDEN * (high - low);
      atRight = fitted(right);
    }
  }
  return { shape: Math.exp(left), scale: atLeft.scale };
}

/** Chance that they are there `to` days after they came, where they were `from` days after. */
export function stayChance({ shape, scale }: LeavingTime, from: number, to: number): number {
  return Math.exp((from / scale) ** shape - (Math.max(from, to) / scale) ** shape);
}
