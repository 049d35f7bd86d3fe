import { describe, expect, it } from 'vitest';
import {
  correctSpreads,
  fitHazard,
  type HazardFit,
  type HazardRows,
  hazardAt,
  meanChance,
  NORMAL_NODES,
  updateHazard,
} from '../src/index.ts';
import { drawWorld, firstLooks, fitOf, NESTED, WORLD } from './support/hazardWorld.ts';

describe('hit risk', () => {
  it('is at the top of its likelihood: any small step down-hill from it', () => {
    const { rows } = drawWorld(5, { ...WORLD, branches: 2, structures: 8 });
    const spreads = { startSpread: [0.5, 0.5, 0.5], fixedSpread: true };
    const fit = fitOf(rows, { ...NESTED, ...spreads });
    const best = logPosterior(rows, fit);
    for (const [level, { effect }] of fit.levels.entries()) {
      for (let node = 0; node < effect.length; node += 7) {
        for (const step of [-0.01, 0.01])
          expect(logPosterior(rows, nudge(fit, level, node, step))).toBeLessThan(best);
      }
    }
    expect(
      logPosterior(rows, { ...fit, coefficients: fit.coefficients.map((one) => one + 0.005) }),
    ).toBeLessThan(best);
  });

  it('has variances equal to those of the whole curvature matrix, inverted without shortcuts', () => {
    const { rows } = drawWorld(5, { ...WORLD, branches: 2, structures: 3, stations: 4 });
    const fit = fitOf(rows, { ...NESTED, startSpread: [0.6, 0.9, 0.4], fixedSpread: true });
    const inverse = wholeInverse(rows, fit);
    const [units = 0, structures = 0] = rows.nodes;
    for (let unit = 0; unit < units; unit += 1) {
      const structure = rows.parents[0]?.[unit] ?? 0;
      const branch = rows.parents[1]?.[structure] ?? 0;
      const functional = new Array(3 + units + structures + 2).fill(0);
      [1, 0.7, -1.2].forEach((value, j) => {
        functional[j] = value;
      });
      for (const at of [3 + unit, 3 + units + structure, 3 + units + structures + branch]) functional[at] = 1;
      const at = hazardAt(fit, [1, 0.7, -1.2], { level: 0, node: unit });
      expect(at.standardError ** 2).toBeCloseTo(quadratic(inverse, functional), 9);
    }
  });

  it('takes a day’s looks in without a refit, as a refit with the rest held would', () => {
    const { rows } = drawWorld(8, WORLD);
    const old = fitOf(firstLooks(rows, 10));
    const touched = [3, 4, 200];
    const part = pickStructures(rows, touched, 15, 12);
    const updated = updateHazard(old, part.rows, part.nodesOf);
    const best = logPosterior(rows, updated);
    for (const structure of touched) {
      expect(updated.levels[1]?.curvature[structure]).toBeGreaterThan(
        old.levels[1]?.curvature[structure] ?? 0,
      );
      for (const [level, node] of [
        [0, structure * 15],
        [0, structure * 15 + 14],
        [1, structure],
      ] as const)
        for (const step of [-0.01, 0.01])
          expect(logPosterior(rows, nudge(updated, level, node, step))).toBeLessThan(best);
    }
    // What was not touched stays to the bit.
    expect(updated.levels[1]?.effect[7]).toBe(old.levels[1]?.effect[7]);
    // The old looks alone, taken in again, change nothing.
    const sameRows = pickStructures(firstLooks(rows, 10), touched, 15, 10);
    const again = updateHazard(old, sameRows.rows, sameRows.nodesOf);
    for (const structure of touched)
      for (const of of ['effect', 'shift'] as const)
        expect(again.levels[1]?.[of][structure]).toBeCloseTo(old.levels[1]?.[of][structure] ?? 0, 3);
  });

  it('says, on the looks it learned from, as many hits as there were', () => {
    for (const coefficients of [WORLD.coefficients, [-5.5, 0.5, 0]]) {
      const { rows } = drawWorld(8, { ...WORLD, coefficients });
      const said = sumChances(rows, fitOf(rows));
      expect(said / rows.hit.reduce((sum, one) => sum + one, 0)).toBeCloseTo(1, 1);
    }
  });

  it('has the mean chance of Beta’s distribution where nothing but the rate is unknown: hits over looks', () => {
    for (const [hits, looks] of [
      [3, 60],
      [5, 400],
      [12, 900],
    ] as const) {
      const fit = fitOf(oneStation(hits, looks), { effects: 'none', ridge: [0] });
      expect(meanChance(hazardAt(fit, [1], { level: 0, node: 0 })) / (hits / looks)).toBeCloseTo(1, 1);
    }
  });

  it('has the mean chance of a station’s own effect, integrated finely, within a twentieth', () => {
    for (const [hits, looks, spread] of [
      [1, 20, 1],
      [2, 40, 2],
      [4, 200, 3],
    ] as const) {
      // The prior holds the coefficient at 0, so that only the effect is unknown.
      const fit = fitOf(oneStation(hits, looks), {
        effects: 'nested',
        ridge: [1e9],
        startSpread: [spread],
        fixedSpread: true,
      });
      let sum = 0;
      let mean = 0;
      for (let effect = -25; effect <= 10; effect += 0.001) {
        const chance = 1 / (1 + Math.exp(-effect));
        const weight =
          chance ** hits * (1 - chance) ** (looks - hits) * Math.exp(-0.5 * (effect / spread) ** 2);
        sum += weight;
        mean += weight * chance;
      }
      const said = meanChance(hazardAt(fit, [1], { level: 0, node: 0 }));
      expect(said / (mean / sum)).toBeGreaterThan(0.95);
      expect(said / (mean / sum)).toBeLessThan(1.05);
    }
  });

  it('gives a new station its structure’s risk, and a new structure its branch’s, with wider intervals each time', () => {
    const fit = fitOf(drawWorld(8, WORLD).rows);
    const errors = [0, 1, 2].map((level) => hazardAt(fit, [1, 0, 0], { level, node: 0 }).standardError);
    expect(errors[1]).toBeGreaterThan(errors[0] ?? 9);
    expect(errors[2]).toBeGreaterThan(errors[1] ?? 9);
  });

  it('has its spreads raised, never lowered, by the same amount each time, on all rows or a part of them', () => {
    const { rows } = drawWorld(8, { ...WORLD, structures: 30 });
    const fit = fitOf(rows);
    const raised = correctSpreads(rows, fit, NESTED, { seed: 3, draws: 1 });
    raised.levels.forEach(({ spread }, level) => {
      expect(spread).toBeGreaterThanOrEqual(fit.levels[level]?.spread ?? 9);
      expect(spread).toBeLessThanOrEqual(1.5 * (fit.levels[level]?.spread ?? 0) + 1e-12);
    });
    expect(raised.converged).toBe(true);
    const again = correctSpreads(rows, fit, NESTED, { seed: 3, draws: 1 });
    expect(again.levels.map(({ spread }) => spread)).toEqual(raised.levels.map(({ spread }) => spread));
    const part = correctSpreads(rows, fit, NESTED, { seed: 3, draws: 1, mostRows: 8000 });
    expect(part.levels[1]?.effect.length).toBe(fit.levels[1]?.effect.length);
    expect(part.levels[1]?.spread).toBeGreaterThanOrEqual(fit.levels[1]?.spread ?? 9);
  });

  it('refuses what says too little', () => {
    const { rows } = drawWorld(1, {
      ...WORLD,
      branches: 1,
      structures: 2,
      stations: 3,
      coefficients: [-30, 0, 0],
    });
    expect(fitHazard(rows, NESTED)).toMatchObject({ refused: 'no hits or nothing but hits', hits: 0 });
    const twice = drawWorld(2, { ...WORLD, branches: 1 }).rows;
    const x = Float64Array.from(twice.x, (value, at) => (at % 3 === 2 ? (twice.x[at - 1] ?? 0) : value));
    expect(fitHazard({ ...twice, x }, NESTED)).toMatchObject({ refused: 'columns cannot be told apart' });
    expect(() => fitHazard({ ...twice, rowStart: Int32Array.of(0) }, NESTED)).toThrow(/rowStart/);
  });

  it('integrates a logistic over a normal: rule of nine points against a fine sum; moments of the rule', () => {
    const moment = (power: number): number =>
      NORMAL_NODES.reduce((sum, { at, weight }) => sum + weight * at ** power, 0);
    expect([0, 2, 4, 6].map(moment)).toEqual([1, 1, 3, 15].map((value) => expect.closeTo(value, 10)));
    for (const [eta, standardError] of [
      [-4, 0.5],
      [-2, 1.5],
      [1, 1],
    ] as const) {
      let sum = 0;
      for (let z = -8; z <= 8; z += 0.001)
        sum +=
          (0.001 * Math.exp((-z * z) / 2)) /
          Math.sqrt(2 * Math.PI) /
          (1 + Math.exp(-eta - standardError * z));
      expect(meanChance({ eta, standardError })).toBeCloseTo(sum, 4);
    }
  });
});

