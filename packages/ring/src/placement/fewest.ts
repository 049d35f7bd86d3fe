import { complement, type Interval, unite } from './intervals.ts';

/** Lengths closer than this count as equal, metres: far under what anyone paces, far over rounding. */
const SAME_METRES = 1e-7;
/** A step may reach this much past the spacing, metres; ground that pauses for more must be cut, or no step crosses it. */
const STEP_SLACK_METRES = SAME_METRES / 100;
/** The greatest gap is found to within this of its smallest, metres. */
const EVEN_METRES = 1e-4;

/**
 * Part of a closed line in which stations guard one another, unrolled: `arcs` are sorted, disjoint and may run
 * past the length of the line. A `loop` closes on itself after `turnMetres`; a `chain` has an end that must be held.
 */
export interface Run {
  readonly kind: 'loop' | 'chain';
  readonly arcs: readonly Interval[];
  /** Length of the closed line. */
  readonly turnMetres: number;
}

export interface RunPlan {
  /** Ascending, unrolled. */
  readonly at: readonly number[];
  readonly greatestGapMetres: number;
}

/**
 * Cuts a closed line at every stretch of forbidden ground longer than the spacing: no choice of stations guards
 * the middle of such a stretch, and what can be guarded of it needs a station at both of its ends.
 */
export function listRuns(ground: readonly Interval[], turnMetres: number, spacing: number): readonly Run[] {
  const first = ground[0];
  if (first === undefined) return [];
  const last = ground[ground.length - 1] ?? first;
  const meetsItself = ground.length > 1 && first.from <= SAME_METRES && last.to >= turnMetres - SAME_METRES;
  const arcs = meetsItself
    ? [...ground.slice(1, -1), { from: last.from, to: turnMetres + first.to }]
    : ground;
  const isWide = (index: number) => isTooWide(gapBefore(arcs, index, turnMetres), spacing);
  const start = arcs.findIndex((_, index) => isWide(index));
  if (start < 0) return [{ kind: 'loop', arcs, turnMetres }];
  const runs: Interval[][] = [];
  for (let step = 0; step < arcs.length; step++) {
    const index = (start + step) % arcs.length;
    const arc = arcs[index];
    if (arc === undefined) continue;
    const shift = start + step >= arcs.length ? turnMetres : 0;
    const moved = { from: arc.from + shift, to: arc.to + shift };
    if (isWide(index)) runs.push([moved]);
    else runs[runs.length - 1]?.push(moved);
  }
  return runs.map((of) => ({ kind: 'chain', arcs: of, turnMetres }));
}

/** True where ground pauses for more than a step crosses: half of its slack is left to rounding. */
export function isTooWide(gapMetres: number, spacing: number): boolean {
  return gapMetres > spacing + STEP_SLACK_METRES / 2;
}

function gapBefore(arcs: readonly Interval[], index: number, turn: number): number {
  const arc = arcs[index];
  const before = arcs[(index + arcs.length - 1) % arcs.length];
  if (arc === undefined || before === undefined) return 0;
  return index === 0 ? arc.from + turn - before.to : arc.from - before.to;
}

/**
 * The fewest stations on a run so that neighbours stand at most `spacing` apart, then the smallest greatest gap.
 *
 * Always stepping as far as the ground and the spacing let one is optimal from a given start, because the step is
 * monotone in where it starts. On a chain the start is its end. On a loop it is enough to start from the ends of the
 * arcs: from a best placement step greedily; if a step stops short it stops at the far end of an arc, and starting
 * there needs no more stations; if none does, the whole placement slides back until a station meets the near end
 * of an arc. (The loop without forbidden ground has no ends and starts anywhere.)
 */
export function planRun(run: Run, spacing: number): RunPlan {
  const [first] = run.arcs;
  if (first === undefined) return { at: [], greatestGapMetres: 0 };
  const stepper = createStepper(run);
  const least = Math.max(1, Math.ceil((stepper.span - SAME_METRES) / spacing));
  const start = bestStart(stepper, spacing, Number.POSITIVE_INFINITY, least);
  if (start === undefined) throw new Error('a run that the spacing cannot cross: listRuns cuts those');
  const steps = start.steps;
  let low = stepper.span / steps;
  let best = bestStart(stepper, low, steps, steps);
  let gap = low;
  if (best === undefined) {
    let high = spacing;
    best = start;
    while (high - low > EVEN_METRES) {
      const middle = (low + high) / 2;
      const found = bestStart(stepper, middle, steps, steps);
      if (found === undefined) low = middle;
      else {
        high = middle;
        best = found;
      }
    }
    gap = high;
  }
  const at = stepper.walk(best.from, gap, steps);
  return { at: run.kind === 'chain' ? at : at.slice(0, steps), greatestGapMetres: gap };
}

