import type { LengthUnit } from '../length/index.ts';
import { SHORTEST_WALL_METRES } from '../site/checkSite.ts';
import type { Point } from '../site/model.ts';
import { distance, stepsOf } from '../site/plane.ts';
import { adjustTraverse, type Closure } from '../traverse/adjust.ts';
import { azimuthOf, stepAt } from '../traverse/direction.ts';
import { WORST_ONE_IN } from '../traverse/outlineFromRuns.ts';
import { parseRuns, type TraverseRefusal, type WallRun } from '../traverse/parseRuns.ts';
import { faultOfPlace } from './reshape.ts';

/** An outline or path that is being drawn: its corners so far. */
export interface Pen {
  readonly corners: readonly Point[];
}

export const NO_PEN: Pen = { corners: [] };

export type PenResult =
  | { readonly ok: true; readonly pen: Pen }
  | { readonly ok: false; readonly fault: 'wall too short' | 'too far away' | 'not a number' };

/** A wall to this place. */
export function penTo({ corners }: Pen, at: Point): PenResult {
  const fault = faultOfPlace(at);
  if (fault !== undefined) return { ok: false, fault };
  const last = corners.at(-1);
  if (last !== undefined && distance(last, at) < SHORTEST_WALL_METRES)
    return { ok: false, fault: 'wall too short' };
  return { ok: true, pen: { corners: [...corners, at] } };
}

/** Walls as they were paced: `12' 6" left, 3 m straight on`. They go on from the last corner, or begin at the origin. */
export function penRuns(
  { corners }: Pen,
  text: string,
  bareUnit: LengthUnit,
): { readonly ok: true; readonly pen: Pen } | { readonly ok: false; readonly refusal: TraverseRefusal } {
  const read = parseRuns(text, bareUnit, headingOf({ corners }));
  if (!read.ok) return read;
  const start: Point = corners.at(-1) ?? { x: 0, y: 0 };
  const grown: Point[] = corners.length === 0 ? [start] : [...corners];
  let at = start;
  for (const run of read.runs) {
    at = ahead(at, run.azimuthDegrees, run.lengthMetres);
    grown.push(at);
  }
  const far = grown.findIndex((at) => faultOfPlace(at) !== undefined);
  if (far < 0) return { ok: true, pen: { corners: grown } };
  const run = far - Math.max(corners.length, 1) + 1;
  const message = `Run ${run} leads farther away than a property reaches: check its unit.`;
  return { ok: false, refusal: { fault: 'too long', run, message, at: null } };
}

/** The place so far away in this direction. */
export function ahead(from: Point, azimuthDegrees: number, lengthMetres: number): Point {
  const { east, north } = stepAt(azimuthDegrees);
  return { x: from.x + east * lengthMetres, y: from.y + north * lengthMetres };
}

/** The azimuth of the last wall; undefined before there is one. */
export function headingOf({ corners }: Pen): number | undefined {
  const last = corners.at(-1);
  const before = corners.at(-2);
  return last === undefined || before === undefined
    ? undefined
    : azimuthOf(last.x - before.x, last.y - before.y);
}

export function withoutLast({ corners }: Pen): Pen {
  return { corners: corners.slice(0, -1) };
}

/** How far the last corner lies from the first, were it the first; undefined under three walls. */
export function closureOf(pen: Pen): Closure | undefined {
  return pen.corners.length < 4 ? undefined : adjustTraverse(runsOf(pen), pen.corners[0]).closure;
}

export type CloseResult =
  | { readonly ok: true; readonly outline: readonly Point[] }
  | { readonly ok: false; readonly fault: 'too few corners' | 'does not close' };

/**
 * Closes the outline. `wall`: one more wall leads from the last corner to the first. `spread`: the last corner is the first,
 * paced twice, and the gap between them is spread by the compass rule, refused where it is worse than 1 in 20.
 * Where both coincide there is nothing to spread.
 */
export function closePen(pen: Pen, how: 'wall' | 'spread'): CloseResult {
  const { corners } = pen;
  const first = corners[0];
  const last = corners.at(-1);
  if (first === undefined || last === undefined) return { ok: false, fault: 'too few corners' };
  const meets = corners.length > 1 && distance(first, last) < SHORTEST_WALL_METRES;
  if (how === 'wall' || meets) {
    const outline = meets ? corners.slice(0, -1) : corners;
    return outline.length < 3 ? { ok: false, fault: 'too few corners' } : { ok: true, outline };
  }
  const closure = closureOf(pen);
  if (closure === undefined) return { ok: false, fault: 'too few corners' };
  if (closure.oneIn !== null && closure.oneIn < WORST_ONE_IN) return { ok: false, fault: 'does not close' };
  return { ok: true, outline: adjustTraverse(runsOf(pen), first).adjusted };
}

function runsOf({ corners }: Pen): readonly WallRun[] {
  return stepsOf(corners).map(([a, b]) => ({
    text: '',
    lengthMetres: distance(a, b),
    azimuthDegrees: azimuthOf(b.x - a.x, b.y - a.y),
  }));
}