function pickStructures(
  rows: HazardRows,
  structures: readonly number[],
  stations: number,
  looks: number,
): { readonly rows: HazardRows; readonly nodesOf: readonly (readonly number[])[] } {
  const units = structures.flatMap((structure) =>
    Array.from({ length: stations }, (_, n) => structure * stations + n),
  );
  const branchOf = structures.map((structure) => rows.parents[1]?.[structure] ?? 0);
  const branches = [...new Set(branchOf)];
  const own = units.flatMap((unit) => Array.from({ length: looks }, (_, n) => unit * looks + n));
  return {
    rows: {
      columns: 3,
      x: Float64Array.from(own.flatMap((row) => [...rows.x.subarray(row * 3, row * 3 + 3)])),
      hit: Uint8Array.from(own, (row) => rows.hit[row] ?? 0),
      rowStart: Int32Array.from({ length: units.length + 1 }, (_, n) => n * looks),
      parents: [
        Int32Array.from(units, (_, n) => Math.floor(n / stations)),
        Int32Array.from(branchOf, (branch) => branches.indexOf(branch)),
      ],
      nodes: [units.length, structures.length, branches.length],
    },
    nodesOf: [units, structures, branches],
  };
}

function offsetOf(rows: HazardRows, fit: HazardFit, unit: number): number {
  const structure = rows.parents[0]?.[unit] ?? 0;
  const branch = rows.parents[1]?.[structure] ?? 0;
  return [unit, structure, branch].reduce(
    (sum, node, level) => sum + (fit.levels[level]?.effect[node] ?? 0),
    0,
  );
}

