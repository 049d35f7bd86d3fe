/**
 * Which values lie so far from the median that they are worth a second look: modified z-score over 3.5, from the median
 * absolute deviation (Iglewicz and Hoaglin 1993, as in the NIST/SEMATECH e-Handbook, 1.3.5.17). Where more than half the
 * values are equal, the mean absolute deviation takes its place. Needs 5 values or more; fewer flag nothing.
 */
export function flagOutliers(values: readonly number[]): readonly boolean[] {
  if (values.length < 5) return values.map(() => false);
  const middle = median(values);
  const distances = values.map((value) => Math.abs(value - middle));
  const typical = median(distances);
  const mean = distances.reduce((sum, distance) => sum + distance, 0) / distances.length;
  const spread = typical > 0 ? typical / 0.6745 : mean * MEAN_TO_DEVIATION;
  return distances.map((distance) => spread > 0 && distance / spread > 3.5);
}

/** A normal variate's standard deviation over its mean absolute deviation: the square root of half pi. */
const MEAN_TO_DEVIATION = Math.sqrt(Math.PI / 2);

/** Middle of the sorted values, the mean of two where they are even in number. Throws a RangeError on an empty list. */
export function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const half = sorted.length >> 1;
  const upper = sorted[half];
  if (upper === undefined) throw new RangeError('a median takes at least one value');
  return sorted.length % 2 === 1 ? upper : (upper + (sorted[half - 1] ?? upper)) / 2;
}
