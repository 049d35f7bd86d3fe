import { fitHazard, type HazardFit, type HazardRows } from '../../src/index.ts';
import { createRandom } from './random.ts';

export interface WorldOptions {
  readonly branches: number;
  readonly structures: number;
  readonly stations: number;
  readonly looks: number;
  readonly coefficients: readonly number[];
  /** standard deviations of station, structure, branch */
  readonly spreads: readonly [number, number, number];
}

export interface World {
  readonly rows: HazardRows;
  /** by level */
  readonly effects: readonly Float64Array[];
}

/** Looks drawn from a nested model whose truth is known: columns are 1, then standard normals. */
export function drawWorld(seed: number, options: WorldOptions): World {
  const { branches, structures, stations, looks, coefficients, spreads } = options;
  const random = createRandom(seed);
  const columns = coefficients.length;
  const structureCount = branches * structures;
  const units = structureCount * stations;
  const nodes = [units, structureCount, branches];
  const effects = nodes.map((count, level) =>
    Float64Array.from({ length: count }, () => (spreads[level] ?? 0) * random.normal()),
  );
  const rowCount = units * looks;
  const x = new Float64Array(rowCount * columns);
  const hit = new Uint8Array(rowCount);
  for (let row = 0; row < rowCount; row += 1) {
    const unit = Math.floor(row / looks);
    const structure = Math.floor(unit / stations);
    let eta =
      (effects[0]?.[unit] ?? 0) +
      (effects[1]?.[structure] ?? 0) +
      (effects[2]?.[Math.floor(structure / structures)] ?? 0);
    for (let j = 0; j < columns; j += 1) {
      const value = j === 0 ? 1 : random.normal();
      x[row * columns + j] = value;
      eta += value * (coefficients[j] ?? 0);
    }
    hit[row] = random.happens(1 / (1 + Math.exp(-eta))) ? 1 : 0;
  }
  return {
    effects,
    rows: {
      columns,
      x,
      hit,
      rowStart: Int32Array.from({ length: units + 1 }, (_, unit) => unit * looks),
      parents: [
        Int32Array.from({ length: units }, (_, unit) => Math.floor(unit / stations)),
        Int32Array.from({ length: structureCount }, (_, one) => Math.floor(one / structures)),
      ],
      nodes,
    },
  };
}

export const TRUTH = [-4, 0.5, -0.3] as const;
export const WORLD = {
  branches: 6,
  structures: 60,
  stations: 15,
  looks: 12,
  coefficients: TRUTH,
  spreads: [0.3, 1, 0.3],
} as const;
export const NESTED = { effects: 'nested', ridge: [0, 0, 0] } as const;

export function fitOf(rows: HazardRows, options: Parameters<typeof fitHazard>[1] = NESTED): HazardFit {
  const fit = fitHazard(rows, options);
  if ('refused' in fit) throw new Error(fit.refused);
  return fit;
}

export function trueEta({ rows, effects }: World, unit: number): number {
  const structure = rows.parents[0]?.[unit] ?? 0;
  const branch = rows.parents[1]?.[structure] ?? 0;
  return TRUTH[0] + (effects[0]?.[unit] ?? 0) + (effects[1]?.[structure] ?? 0) + (effects[2]?.[branch] ?? 0);
}

/** The first looks of each station, of twelve. */
export function firstLooks(rows: HazardRows, count: number): HazardRows {
  const keep = [...rows.hit.keys()].filter((row) => row % 12 < count);
  return {
    ...rows,
    x: Float64Array.from(keep.flatMap((row) => [...rows.x.subarray(row * 3, row * 3 + 3)])),
    hit: Uint8Array.from(keep, (row) => rows.hit[row] ?? 0),
    rowStart: Int32Array.from(rows.rowStart, (_, unit) => unit * count),
  };
}
