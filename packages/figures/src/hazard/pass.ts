import type { HazardRows } from './model.ts';

/** One level's nodes while fitting. Everything but `effect` is refilled as the fit goes on. */
export interface LevelDraft {
  readonly effect: Float64Array;
  readonly weight: Float64Array;
  readonly gradient: Float64Array;
  /** what the node would move by, times its curvature, if nothing else moved */
  readonly pull: Float64Array;
  readonly curvature: Float64Array;
  readonly coupling: Float64Array;
  readonly step: Float64Array;
}

export function createLevel(nodes: number, columns: number): LevelDraft {
  return {
    effect: new Float64Array(nodes),
    weight: new Float64Array(nodes),
    gradient: new Float64Array(nodes),
    pull: new Float64Array(nodes),
    curvature: new Float64Array(nodes),
    coupling: new Float64Array(nodes * columns),
    step: new Float64Array(nodes),
  };
}

export interface TopSums {
  /** curvature of the coefficients, row-major, both triangles */
  readonly curvature: Float64Array;
  readonly gradient: Float64Array;
  /** log-likelihood of the rows, less the effects' penalty */
  logPosterior: number;
  logLikelihood: number;
}

/** Sums over the rows alone, as `sweepRows` leaves them: kept while only the spreads change. */
export interface RowSums {
  /** lower triangle only */
  readonly curvature: Float64Array;
  readonly gradient: Float64Array;
  readonly logLikelihood: number;
}

/**
 * Eliminates each level's effects into the level above, from the rows' sums: a nested model's curvature is a tree, so this
 * costs one visit a node, no fill-in. `precision[l]` = 1 / spread² of level l.
 */
export function eliminateLevels(
  data: HazardRows,
  rows: RowSums,
  levels: readonly LevelDraft[],
  precision: readonly number[],
): TopSums {
  const { columns } = data;
  const top: TopSums = {
    curvature: Float64Array.from(rows.curvature),
    gradient: Float64Array.from(rows.gradient),
    logPosterior: rows.logLikelihood,
    logLikelihood: rows.logLikelihood,
  };
  levels.forEach((level, index) => {
    if (index === 0) return;
    level.weight.fill(0);
    level.gradient.fill(0);
    level.coupling.fill(0);
  });
  levels.forEach((level, index) => {
    eliminate(level, precision[index] ?? 1, columns, data.parents[index], levels[index + 1], top);
  });
  for (let row = 0; row < columns; row += 1)
    for (let column = 0; column < row; column += 1)
      top.curvature[column * columns + row] = top.curvature[row * columns + column] ?? 0;
  return top;
}

/** The effects above and at each unit, added up. */
export function unitOffsets(data: HazardRows, levels: readonly Pick<LevelDraft, 'effect'>[]): Float64Array {
  const units = data.nodes[0] ?? 0;
  const offsets = new Float64Array(units);
  for (let unit = 0; unit < units; unit += 1) {
    let node = unit;
    let sum = 0;
    for (let level = 0; level < levels.length; level += 1) {
      sum += levels[level]?.effect[node] ?? 0;
      node = data.parents[level]?.[node] ?? 0;
    }
    offsets[unit] = sum;
  }
  return offsets;
}

