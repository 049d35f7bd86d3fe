/** A level as far as variances need it; see HazardLevel. */
export interface CurvedLevel {
  readonly curvature: Float64Array;
  readonly weight: Float64Array;
  readonly coupling: Float64Array;
}

/**
 * Variance of `x` times the coefficients plus the effects from a node upwards, under Laplace's approximation. `from` is the level of
 * `node`; `x` null stands for the node's own effect alone. Effects are integrated out level by level, as they were eliminated.
 */
export function varianceAt(
  levels: readonly CurvedLevel[],
  parents: readonly Int32Array[],
  covariance: Float64Array,
  columns: number,
  node: number,
  from: number,
  x: ArrayLike<number> | null,
): number {
  const a = new Float64Array(columns);
  if (x !== null) for (let j = 0; j < columns; j += 1) a[j] = x[j] ?? 0;
  // how much the functional holds of the effects of this node, and of all nodes above it
  let onOwn = 1;
  let onAbove = x === null ? 0 : 1;
  let variance = 0;
  let at = node;
  for (let index = from; index < levels.length; index += 1) {
    const level = levels[index];
    if (level === undefined) break;
    const h = level.curvature[at] ?? 1;
    variance += (onOwn * onOwn) / h;
    const pulled = onOwn / h;
    for (let j = 0; j < columns; j += 1)
      a[j] = (a[j] ?? 0) - pulled * (level.coupling[at * columns + j] ?? 0);
    onAbove -= pulled * (level.weight[at] ?? 0);
    onOwn = onAbove;
    at = parents[index]?.[at] ?? 0;
  }
  for (let j = 0; j < columns; j += 1) {
    const aj = a[j] ?? 0;
    if (aj === 0) continue;
    for (let k = 0; k < columns; k += 1) variance += aj * (covariance[j * columns + k] ?? 0) * (a[k] ?? 0);
  }
  return variance;
}