interface Stepper {
  /** Length to be crossed from a start: the turn of a loop, end to end of a chain. */
  readonly span: number;
  readonly starts: readonly number[];
  /** Steps to cross the span from `from`; undefined when it takes more than `most` or cannot be done. */
  count(from: number, spacing: number, most: number): number | undefined;
  /** Where those steps stop, the start included: `steps` + 1 positions. */
  walk(from: number, spacing: number, steps: number): readonly number[];
}

function createStepper(run: Run): Stepper {
  const { arcs, turnMetres } = run;
  const first = arcs[0] ?? { from: 0, to: 0 };
  const last = arcs[arcs.length - 1] ?? first;
  const isLoop = run.kind === 'loop';
  const isWhole = isLoop && last.to - first.from >= turnMetres - SAME_METRES && arcs.length === 1;
  const turns = isLoop ? [0, turnMetres, 2 * turnMetres] : [0];
  const laid = turns.flatMap((turn) => arcs.map(({ from, to }) => ({ from: from + turn, to: to + turn })));
  const froms = Float64Array.from(laid, ({ from }) => from);
  const tos = Float64Array.from(laid, ({ to }) => to);
  const span = isLoop ? turnMetres : last.to - first.from;
  const starts = isWhole
    ? [first.from]
    : isLoop
      ? arcs.flatMap(({ from, to }) => (to - from > SAME_METRES ? [from, to] : [from]))
      : [first.from];

  const step = (at: number, spacing: number): number => {
    const goal = at + spacing + STEP_SLACK_METRES;
    if (isWhole) return at + spacing;
    let low = 0;
    let high = froms.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if ((froms[middle] ?? 0) <= goal) low = middle + 1;
      else high = middle;
    }
    return Math.min(at + spacing, tos[low - 1] ?? at);
  };

  return {
    span,
    starts,
    count(from, spacing, most) {
      let at = from;
      const goal = from + span - SAME_METRES;
      for (let steps = 0; steps <= most; steps++) {
        if (at >= goal) return Math.max(steps, isLoop ? 1 : 0);
        const next = step(at, spacing);
        if (next <= at + SAME_METRES / 10) return undefined;
        at = next;
      }
      return undefined;
    },
    walk(from, spacing, steps) {
      const at = [from];
      for (let taken = 1; taken <= steps; taken++) {
        at.push(Math.min(step(at[taken - 1] ?? from, spacing), from + span));
      }
      return at;
    },
  };
}

/** The start with the fewest steps; stops looking at `least`, below which none can be. */
function bestStart(
  stepper: Stepper,
  spacing: number,
  most: number,
  least: number,
): { readonly from: number; readonly steps: number } | undefined {
  let best: { readonly from: number; readonly steps: number } | undefined;
  let limit = most === Number.POSITIVE_INFINITY ? Math.ceil(stepper.span / SAME_METRES) : most;
  for (const from of stepper.starts) {
    const steps = stepper.count(from, spacing, limit);
    if (steps === undefined || (best !== undefined && steps >= best.steps)) continue;
    best = { from, steps };
    limit = steps;
    if (steps <= least) break;
  }
  return best;
}

/** What no choice of stations on this ground guards, on the closed line. */
export function listUnguardable(
  ground: readonly Interval[],
  turnMetres: number,
  spacing: number,
): readonly Interval[] {
  return listUnguarded(
    listRuns(ground, turnMetres, spacing).flatMap(({ arcs }) => arcs),
    turnMetres,
    spacing,
  );
}

/** What lies farther than half the spacing along the closed line from all of `places` (points or stretches). */
export function listUnguarded(
  places: readonly Interval[],
  turnMetres: number,
  spacing: number,
): readonly Interval[] {
  const guarded = places.flatMap(({ from, to }) => {
    const start = from - spacing / 2;
    const end = to + spacing / 2;
    const turns = [-2, -1, 0, 1].map((turn) => turn * turnMetres);
    return turns.flatMap((turn) => {
      const low = Math.max(0, start + turn);
      const high = Math.min(turnMetres, end + turn);
      return high > low ? [{ from: low, to: high }] : [];
    });
  });
  return complement(unite(guarded, 10 * SAME_METRES), turnMetres);
}
