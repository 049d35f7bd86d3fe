import type { HazardRows } from './model.ts';
import { backSubstitute, createLevel, eliminateLevels, unitOffsets } from './pass.ts';
import { logistic } from './predict.ts';
import { type CurvedLevel, effectsShare, varianceWith } from './variance.ts';

/** A level whose effects have been settled. */
export interface SettledLevel extends CurvedLevel {
  readonly effect: Float64Array;
}

/** What `shiftToMean` needs of the fit that it belongs to. */
export interface Settled {
  readonly coefficients: Float64Array;
  readonly covariance: Float64Array;
  readonly levels: readonly SettledLevel[];
  readonly parents: readonly Int32Array[];
  readonly precision: readonly number[];
}

export interface MeanShift {
  readonly coefficients: Float64Array;
  /** by level, by node of `data` */
  readonly effects: readonly Float64Array[];
}

/** The shift of what stays as it is: the coefficients, and the effects of the top level. */
export interface HeldShift {
  readonly coefficients: Float64Array;
  readonly top: Float64Array;
}

/**
 * How far the mean of coefficients and effects lies from where their likelihood is highest. Chances are small and hits few, so that what is not known
 * reaches farther down than up; without it the mean of the chances would be above what the record itself shows (Lindley 1980,
 * Trabajos de Estadística 31, 223-245: the first order, by third derivatives). One elimination like a step of Newton's method.
 * `nodesOf[l][own]` = the node of `settled` that node `own` of `data` is; without it they are the same.
 */
export function shiftToMean(
  data: HazardRows,
  settled: Settled,
  nodesOf?: readonly (readonly number[] | Int32Array)[],
  held?: HeldShift,
): MeanShift {
  const { columns, x, rowStart } = data;
  const { coefficients, covariance, precision } = settled;
  const nodeAt = (level: number, own: number): number => nodesOf?.[level]?.[own] ?? own;
  const levels = settled.levels.map((_, level) => createLevel(data.nodes[level] ?? 0, columns));
  const first = levels[0];
  const offsets = unitOffsets(
    data,
    levels.map(({ effect }, level) => ({
      effect: effect.map((_, own) => settled.levels[level]?.effect[nodeAt(level, own)] ?? 0),
    })),
  );
  const gradient = new Float64Array(columns);
  for (let unit = 0; unit < offsets.length; unit += 1) {
    const node = nodeAt(0, unit);
    const share = effectsShare(settled.levels, settled.parents, columns, node, 0);
    let pull = 0;
    for (let row = rowStart[unit] ?? 0; row < (rowStart[unit + 1] ?? 0); row += 1) {
      const at = row * columns;
      let eta = offsets[unit] ?? 0;
      for (let j = 0; j < columns; j += 1) eta += (x[at + j] ?? 0) * (coefficients[j] ?? 0);
      const chance = logistic(eta);
      const third = -chance * (1 - chance) * (1 - 2 * chance);
      const own = 0.5 * third * varianceWith(share, covariance, x, at);
      pull += own;
      for (let j = 0; j < columns; j += 1) gradient[j] = (gradient[j] ?? 0) + own * (x[at + j] ?? 0);
    }
    if (first === undefined) continue;
    first.gradient[unit] = pull;
    first.weight[unit] = settled.levels[0]?.weight[node] ?? 0;
    first.coupling.set(
      settled.levels[0]?.coupling.subarray(node * columns, (node + 1) * columns) ?? [],
      unit * columns,
    );
  }
  const none = { curvature: new Float64Array(columns * columns), gradient, logLikelihood: 0 };
  const top = eliminateLevels(data, none, levels, precision);
  const move = held?.coefficients ?? times(covariance, top.gradient);
  backSubstitute(data, levels, move, held?.top);
  return { coefficients: move, effects: levels.map(({ step }) => step) };
}

function times(square: Float64Array, vector: Float64Array): Float64Array {
  const size = vector.length;
  return vector.map((_, row) =>
    vector.reduce((sum, value, column) => sum + (square[row * size + column] ?? 0) * value, 0),
  );
}
