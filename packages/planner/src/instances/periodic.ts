import type { Group, Job, Problem, Vehicle } from '../problem.ts';
import { squareMatrix } from './squareMatrix.ts';

/** Costs and times count in thousandths, rounded to the nearest: the published values are sums of unrounded distances. */
const THOUSANDTHS = 1000;
/** A duration of 0 in the file means that there is no limit. */
const NO_LIMIT = 900_000_000;

/**
 * Reads a periodic vehicle routing instance in the text form of Cordeau, Gendreau and Laporte, "A tabu search heuristic for periodic and
 * multi-depot vehicle routing problems", Networks 30(2), 1997. Each visit of a customer is a job, all of a customer a group; a pattern is
 * a number whose bits, the highest first, are the days. Throws a RangeError for another kind of problem or a text cut short.
 */
export function readPeriodic(text: string): Problem {
  const lines = text
    .split(/\r?\n/)
    .map((line) => line.trim())
    .filter((line) => line !== '');
  const rows = lines.map((line) => line.split(/\s+/).map(Number));
  const [kind, vans = 0, , days = 0] = rows[0] ?? [];
  if (kind !== 1) throw new RangeError(`type ${kind} is not 1: not a periodic vehicle routing instance`);
  const limits = rows.slice(1, 1 + days);
  const places = rows.slice(1 + days);
  if (limits.length < days || places.length < 2 || places.some((row) => row.length < 7))
    throw new RangeError('a line of the depot, a day or a customer is missing or short');
  const x = places.map((row) => row[1] ?? 0);
  const y = places.map((row) => row[2] ?? 0);
  const seconds = squareMatrix(places.length, (a, b) =>
    Math.round(THOUSANDTHS * Math.hypot((x[a] ?? 0) - (x[b] ?? 0), (y[a] ?? 0) - (y[b] ?? 0))),
  );
  const jobs: Job[] = [];
  const groups: Group[] = [];
  places.slice(1).forEach((row, index) => {
    const [number, , , service = 0, load = 0, visits = 0, count = 0, ...codes] = row;
    const patterns = codes.slice(0, count).map((code) => listDays(code, days));
    const wrong = codes.length < count || patterns.some((pattern) => pattern.length !== visits);
    if (wrong) throw new RangeError(`customer ${number}: its patterns are not ${visits} days each`);
    const allowed = [...new Set(patterns.flat())].sort((a, b) => a - b);
    groups.push({
      name: `customer ${number}`,
      jobs: Array.from({ length: visits }, (_, k) => jobs.length + k),
      patterns,
    });
    for (let visit = 1; visit <= visits; visit += 1)
      jobs.push({
        name: `customer ${number}, visit ${visit}`,
        place: index + 1,
        serviceSeconds: THOUSANDTHS * service,
        days: allowed.map((day) => ({ day, cost: 0 })),
        windows: [],
        skills: 0,
        load,
      });
  });
  const vehicles = Array.from(
    { length: vans },
    (_, index): Vehicle => ({
      name: `vehicle ${index}`,
      skills: 0,
      capacity: limits[0]?.[1] ?? 0,
      shifts: limits.map(([duration = 0], day) => {
        const end = duration === 0 ? NO_LIMIT : Math.round(THOUSANDTHS * duration);
        return {
          day,
          startPlace: 0,
          endPlace: 0,
          startSeconds: 0,
          regularEndSeconds: end,
          latestEndSeconds: end,
          useCost: 0,
          secondCost: 0,
          overtimeSecondCost: 0,
        };
      }),
    }),
  );
  return {
    days,
    travel: { kind: 'matrix', places: places.length, seconds },
    jobs,
    vehicles,
    groups: groups.filter((group) => group.jobs.length > 0),
  };
}

function listDays(code: number, days: number): readonly number[] {
  return Array.from({ length: days }, (_, day) => day).filter((day) => (code >> (days - 1 - day)) & 1);
}