/** One sweep over all rows at the current coefficients and effects; fills the units' sums. */
export function sweepRows(
  data: HazardRows,
  coefficients: Float64Array,
  levels: readonly LevelDraft[],
): RowSums {
  const { columns, x, hit, rowStart } = data;
  const curvature = new Float64Array(columns * columns);
  const gradient = new Float64Array(columns);
  const units = data.nodes[0] ?? 0;
  const offsets = unitOffsets(data, levels);
  const first = levels[0];
  const coupling = new Float64Array(columns);
  let logLikelihood = 0;
  for (let unit = 0; unit < units; unit += 1) {
    const offset = offsets[unit] ?? 0;
    const to = rowStart[unit + 1] ?? 0;
    let weightSum = 0;
    let gradientSum = 0;
    coupling.fill(0);
    for (let row = rowStart[unit] ?? 0; row < to; row += 1) {
      const at = row * columns;
      let eta = offset;
      for (let j = 0; j < columns; j += 1) eta += (x[at + j] ?? 0) * (coefficients[j] ?? 0);
      const e = Math.exp(-Math.abs(eta));
      const chance = eta >= 0 ? 1 / (1 + e) : e / (1 + e);
      const isHit = hit[row] ?? 0;
      logLikelihood -= Math.log1p(e) + (isHit === 1 ? Math.max(0, -eta) : Math.max(0, eta));
      const weight = e / ((1 + e) * (1 + e));
      const residual = isHit - chance;
      weightSum += weight;
      gradientSum += residual;
      for (let j = 0; j < columns; j += 1) {
        const xj = x[at + j] ?? 0;
        if (xj === 0) continue;
        const weighted = weight * xj;
        coupling[j] = (coupling[j] ?? 0) + weighted;
        gradient[j] = (gradient[j] ?? 0) + residual * xj;
        const base = j * columns;
        for (let k = 0; k <= j; k += 1)
          curvature[base + k] = (curvature[base + k] ?? 0) + weighted * (x[at + k] ?? 0);
      }
    }
    if (first === undefined) continue;
    first.weight[unit] = weightSum;
    first.gradient[unit] = gradientSum;
    first.coupling.set(coupling, unit * columns);
  }
  return { curvature, gradient, logLikelihood };
}

function eliminate(
  level: LevelDraft,
  precision: number,
  columns: number,
  parents: Int32Array | undefined,
  above: LevelDraft | undefined,
  top: TopSums,
): void {
  const { effect, weight, gradient, pull, curvature, coupling } = level;
  for (let node = 0; node < effect.length; node += 1) {
    const own = effect[node] ?? 0;
    const w = weight[node] ?? 0;
    const h = w + precision;
    const pulled = (gradient[node] ?? 0) - precision * own;
    const share = pulled / h;
    pull[node] = pulled;
    const at = node * columns;
    top.logPosterior -= 0.5 * precision * own * own;
    curvature[node] = h;
    if (above !== undefined && parents !== undefined) {
      const parent = parents[node] ?? 0;
      const kept = precision / h;
      above.weight[parent] = (above.weight[parent] ?? 0) + w * kept;
      above.gradient[parent] = (above.gradient[parent] ?? 0) + (gradient[node] ?? 0) - w * share;
      const to = parent * columns;
      for (let j = 0; j < columns; j += 1)
        above.coupling[to + j] = (above.coupling[to + j] ?? 0) + (coupling[at + j] ?? 0) * kept;
    }
    for (let j = 0; j < columns; j += 1) {
      const b = coupling[at + j] ?? 0;
      if (b === 0) continue;
      top.gradient[j] = (top.gradient[j] ?? 0) - b * share;
      const scaled = b / h;
      for (let k = 0; k <= j; k += 1)
        top.curvature[j * columns + k] =
          (top.curvature[j * columns + k] ?? 0) - scaled * (coupling[at + k] ?? 0);
    }
  }
}

/** Steps of all effects that go with a step of the coefficients, from the top level down. With `topSteps` those of the top level are given. */
export function backSubstitute(
  data: HazardRows,
  levels: readonly LevelDraft[],
  move: Float64Array,
  topSteps?: Float64Array,
): void {
  const { columns } = data;
  // step of a node's ancestors, added up, by level from the top
  let aboveSum: Float64Array | undefined = topSteps;
  if (topSteps !== undefined) levels.at(-1)?.step.set(topSteps);
  for (let index = levels.length - (topSteps === undefined ? 1 : 2); index >= 0; index -= 1) {
    const level = levels[index];
    if (level === undefined) continue;
    const { weight, pull, curvature, coupling, step } = level;
    const parents = data.parents[index];
    const sums = new Float64Array(step.length);
    for (let node = 0; node < step.length; node += 1) {
      const ancestors = aboveSum === undefined ? 0 : (aboveSum[parents?.[node] ?? 0] ?? 0);
      let along = (weight[node] ?? 0) * ancestors;
      for (let j = 0; j < columns; j += 1) along += (coupling[node * columns + j] ?? 0) * (move[j] ?? 0);
      const own = ((pull[node] ?? 0) - along) / (curvature[node] ?? 1);
      step[node] = own;
      sums[node] = ancestors + own;
    }
    aboveSum = sums;
  }
}
