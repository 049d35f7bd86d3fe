import { Clipper, EndType, FillRule, JoinType } from 'clipper2-ts';
import type { Point, Structure } from '../site/model.ts';
import { counterClockwise, distance, signedArea } from '../site/plane.ts';

/** Corners of walls and lines are held to this many steps a metre (0.1 mm). */
const STEPS_PER_METRE = 10_000;
/** Round corners of the line are drawn with chords that stray at most this far from the arc. */
export const ARC_TOLERANCE_METRES = 0.0005;

/**
 * A closed polyline with its arclength. Material lies on the left hand: round the outside of a building it runs
 * counter-clockwise, round a courtyard clockwise.
 */
export interface ClosedPath {
  readonly points: readonly Point[];
  /** Metres from the first point to each point, and at the end the whole length: one more than the points. */
  readonly along: Float64Array;
  readonly lengthMetres: number;
}

/** The walls of all structures together, shared walls gone; slivers without width are dropped. */
export function wallsOf(structures: readonly Structure[]): readonly ClosedPath[] {
  const subject = structures.flatMap(({ outline, holes }) => [
    toSteps(counterClockwise(outline)),
    ...holes.map((hole) => toSteps(counterClockwise(hole).toReversed())),
  ]);
  return toPaths(Clipper.union(subject, FillRule.NonZero));
}

/**
 * The station lines: all points at the setback from the nearest wall, outside every structure.
 * Round joins, so that the distance to the wall is the same at corners.
 */
export function linesRound(walls: readonly ClosedPath[], setbackMetres: number): readonly ClosedPath[] {
  const inflated = Clipper.inflatePaths(
    walls.map(({ points }) => toSteps(points)),
    setbackMetres * STEPS_PER_METRE,
    JoinType.Round,
    EndType.Polygon,
    2,
    ARC_TOLERANCE_METRES * STEPS_PER_METRE,
  );
  return toPaths(inflated);
}

/** The ground within `clearanceMetres` of an open path. */
export function strip(path: readonly Point[], clearanceMetres: number): readonly (readonly Point[])[] {
  return inflate([path], clearanceMetres, EndType.Round);
}

/** An outline and the ground within `clearanceMetres` of it. */
export function grown(outline: readonly Point[], clearanceMetres: number): readonly (readonly Point[])[] {
  return inflate([counterClockwise(outline)], clearanceMetres, EndType.Polygon);
}

function inflate(paths: readonly (readonly Point[])[], metres: number, ends: EndType) {
  const grownPaths = Clipper.inflatePaths(
    paths.map(toSteps),
    metres * STEPS_PER_METRE,
    JoinType.Round,
    ends,
    2,
    ARC_TOLERANCE_METRES * STEPS_PER_METRE,
  );
  return grownPaths.map((path) => path.map(toMetres));
}

function toSteps(points: readonly Point[]) {
  return points.map(({ x, y }) => ({
    x: Math.round(x * STEPS_PER_METRE),
    y: Math.round(y * STEPS_PER_METRE),
  }));
}

function toMetres({ x, y }: Point): Point {
  return { x: x / STEPS_PER_METRE, y: y / STEPS_PER_METRE };
}

function toPaths(steps: readonly (readonly Point[])[]): readonly ClosedPath[] {
  return steps
    .map((path) => closedPath(path.map(toMetres)))
    .filter(
      ({ points, lengthMetres }) => points.length > 2 && Math.abs(signedArea(points)) > 1e-4 * lengthMetres,
    )
    .toSorted((a, b) => b.lengthMetres - a.lengthMetres);
}

export function closedPath(points: readonly Point[]): ClosedPath {
  const kept = points.filter((point, index) => {
    const before = points[(index + points.length - 1) % points.length];
    return before === undefined || before.x !== point.x || before.y !== point.y;
  });
  const along = new Float64Array(kept.length + 1);
  let sum = 0;
  kept.forEach((point, index) => {
    along[index] = sum;
    sum += distance(point, kept[(index + 1) % kept.length] ?? point);
  });
  along[kept.length] = sum;
  return { points: kept, along, lengthMetres: sum };
}

