import type { Problem } from './problem.ts';

/** Up to this many places a travel function is asked once for every pair and kept as a matrix (64 MB at most). */
const MATRIX_PLACES = 4000;

/** Travel between nodes; `matrix` is by place, `places` its stride, undefined when only `between` can tell. */
export interface Leg {
  readonly places: number;
  readonly matrix: Int32Array | undefined;
  /** The matrix turned about, so that a job's legs in both directions lie in one row each. */
  readonly turned: Int32Array | undefined;
  readonly between: (fromPlace: number, toPlace: number) => number;
}

export function createLegs(problem: Problem): { readonly seconds: Leg; readonly cost: Leg } {
  const { travel } = problem;
  const { places } = travel;
  if (travel.kind === 'matrix') {
    const seconds = matrixLeg(places, travel.seconds);
    return { seconds, cost: travel.cost === undefined ? seconds : matrixLeg(places, travel.cost) };
  }
  const leg = (ask: (from: number, to: number) => number): Leg => {
    if (places > MATRIX_PLACES) return { places, matrix: undefined, turned: undefined, between: ask };
    const matrix = new Int32Array(places * places);
    for (let from = 0, at = 0; from < places; from += 1)
      for (let to = 0; to < places; to += 1, at += 1) {
        const value = ask(from, to);
        // The check at the door asks for a sample only; here every pair is at hand.
        if (!Number.isInteger(value) || value < 0 || value > travel.most)
          throw new RangeError(
            `travel: from place ${from} to place ${to} it answers ${value}; give a whole number from 0 to ${travel.most}`,
          );
        matrix[at] = value;
      }
    return matrixLeg(places, matrix);
  };
  const seconds = leg(travel.seconds);
  return { seconds, cost: travel.cost === undefined ? seconds : leg(travel.cost) };
}

function matrixLeg(places: number, matrix: Int32Array): Leg {
  let same = true;
  for (let from = 0; from < places && same; from += 1)
    for (let to = 0; to < from && same; to += 1)
      same = matrix[from * places + to] === matrix[to * places + from];
  let turned = matrix;
  if (!same) {
    turned = new Int32Array(matrix.length);
    for (let from = 0; from < places; from += 1)
      for (let to = 0; to < places; to += 1) turned[to * places + from] = matrix[from * places + to] ?? 0;
  }
  return { places, matrix, turned, between: (from, to) => matrix[from * places + to] ?? 0 };
}

export function findDearest(leg: Leg): number {
  let dearest = 0;
  for (const value of leg.matrix ?? []) if (value > dearest) dearest = value;
  return dearest;
}
