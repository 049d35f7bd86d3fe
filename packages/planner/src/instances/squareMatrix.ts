/** A square matrix, row by row, of `entry(from, to)`; 0 from a place to itself. */
export function squareMatrix(places: number, entry: (from: number, to: number) => number): Int32Array {
  const matrix = new Int32Array(places * places);
  for (let from = 0; from < places; from += 1)
    for (let to = 0; to < places; to += 1) if (from !== to) matrix[from * places + to] = entry(from, to);
  return matrix;
}