/** Corners of the line that turn by less than this belong to an arc, radians. */
export const ARC_TURN = 0.5;

/**
 * The two ends of an edge of the line, moved away from the material (negative: towards it). Along arcs the moved
 * edges meet, so that the moved line has no gaps there.
 */
export function movedEdge(path: ClosedPath, edge: number, shiftMetres: number): readonly [Point, Point] {
  const { points } = path;
  const count = points.length;
  const a = points[edge % count] ?? ORIGIN;
  const b = points[(edge + 1) % count] ?? ORIGIN;
  if (shiftMetres === 0) return [a, b];
  const normal = normalOf(a, b);
  const before = normalOf(points[(edge + count - 1) % count] ?? a, a);
  const after = normalOf(b, points[(edge + 2) % count] ?? b);
  return [moved(a, before, normal, normal, shiftMetres), moved(b, normal, after, normal, shiftMetres)];
}

const ORIGIN: Point = { x: 0, y: 0 };

/** Unit length, to the right of a-b: away from the material. */
function normalOf(a: Point, b: Point): Point {
  const length = distance(a, b);
  return length === 0 ? ORIGIN : { x: (b.y - a.y) / length, y: (a.x - b.x) / length };
}

function moved(p: Point, before: Point, after: Point, own: Point, shift: number): Point {
  const cosine = before.x * after.x + before.y * after.y;
  if (cosine < Math.cos(ARC_TURN)) return { x: p.x + own.x * shift, y: p.y + own.y * shift };
  const scale = shift / (1 + cosine);
  return { x: p.x + (before.x + after.x) * scale, y: p.y + (before.y + after.y) * scale };
}

/** The edge on which a position from 0 to the length of the line lies. */
export function edgeAt({ points, along }: ClosedPath, wanted: number): number {
  let low = 0;
  let high = points.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if ((along[middle] ?? 0) <= wanted) low = middle;
    else high = middle - 1;
  }
  return low;
}

/** The point at a position on the line, moved away from the material by `shiftMetres`. */
export function pointAt(path: ClosedPath, alongMetres: number, shiftMetres = 0): Point {
  const { along, lengthMetres } = path;
  const wanted = ((alongMetres % lengthMetres) + lengthMetres) % lengthMetres;
  const edge = edgeAt(path, wanted);
  const [a, b] = movedEdge(path, edge, shiftMetres);
  const length = (along[edge + 1] ?? 0) - (along[edge] ?? 0);
  const fraction = length === 0 ? 0 : (wanted - (along[edge] ?? 0)) / length;
  return { x: a.x + (b.x - a.x) * fraction, y: a.y + (b.y - a.y) * fraction };
}

/** The position on a closed path nearest to a point, and how far away it is. */
export function nearestOn(
  path: ClosedPath,
  p: Point,
): { readonly alongMetres: number; readonly distanceMetres: number } {
  const { points, along } = path;
  let best = Number.POSITIVE_INFINITY;
  let bestAlong = 0;
  const count = points.length;
  for (let index = 0; index < count; index++) {
    const a = points[index];
    const b = points[index + 1 === count ? 0 : index + 1];
    if (a === undefined || b === undefined) continue;
    const dx = b.x - a.x;
    const dy = b.y - a.y;
    const px = p.x - a.x;
    const py = p.y - a.y;
    const squared = dx * dx + dy * dy;
    let fraction = squared === 0 ? 0 : (px * dx + py * dy) / squared;
    fraction = Math.min(1, Math.max(0, fraction));
    const ex = px - fraction * dx;
    const ey = py - fraction * dy;
    const away = ex * ex + ey * ey;
    if (away < best) {
      best = away;
      bestAlong = (along[index] ?? 0) + fraction * Math.sqrt(squared);
    }
  }
  return { alongMetres: bestAlong, distanceMetres: Math.sqrt(best) };
}

/** Metres from a point to the nearest wall; infinite where there are no walls. */
export function wallDistance(walls: readonly ClosedPath[], p: Point): number {
  return walls.reduce((least, wall) => Math.min(least, nearestOn(wall, p).distanceMetres), Infinity);
}