function nudge(fit: HazardFit, level: number, node: number, step: number): HazardFit {
  return {
    ...fit,
    levels: fit.levels.map((one, at) =>
      at === level ? { ...one, effect: one.effect.map((own, n) => (n === node ? own + step : own)) } : one,
    ),
  };
}

function logPosterior(rows: HazardRows, fit: HazardFit): number {
  let sum = 0;
  for (let unit = 0; unit < (rows.nodes[0] ?? 0); unit += 1) {
    const offset = offsetOf(rows, fit, unit);
    for (let row = rows.rowStart[unit] ?? 0; row < (rows.rowStart[unit + 1] ?? 0); row += 1) {
      const eta = fit.coefficients.reduce((total, b, j) => total + b * (rows.x[row * 3 + j] ?? 0), offset);
      sum += (rows.hit[row] ?? 0) * eta - Math.log1p(Math.exp(eta));
    }
  }
  for (const { effect, spread } of fit.levels)
    for (const own of effect) sum -= (own * own) / (2 * spread * spread);
  return sum;
}

/** Inverse of the curvature of coefficients and all effects together, by Gauss and Jordan. */
function wholeInverse(rows: HazardRows, fit: HazardFit): number[][] {
  const [units = 0, structures = 0, branches = 0] = rows.nodes;
  const size = 3 + units + structures + branches;
  const matrix = Array.from({ length: size }, () => new Array<number>(size).fill(0));
  const put = (a: number, b: number, value: number): void => {
    const row = matrix[a];
    if (row !== undefined) row[b] = (row[b] ?? 0) + value;
  };
  fit.levels.forEach(({ spread, effect }, level) => {
    const from = 3 + (level > 0 ? units : 0) + (level > 1 ? structures : 0);
    for (let node = 0; node < effect.length; node += 1) put(from + node, from + node, 1 / (spread * spread));
  });
  for (let unit = 0; unit < units; unit += 1) {
    const structure = rows.parents[0]?.[unit] ?? 0;
    const branch = rows.parents[1]?.[structure] ?? 0;
    const offset = offsetOf(rows, fit, unit);
    for (let row = rows.rowStart[unit] ?? 0; row < (rows.rowStart[unit + 1] ?? 0); row += 1) {
      const values = new Map<number, number>([0, 1, 2].map((j) => [j, rows.x[row * 3 + j] ?? 0]));
      for (const at of [3 + unit, 3 + units + structure, 3 + units + structures + branch]) values.set(at, 1);
      let eta = offset;
      for (let j = 0; j < 3; j += 1) eta += (fit.coefficients[j] ?? 0) * (rows.x[row * 3 + j] ?? 0);
      const chance = 1 / (1 + Math.exp(-eta));
      for (const [a, xa] of values) for (const [b, xb] of values) put(a, b, chance * (1 - chance) * xa * xb);
    }
  }
  return invert(matrix);
}

