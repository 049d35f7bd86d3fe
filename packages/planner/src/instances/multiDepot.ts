import type { Job, Problem, Vehicle } from '../problem.ts';
import { squareMatrix } from './squareMatrix.ts';

/** Costs and times count in thousandths, rounded to the nearest: so the solutions published with these instances add up. */
const THOUSANDTHS = 1000;

const SECTIONS = [
  'NODE_COORD_SECTION',
  'DEMAND_SECTION',
  'SERVICE_TIME_SECTION',
  'TIME_WINDOW_SECTION',
  'VEHICLES_DEPOT_SECTION',
  'DEPOT_SECTION',
] as const;
type Section = (typeof SECTIONS)[number];

/**
 * Reads a multi-depot instance with time windows (T. Vidal, T. Crainic, M. Gendreau, C. Prins, "A hybrid genetic algorithm with adaptive
 * diversity management for a large class of vehicle routing problems with time-windows", Computers & Operations Research 40(1), 2013) in
 * the sections of VRPLIB. Depots are the first places, each vehicle belongs to one, and a route may leave late but not be out longer than
 * VEHICLES_MAX_DURATION. Throws a RangeError that names the line or section at fault.
 */
export function readMultiDepot(text: string): Problem {
  const { heads, rows } = split(text);
  const weights = heads.get('EDGE_WEIGHT_TYPE');
  if (weights !== 'EUC_2D')
    throw new RangeError(`EDGE_WEIGHT_TYPE is ${weights}, not EUC_2D: not readable here`);
  const dimension = readHead(heads, 'DIMENSION');
  const vans = readHead(heads, 'VEHICLES');
  const capacity = readHead(heads, 'CAPACITY');
  const longest = readHead(heads, 'VEHICLES_MAX_DURATION');
  const column = (section: Section, length: number, at: number): readonly number[] =>
    readColumn(rows.get(section) ?? [], section, length, at);
  const x = column('NODE_COORD_SECTION', dimension, 1);
  const y = column('NODE_COORD_SECTION', dimension, 2);
  const load = column('DEMAND_SECTION', dimension, 1);
  const service = column('SERVICE_TIME_SECTION', dimension, 1);
  const open = column('TIME_WINDOW_SECTION', dimension, 1);
  const close = column('TIME_WINDOW_SECTION', dimension, 2);
  const depots = (rows.get('DEPOT_SECTION') ?? []).flat();
  if (depots.length === 0 || depots.some((depot, k) => depot !== k + 1))
    throw new RangeError(`DEPOT_SECTION: depots ${depots.join(', ')} are not the first places, 1 and on`);
  const seconds = squareMatrix(dimension, (a, b) =>
    inThousandths(Math.hypot((x[a] ?? 0) - (x[b] ?? 0), (y[a] ?? 0) - (y[b] ?? 0))),
  );
  const jobs = Array.from({ length: dimension - depots.length }, (_, index): Job => {
    const place = depots.length + index;
    return {
      // The number by which solutions call it: that of its place, counted from 0.
      name: `customer ${place}`,
      place,
      serviceSeconds: inThousandths(service[place] ?? 0),
      days: [{ day: 0, cost: 0 }],
      windows: [{ open: inThousandths(open[place] ?? 0), close: inThousandths(close[place] ?? 0) }],
      skills: 0,
      load: load[place] ?? 0,
    };
  });
  const vehicles = column('VEHICLES_DEPOT_SECTION', vans, 1).map((depot, index): Vehicle => {
    if (!depots.includes(depot))
      throw new RangeError(`VEHICLES_DEPOT_SECTION: vehicle ${index + 1} is at ${depot}, which is no depot`);
    const end = inThousandths(close[depot - 1] ?? 0);
    return {
      name: `vehicle ${index + 1}`,
      skills: 0,
      capacity,
      shifts: [
        {
          day: 0,
          startPlace: depot - 1,
          endPlace: depot - 1,
          startSeconds: inThousandths(open[depot - 1] ?? 0),
          regularEndSeconds: end,
          latestEndSeconds: end,
          longestSeconds: inThousandths(longest),
          useCost: 0,
          secondCost: 0,
          overtimeSecondCost: 0,
        },
      ],
    };
  });
  return { days: 1, travel: { kind: 'matrix', places: dimension, seconds }, jobs, vehicles };
}

function inThousandths(value: number): number {
  return Math.round(THOUSANDTHS * value);
}

interface Parts {
  readonly heads: ReadonlyMap<string, string>;
  readonly rows: ReadonlyMap<Section, readonly (readonly number[])[]>;
}

function split(text: string): Parts {
  const heads = new Map<string, string>();
  const rows = new Map<Section, (readonly number[])[]>();
  let current: (readonly number[])[] | undefined;
  for (const [index, raw] of text.split(/\r?\n/).entries()) {
    const line = raw.trim();
    if (line === '') continue;
    if (line === 'EOF') break;
    const section = SECTIONS.find((name) => name === line);
    const numbers = line.split(/\s+/).map(Number);
    if (section !== undefined) {
      current = [];
      rows.set(section, current);
    } else if (current === undefined) {
      const [name = '', value = ''] = line.split(/\s*:\s*/);
      heads.set(name, value);
    } else if (numbers.every(Number.isFinite)) current.push(numbers);
    else throw new RangeError(`line ${index + 1}: ${line} is neither numbers nor a section known here`);
  }
  return { heads, rows };
}

function readHead(heads: ReadonlyMap<string, string>, name: string): number {
  const value = heads.get(name) ?? '';
  if (!/^\d+(\.\d+)?$/.test(value))
    throw new RangeError(`${name} is ${value === '' ? 'missing' : value}: not a multi-depot instance`);
  return Number(value);
}

/** One column of a section whose first column counts from 1. */
function readColumn(
  rows: readonly (readonly number[])[],
  section: Section,
  length: number,
  at: number,
): readonly number[] {
  if (rows.length !== length) throw new RangeError(`${section} has ${rows.length} lines, not ${length}`);
  return rows.map((row, index) => {
    const value = row[at];
    if (row[0] !== index + 1 || value === undefined)
      throw new RangeError(
        `${section}: line ${index + 1} is ${row.join(' ')}, not number ${index + 1} with its values`,
      );
    return value;
  });
}
