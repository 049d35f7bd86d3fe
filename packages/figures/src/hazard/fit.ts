import { cholesky, choleskyInverse, choleskySolve } from '../cholesky.ts';
import { shiftToMean } from './meanShift.ts';
import { checkHazardRows, type HazardFit, type HazardOptions, type HazardRows } from './model.ts';
import {
  backSubstitute,
  createLevel,
  eliminateLevels,
  type LevelDraft,
  type RowSums,
  sweepRows,
  type TopSums,
} from './pass.ts';
import { effectsShare, varianceWith } from './variance.ts';

/**
 * Fits the chance of a hit at a look: logistic in the columns, with a normal effect for each unit and each group above it.
 * Newton's method on the penalised likelihood, effects eliminated exactly; spreads by the fixed point of Fellner (1986,
 * Technometrics 28, 51-60) and Schall (1991, Biometrika 78, 719-727), which is known to draw spreads of rare yes-or-no data low. A
 * `data` refusal names columns that cannot be told apart. Undefined without a hit or without a look that found none.
 */
export function fitHazard(data: HazardRows, options: HazardOptions): HazardFit | HazardRefusal {
  checkHazardRows(data);
  const hits = data.hit.reduce((sum, one) => sum + one, 0);
  if (hits === 0 || hits === data.hit.length)
    return { refused: 'no hits or nothing but hits', rows: data.hit.length, hits };
  const draft = openDraft(data, options, hits);
  const mostSteps = options.mostSteps ?? 60;
  let steps = 0;
  let converged = false;
  let sums = sweepDraft(data, draft);
  while (steps < mostSteps && !converged) {
    steps += 1;
    const lower = cholesky(sums.curvature, data.columns);
    if (lower === undefined) return { refused: 'columns cannot be told apart', rows: data.hit.length, hits };
    const move = choleskySolve(lower, data.columns, sums.gradient);
    backSubstitute(data, draft.levels, move);
    const moved = takeStep(data, draft, move, sums);
    sums = moved.sums;
    const change = draft.isSpreadFixed ? 0 : renewSpreads(data, draft, sums);
    if (change > 0) sums = sumDraft(data, draft);
    // While spreads still creep, so does the rest: a millionth of the likelihood is far under what the data can tell.
    const least = draft.isSpreadFixed ? 1e-9 : 1e-6;
    converged = moved.gain < least * (1 + Math.abs(sums.logPosterior)) && change < 1e-3;
  }
  return finish(data, draft, sums, { hits, steps, converged });
}

export interface HazardRefusal {
  readonly refused: 'no hits or nothing but hits' | 'columns cannot be told apart';
  readonly rows: number;
  readonly hits: number;
}

interface Draft {
  readonly coefficients: Float64Array;
  readonly levels: readonly LevelDraft[];
  readonly precision: number[];
  readonly ridge: readonly number[];
  readonly isSpreadFixed: boolean;
  readonly trails: readonly Trail[];
  rows: RowSums;
}

function openDraft(data: HazardRows, options: HazardOptions, hits: number): Draft {
  const hasEffects = options.effects === 'nested';
  const levels = hasEffects ? data.nodes.map((count) => createLevel(count, data.columns)) : [];
  const coefficients = new Float64Array(data.columns);
  // The first column is taken for the intercept: the Newton steps start from the overall rate.
  if (isIntercept(data)) coefficients[0] = Math.log(hits / (data.hit.length - hits));
  if (options.start !== undefined) {
    coefficients.set(options.start.coefficients);
    for (const [level, { effect }] of options.start.levels.entries()) levels[level]?.effect.set(effect);
  }
  return {
    coefficients,
    levels,
    precision: levels.map((_, level) => 1 / (options.startSpread?.[level] ?? 0.5) ** 2),
    ridge: options.ridge,
    isSpreadFixed: !hasEffects || options.fixedSpread === true,
    trails: levels.map(() => ({ logs: [], reach: Math.LN2, lastWay: 0 })),
    rows: { curvature: new Float64Array(0), gradient: new Float64Array(0), logLikelihood: 0 },
  };
}

function isIntercept({ x, columns, hit }: HazardRows): boolean {
  for (let row = 0; row < hit.length; row += 1) if (x[row * columns] !== 1) return false;
  return true;
}

function sweepDraft(data: HazardRows, draft: Draft): TopSums {
  draft.rows = sweepRows(data, draft.coefficients, draft.levels);
  return sumDraft(data, draft);
}

function sumDraft(data: HazardRows, { coefficients, levels, precision, ridge, rows }: Draft): TopSums {
  const sums = eliminateLevels(data, rows, levels, precision);
  for (let j = 0; j < data.columns; j += 1) {
    const held = ridge[j] ?? 0;
    const own = coefficients[j] ?? 0;
    sums.gradient[j] = (sums.gradient[j] ?? 0) - held * own;
    sums.curvature[j * data.columns + j] = (sums.curvature[j * data.columns + j] ?? 0) + held;
    sums.logPosterior -= 0.5 * held * own * own;
  }
  return sums;
}