function invert(matrix: readonly (readonly number[])[]): number[][] {
  const size = matrix.length;
  const work = matrix.map((row, at) => [
    ...row,
    ...Array.from({ length: size }, (_, n) => (n === at ? 1 : 0)),
  ]);
  for (let column = 0; column < size; column += 1) {
    const pivot = work[column] ?? [];
    const own = pivot[column] ?? 1;
    for (let k = 0; k < 2 * size; k += 1) pivot[k] = (pivot[k] ?? 0) / own;
    work.forEach((row, at) => {
      const factor = row[column] ?? 0;
      if (at === column || factor === 0) return;
      for (let k = 0; k < 2 * size; k += 1) row[k] = (row[k] ?? 0) - factor * (pivot[k] ?? 0);
    });
  }
  return work.map((row) => row.slice(size));
}

function quadratic(matrix: readonly (readonly number[])[], vector: readonly number[]): number {
  return matrix.reduce(
    (sum, row, a) =>
      sum + (vector[a] ?? 0) * row.reduce((inner, value, b) => inner + value * (vector[b] ?? 0), 0),
    0,
  );
}

/** One station and nothing else: a column of ones. */
function oneStation(hits: number, looks: number): HazardRows {
  return {
    columns: 1,
    x: new Float64Array(looks).fill(1),
    hit: Uint8Array.from({ length: looks }, (_, look) => (look < hits ? 1 : 0)),
    rowStart: Int32Array.of(0, looks),
    parents: [],
    nodes: [1],
  };
}

function sumChances({ columns, x, rowStart }: HazardRows, fit: HazardFit): number {
  let sum = 0;
  for (let unit = 0; unit + 1 < rowStart.length; unit += 1)
    for (let row = rowStart[unit] ?? 0; row < (rowStart[unit + 1] ?? 0); row += 1) {
      const look = x.subarray(row * columns, (row + 1) * columns);
      sum += meanChance(hazardAt(fit, look, { level: 0, node: unit }));
    }
  return sum;
}
