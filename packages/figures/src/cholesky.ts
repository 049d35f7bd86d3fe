/**
 * Lower triangle L with L L' = A of a symmetric positive definite matrix, row-major, `size` x `size`.
 * Undefined where A is not positive definite: columns that say the same, or nothing.
 */
export function cholesky(matrix: Float64Array, size: number): Float64Array | undefined {
  const lower = new Float64Array(size * size);
  for (let row = 0; row < size; row += 1) {
    for (let column = 0; column <= row; column += 1) {
      let sum = matrix[row * size + column] ?? 0;
      for (let k = 0; k < column; k += 1)
        sum -= (lower[row * size + k] ?? 0) * (lower[column * size + k] ?? 0);
      if (row !== column) {
        lower[row * size + column] = sum / (lower[column * size + column] ?? 1);
        continue;
      }
      if (!(sum > 1e-13 * Math.abs(matrix[row * size + row] ?? 0))) return undefined;
      lower[row * size + row] = Math.sqrt(sum);
    }
  }
  return lower;
}

/** x with L L' x = b. */
export function choleskySolve(lower: Float64Array, size: number, right: Float64Array): Float64Array {
  const x = Float64Array.from(right);
  for (let row = 0; row < size; row += 1) {
    let sum = x[row] ?? 0;
    for (let k = 0; k < row; k += 1) sum -= (lower[row * size + k] ?? 0) * (x[k] ?? 0);
    x[row] = sum / (lower[row * size + row] ?? 1);
  }
  for (let row = size - 1; row >= 0; row -= 1) {
    let sum = x[row] ?? 0;
    for (let k = row + 1; k < size; k += 1) sum -= (lower[k * size + row] ?? 0) * (x[k] ?? 0);
    x[row] = sum / (lower[row * size + row] ?? 1);
  }
  return x;
}

/** The inverse of L L', row-major. */
export function choleskyInverse(lower: Float64Array, size: number): Float64Array {
  const inverse = new Float64Array(size * size);
  for (let column = 0; column < size; column += 1) {
    const unit = new Float64Array(size);
    unit[column] = 1;
    inverse.set(choleskySolve(lower, size, unit), column * size);
  }
  return inverse;
}