/** Goes the whole step, or half of it again and again while that makes things worse. */
function takeStep(
  data: HazardRows,
  draft: Draft,
  move: Float64Array,
  before: TopSums,
): { readonly sums: TopSums; readonly gain: number } {
  const steps = draft.levels.map(({ step }) => Float64Array.from(step));
  let size = 1;
  add(draft, move, steps, 1);
  for (let halving = 0; ; halving += 1) {
    const sums = sweepDraft(data, draft);
    const gain = sums.logPosterior - before.logPosterior;
    if (gain >= -1e-9 * Math.abs(before.logPosterior) || halving === 30) return { sums, gain };
    add(draft, move, steps, -size / 2);
    size /= 2;
  }
}

function add(draft: Draft, move: Float64Array, steps: readonly Float64Array[], factor: number): void {
  const { coefficients, levels } = draft;
  move.forEach((one, j) => {
    coefficients[j] = (coefficients[j] ?? 0) + factor * one;
  });
  levels.forEach(({ effect }, level) => {
    const step = steps[level];
    if (step === undefined) return;
    for (let node = 0; node < effect.length; node += 1)
      effect[node] = (effect[node] ?? 0) + factor * (step[node] ?? 0);
  });
}

const LEAST_SPREAD = 0.01;
const MOST_SPREAD = 5;

/** Renews each level's precision; the greatest change of a spread. */
function renewSpreads(data: HazardRows, draft: Draft, sums: TopSums): number {
  const lower = cholesky(sums.curvature, data.columns);
  if (lower === undefined) return 0;
  const covariance = choleskyInverse(lower, data.columns);
  let most = 0;
  draft.levels.forEach((level, index) => {
    const precision = draft.precision[index] ?? 1;
    let squares = 0;
    let degrees = 0;
    for (let node = 0; node < level.effect.length; node += 1) {
      const share = effectsShare(draft.levels, data.parents, data.columns, node, index, true);
      const variance = varianceWith(share, covariance, null);
      squares += (level.effect[node] ?? 0) ** 2;
      degrees += Math.max(0, 1 - precision * variance);
    }
    const spread = degrees > 0 ? Math.sqrt(squares / degrees) : LEAST_SPREAD;
    const kept = Math.min(MOST_SPREAD, Math.max(LEAST_SPREAD, lookAhead(draft.trails[index], spread)));
    most = Math.max(most, Math.abs(kept - 1 / Math.sqrt(precision)));
    draft.precision[index] = 1 / (kept * kept);
  });
  return most;
}

/** How a spread went so far. */
interface Trail {
  /** logarithms since the last look ahead, at most three */
  logs: number[];
  /** the farthest a look ahead may go; halved each time it has gone too far */
  reach: number;
  lastWay: number;
}

/**
 * Where a trail that closes in by the same share each time would end (Aitken's rule), every third time: the spreads alone would take
 * hundreds of sweeps. Where it hardly closes in at all it goes as far as `reach`, so that a flat likelihood is crossed by halving.
 */
function lookAhead(trail: Trail | undefined, spread: number): number {
  if (trail === undefined) return spread;
  trail.logs.push(Math.log(spread));
  const [first, second, third] = trail.logs;
  if (first === undefined || second === undefined || third === undefined) return spread;
  trail.logs = [];
  const ratio = (third - second) / (second - first);
  const way = Math.sign(third - second);
  if (!(ratio > 0)) return spread;
  if (way === -trail.lastWay) trail.reach /= 2;
  trail.lastWay = way;
  const ahead = ratio < 0.97 ? ((third - second) * ratio) / (1 - ratio) : way * trail.reach;
  return spread * Math.exp(Math.max(-trail.reach, Math.min(trail.reach, ahead)));
}

function finish(
  data: HazardRows,
  draft: Draft,
  sums: TopSums,
  { hits, steps, converged }: { hits: number; steps: number; converged: boolean },
): HazardFit | HazardRefusal {
  const { columns } = data;
  const lower = cholesky(sums.curvature, columns);
  if (lower === undefined) return { refused: 'columns cannot be told apart', rows: data.hit.length, hits };
  const { coefficients, levels, precision } = draft;
  const covariance = choleskyInverse(lower, columns);
  const shift = shiftToMean(data, { coefficients, covariance, levels, parents: data.parents, precision });
  return {
    columns,
    coefficients,
    shift: shift.coefficients,
    covariance,
    levels: levels.map(({ effect, curvature, weight, coupling }, level) => ({
      spread: 1 / Math.sqrt(precision[level] ?? 1),
      effect,
      shift: shift.effects[level] ?? new Float64Array(effect.length),
      curvature,
      weight,
      coupling,
    })),
    parents: data.parents,
    rows: data.hit.length,
    hits,
    logLikelihood: sums.logLikelihood,
    steps,
    converged,
  };
}
