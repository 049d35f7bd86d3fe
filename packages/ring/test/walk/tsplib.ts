import { existsSync, readFileSync } from 'node:fs';
import { buildCosts, type CostTable } from '../../src/walk/costs.ts';

/** Best known tours, all proven optimal: TSPLIB (G. Reinelt, Heidelberg), "Optimal solutions for symmetric TSPs". */
export const TSPLIB_OPTIMA: readonly (readonly [string, number])[] = [
  ['eil51', 426],
  ['berlin52', 7542],
  ['st70', 675],
  ['eil76', 538],
  ['kroA100', 21282],
  ['eil101', 629],
  ['lin105', 14379],
  ['ch130', 6110],
  ['a280', 2579],
];

const FOLDER = new URL('../../../../../shared/data/routing/tsplib/', import.meta.url);

/** Undefined where the collection is not on this machine. */
export function findTsplib(name: string): CostTable | undefined {
  const file = new URL(`${name}.tsp`, FOLDER);
  return existsSync(file) ? costsFromTsplib(readFileSync(file, 'utf8')) : undefined;
}

/** EUC_2D: distances rounded to the nearest whole number (TSPLIB 95, section 2.1). */
export function costsFromTsplib(text: string): CostTable {
  if (!/EDGE_WEIGHT_TYPE\s*:\s*EUC_2D/.test(text)) throw new Error('only EUC_2D is read');
  const points = [...text.matchAll(/^\s*\d+\s+([-\d.e+]+)\s+([-\d.e+]+)\s*$/gm)].map((match) => ({
    x: Number(match[1]),
    y: Number(match[2]),
  }));
  return buildCosts(points.length, (from, to) => {
    const a = points[from];
    const b = points[to];
    if (a === undefined || b === undefined) throw new Error('no such point');
    return Math.floor(Math.hypot(a.x - b.x, a.y - b.y) + 0.5);
  });
}

/** The published tour, places from 0; undefined where there is none on this machine. */
export function findTsplibTour(name: string): readonly number[] | undefined {
  const file = new URL(`${name}.opt.tour`, FOLDER);
  if (!existsSync(file)) return undefined;
  const body = readFileSync(file, 'utf8').split('TOUR_SECTION')[1] ?? '';
  return [...body.matchAll(/-?\d+/g)].map((match) => Number(match[0]) - 1).filter((place) => place >= 0);
}
