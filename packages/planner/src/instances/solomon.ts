import type { Job, Problem, Vehicle } from '../problem.ts';
import { squareMatrix } from './squareMatrix.ts';

/** Distances count in tenths, cut off below: the convention of the 12th DIMACS Implementation Challenge (2021) for these instances. */
const TENTHS = 10;

/**
 * Reads an instance in the text form of Solomon, "Algorithms for the vehicle routing and scheduling problems with time window
 * constraints", Operations Research 35(2), 1987 (the larger ones of Gehring and Homberger, 1999, too). Costs and times in tenths.
 * Throws a RangeError that names the missing section.
 */
export function readSolomon(text: string): Problem {
  const rows = text.split(/\r?\n/).map((line) => (line.match(/-?\d+(\.\d+)?/g) ?? []).map(Number));
  const fleet = rows.find((row) => row.length === 2);
  if (fleet === undefined)
    throw new RangeError('no line with the number and capacity of vehicles: not a Solomon instance');
  const [count = 0, capacity = 0] = fleet;
  const places = rows.filter((row) => row.length === 7);
  const depot = places[0];
  if (depot === undefined)
    throw new RangeError('no line with the seven numbers of a customer: not a Solomon instance');
  const x = places.map((row) => row[1] ?? 0);
  const y = places.map((row) => row[2] ?? 0);
  const seconds = squareMatrix(places.length, (a, b) =>
    Math.floor(TENTHS * Math.hypot((x[a] ?? 0) - (x[b] ?? 0), (y[a] ?? 0) - (y[b] ?? 0))),
  );
  const jobs = places.slice(1).map(
    (row, index): Job => ({
      name: `customer ${row[0]}`,
      place: index + 1,
      serviceSeconds: TENTHS * (row[6] ?? 0),
      days: [{ day: 0, cost: 0 }],
      windows: [{ open: TENTHS * (row[4] ?? 0), close: TENTHS * (row[5] ?? 0) }],
      skills: 0,
      load: row[3] ?? 0,
    }),
  );
  const end = TENTHS * (depot[5] ?? 0);
  const vehicles = Array.from(
    { length: count },
    (_, index): Vehicle => ({
      name: `vehicle ${index}`,
      skills: 0,
      capacity,
      shifts: [
        {
          day: 0,
          startPlace: 0,
          endPlace: 0,
          startSeconds: TENTHS * (depot[4] ?? 0),
          regularEndSeconds: end,
          latestEndSeconds: end,
          useCost: 0,
          secondCost: 0,
          overtimeSecondCost: 0,
        },
      ],
    }),
  );
  return { days: 1, travel: { kind: 'matrix', places: places.length, seconds }, jobs, vehicles };
}
