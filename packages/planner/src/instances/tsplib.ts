import { MAX_SECONDS } from '../check.ts';
import type { Job, Problem } from '../problem.ts';
import { squareMatrix } from './squareMatrix.ts';

/**
 * Reads a symmetric travelling salesman instance with EUC_2D coordinates (Reinelt, "TSPLIB: a traveling salesman problem library", ORSA
 * Journal on Computing 3(4), 1991): distances rounded to the nearest whole number. One vehicle starts and ends at the first place.
 * Throws a RangeError for any other kind of edge weight.
 */
export function readTsplib(text: string): Problem {
  if (!/EDGE_WEIGHT_TYPE\s*:\s*EUC_2D/.test(text))
    throw new RangeError('EDGE_WEIGHT_TYPE is not EUC_2D: not readable here');
  const body = text.split(/NODE_COORD_SECTION/)[1] ?? '';
  const points = body.split(/\r?\n/).flatMap((line) => {
    const [, x, y] = line.trim().split(/\s+/).map(Number);
    return x === undefined || y === undefined || Number.isNaN(x) || Number.isNaN(y) ? [] : [{ x, y }];
  });
  const seconds = squareMatrix(points.length, (from, to) => {
    const a = points[from];
    const b = points[to];
    return a === undefined || b === undefined ? 0 : Math.floor(Math.hypot(a.x - b.x, a.y - b.y) + 0.5);
  });
  const jobs = points.slice(1).map(
    (_, index): Job => ({
      name: `city ${index + 2}`,
      place: index + 1,
      serviceSeconds: 0,
      days: [{ day: 0, cost: 0 }],
      windows: [],
      skills: 0,
      load: 0,
    }),
  );
  const shift = {
    day: 0,
    startPlace: 0,
    endPlace: 0,
    startSeconds: 0,
    regularEndSeconds: MAX_SECONDS,
    latestEndSeconds: MAX_SECONDS,
    useCost: 0,
    secondCost: 0,
    overtimeSecondCost: 0,
  };
  return {
    days: 1,
    travel: { kind: 'matrix', places: points.length, seconds },
    jobs,
    vehicles: [{ name: 'salesman', skills: 0, capacity: 0, shifts: [shift] }],
  };
}
