import { shiftToMean } from './meanShift.ts';
import type { HazardFit, HazardRows } from './model.ts';
import { backSubstitute, createLevel, eliminateLevels, sweepRows } from './pass.ts';

/**
 * Takes one day's looks into a fit without refitting: the effects of the units and groups named are settled anew on all their rows,
 * while the coefficients, the spreads and the top level stay until the next fit. `rows` holds every row of the groups touched
 * (all of a structure's stations), with nodes numbered on their own; `nodesOf[l][own]` = the fit's node, and nodes that the fit has never
 * seen are given numbers after its last. The top level must be the fit's own.
 */
export function updateHazard(
  fit: HazardFit,
  rows: HazardRows,
  nodesOf: readonly (readonly number[] | Int32Array)[],
): HazardFit {
  const { columns } = fit;
  const topIndex = fit.levels.length - 1;
  if (topIndex < 1) throw new RangeError('an update needs a fit with at least two levels of effects');
  const levels = rows.nodes.map((count) => createLevel(count, columns));
  levels.forEach((level, index) => {
    for (let node = 0; node < level.effect.length; node += 1)
      level.effect[node] = fit.levels[index]?.effect[nodesOf[index]?.[node] ?? -1] ?? 0;
  });
  const precision = fit.levels.map(({ spread }) => 1 / (spread * spread));
  const held = new Float64Array(columns);
  const heldTop = new Float64Array(levels[topIndex]?.effect.length ?? 0);
  for (let step = 0; step < 30; step += 1) {
    eliminateLevels(rows, sweepRows(rows, fit.coefficients, levels), levels, precision);
    backSubstitute(rows, levels, held, heldTop);
    let most = 0;
    levels.forEach((level, index) => {
      if (index === topIndex) return;
      for (let node = 0; node < level.effect.length; node += 1) {
        const move = clamp(level.step[node] ?? 0);
        level.effect[node] = (level.effect[node] ?? 0) + move;
        most = Math.max(most, Math.abs(move));
      }
    });
    if (most < 1e-8) break;
  }
  const merged = merge(fit, levels, nodesOf, rows.parents);
  const top = heldTop.map((_, node) => fit.levels[topIndex]?.shift[nodesOf[topIndex]?.[node] ?? -1] ?? 0);
  const shift = shiftToMean(rows, { ...merged, precision }, nodesOf, { coefficients: fit.shift, top });
  merged.levels.forEach((level, index) => {
    if (index === topIndex) return;
    (nodesOf[index] ?? []).forEach((node: number, local: number) => {
      level.shift[node] = shift.effects[index]?.[local] ?? 0;
    });
  });
  return merged;
}

function clamp(step: number): number {
  return Math.max(-2, Math.min(2, step));
}

function merge(
  fit: HazardFit,
  levels: readonly ReturnType<typeof createLevel>[],
  nodesOf: readonly (readonly number[] | Int32Array)[],
  ownParents: readonly Int32Array[],
): HazardFit {
  const { columns } = fit;
  const topIndex = fit.levels.length - 1;
  const sizes = fit.levels.map((level, index) =>
    Math.max(level.effect.length, ...Array.from(nodesOf[index] ?? [], (node) => node + 1)),
  );
  const parents = fit.parents.map((list, index) => {
    const grown = new Int32Array(sizes[index] ?? 0);
    grown.set(list);
    const own = ownParents[index];
    (nodesOf[index] ?? []).forEach((node: number, local: number) => {
      grown[node] = nodesOf[index + 1]?.[own?.[local] ?? 0] ?? 0;
    });
    return grown;
  });
  return {
    ...fit,
    parents,
    levels: fit.levels.map((level, index) => {
      const own = levels[index];
      if (index === topIndex || own === undefined) return level;
      const size = sizes[index] ?? 0;
      const grow = (old: Float64Array, length: number): Float64Array => {
        const grown = new Float64Array(length);
        grown.set(old);
        return grown;
      };
      const effect = grow(level.effect, size);
      const curvature = grow(level.curvature, size).fill(1 / level.spread ** 2, level.curvature.length);
      const weight = grow(level.weight, size);
      const coupling = grow(level.coupling, size * columns);
      (nodesOf[index] ?? []).forEach((node: number, local: number) => {
        effect[node] = own.effect[local] ?? 0;
        curvature[node] = own.curvature[local] ?? 1;
        weight[node] = own.weight[local] ?? 0;
        coupling.set(own.coupling.subarray(local * columns, (local + 1) * columns), node * columns);
      });
      return { spread: level.spread, effect, shift: grow(level.shift, size), curvature, weight, coupling };
    }),
  };
}
