/** A level as far as variances need it; see HazardLevel. */
export interface CurvedLevel {
  readonly curvature: Float64Array;
  readonly weight: Float64Array;
  readonly coupling: Float64Array;
}

/** What the effects from a node upwards add to a variance, and how far they go with each coefficient. */
export interface EffectsShare {
  readonly variance: number;
  readonly along: Float64Array;
}

/**
 * Effects integrated out level by level, as they were eliminated (Laplace's approximation). `from` is the level of `node`; `alone` stands for
 * the node's own effect without those above it.
 */
export function effectsShare(
  levels: readonly CurvedLevel[],
  parents: readonly Int32Array[],
  columns: number,
  node: number,
  from: number,
  alone = false,
): EffectsShare {
  const along = new Float64Array(columns);
  // how much the functional holds of the effects of this node, and of all nodes above it
  let onOwn = 1;
  let onAbove = alone ? 0 : 1;
  let variance = 0;
  let at = node;
  for (let index = from; index < levels.length; index += 1) {
    const level = levels[index];
    if (level === undefined) break;
    const h = level.curvature[at] ?? 1;
    variance += (onOwn * onOwn) / h;
    const pulled = onOwn / h;
    for (let j = 0; j < columns; j += 1)
      along[j] = (along[j] ?? 0) + pulled * (level.coupling[at * columns + j] ?? 0);
    onAbove -= pulled * (level.weight[at] ?? 0);
    onOwn = onAbove;
    at = parents[index]?.[at] ?? 0;
  }
  return { variance, along };
}

/** Variance of `x` (from `at` on; null = nothing) times the coefficients plus effects of this share. */
export function varianceWith(
  { variance, along }: EffectsShare,
  covariance: Float64Array,
  x: ArrayLike<number> | null,
  at = 0,
): number {
  const columns = along.length;
  let sum = variance;
  for (let j = 0; j < columns; j += 1) {
    const a = (x?.[at + j] ?? 0) - (along[j] ?? 0);
    if (a === 0) continue;
    // Both triangles of a symmetric matrix at once.
    let row = 0.5 * (covariance[j * columns + j] ?? 0) * a;
    for (let k = 0; k < j; k += 1)
      row += (covariance[j * columns + k] ?? 0) * ((x?.[at + k] ?? 0) - (along[k] ?? 0));
    sum += 2 * a * row;
  }
  return sum;
}
