import type { Point } from '../site/model.ts';
import {
  criticalFractions,
  deepEnough,
  isBeside,
  knotsOf,
  pointOn,
  type Side,
  type Strip,
  shiftOn,
  stripOf,
} from './band.ts';
import { type Forbidden, partsIn } from './forbidden.ts';
import { complement, dropNarrow, type Interval, intersect, unite } from './intervals.ts';
import type { RingRules } from './model.ts';
import { type ClosedPath, edgeAt, movedEdge, pointAt } from './stationLine.ts';

/** Ground narrower than this along the line takes no station, metres (common practice, no source: a hand's breadth). */
export const NARROWEST_PLACE_METRES = 0.1;
/** The line is drawn with chords, so that it strays from its setback by up to this much, metres. */
const WALL_TOLERANCE_METRES = 0.005;
const SHIFT_STEP_METRES = 0.01;
const STEP_SHARES = [0.01, 0.5, 0.99] as const;
/** Kept clear of places equally far from two walls, where it is a toss-up which part of the line a station guards. */
const SHIFT_MARGIN_METRES = 0.05;
/** The line runs in the middle of the setback band. */
export function lineSetback(rules: RingRules): number {
  return (rules.setbackMetres.nearest + rules.setbackMetres.farthest) / 2;
}

/** Where along one station line a station can stand. */
export interface Ground {
  /** Sorted, disjoint, on the line cut open at its first point. */
  readonly free: readonly Interval[];
  /** Free in the middle of the band. */
  readonly onLine: readonly Interval[];
  /** Blocked there, and free nearer to the wall; or else free farther out. */
  readonly inner: readonly Interval[];
  readonly outer: readonly Interval[];
  /** What is forbidden anywhere in the band. */
  readonly near: readonly Forbidden[];
  readonly halfMetres: number;
  /** What blocks the line itself. */
  readonly blocked: readonly { readonly by: Forbidden; readonly parts: readonly Interval[] }[];
}

/**
 * Takes the forbidden ground from a station line. Where the middle of the setback band is blocked, the whole depth of the
 * band is looked at, square to the line: exactly, but for steps of 1 cm where a station would have to stand farther out
 * and some other wall might then be as near as its own.
 */
export function groundOf(
  line: ClosedPath,
  walls: readonly ClosedPath[],
  forbidden: readonly Forbidden[],
  rules: RingRules,
): Ground {
  const near = forbidden.filter((ground) => isNear(line, ground, rules));
  const halfMetres = (rules.setbackMetres.farthest - rules.setbackMetres.nearest) / 2;
  const blocked = near.flatMap((by) => {
    const parts = blockedParts(line, by);
    return parts.length === 0 ? [] : [{ by, parts }];
  });
  const blockedOnLine = unite(blocked.flatMap(({ parts }) => parts));
  const onLine = complement(blockedOnLine, line.lengthMetres);
  const beside =
    halfMetres > 0 && blockedOnLine.length > 0
      ? freeBeside(line, walls, near, blockedOnLine, halfMetres, lineSetback(rules))
      : { inner: [], outer: [] };
  const all = unite([...onLine, ...beside.inner, ...beside.outer], 1e-6);
  const free = dropNarrow(all, line.lengthMetres, NARROWEST_PLACE_METRES);
  return { free, onLine, ...beside, near, halfMetres, blocked };
}

/** Blocked stretches of the line beside which, in the band, a station can stand: nearer to the wall, or farther out. */
function freeBeside(
  line: ClosedPath,
  walls: readonly ClosedPath[],
  near: readonly Forbidden[],
  blockedOnLine: readonly Interval[],
  halfMetres: number,
  setbackMetres: number,
): { readonly inner: readonly Interval[]; readonly outer: readonly Interval[] } {
  const knots = knotsOf(near);
  const inner: Interval[] = [];
  const outer: Interval[] = [];
  const tooNear: Interval[] = [];
  eachEdge(line, blockedOnLine, (edge, from, to) => {
    const strip = stripOf(line, edge, halfMetres);
    const here = near.filter((ground) => isBeside(strip, ground));
    const ends = blockedOnLine.flatMap((part) => [part.from, part.to]).map((at) => (at - from) / (to - from));
    const cuts = [...criticalFractions(strip, here, knots), ...ends.filter((at) => at > 0 && at < 1)];
    cuts.sort((a, b) => a - b);
    for (const [index, start] of cuts.entries()) {
      const end = cuts[index + 1] ?? start;
      if ((end - start) * (to - from) < 1e-7) continue;
      for (const deep of deepEnough(strip, here, { from: start, to: end })) {
        const part = { from: from + deep.from * (to - from), to: from + deep.to * (to - from) };
        if (deep.side === 'near') inner.push(part);
        else {
          outer.push(part);
          tooNear.push(...partsTooNear(line, walls, strip, here, part, [from, to], setbackMetres));
        }
      }
    }
  });
  const kept = complement(unite(tooNear), line.lengthMetres);
  return {
    inner: intersect(blockedOnLine, unite(inner)),
    outer: intersect(blockedOnLine, intersect(unite(outer), kept)),
  };
}

/** The place for a position on the line: as near to the middle of the band as the ground lets it. */
export function placeAt(
  line: ClosedPath,
  ground: Ground,
  alongMetres: number,
): { readonly at: Point; readonly shiftMetres: number } {
  const wanted = ((alongMetres % line.lengthMetres) + line.lengthMetres) % line.lengthMetres;
  const shiftMetres = shiftAt(line, ground, wanted);
  return { at: pointAt(line, wanted, shiftMetres), shiftMetres };
}

/** At the end of a free stretch the ground has no depth: then what is free just inside it counts. */
const NUDGES_METRES = [0, 1e-6, -1e-6, 1e-3, -1e-3, 0.01, -0.01] as const;

function shiftAt(line: ClosedPath, ground: Ground, wanted: number): number {
  // Two kinds of ground may meet here within rounding: the middle of the band first, then nearer to the wall.
  const kinds = [
    { side: undefined, parts: ground.onLine },
    { side: 'near', parts: ground.inner },
    { side: 'far', parts: ground.outer },
  ] as const;
  const nearest = kinds
    .flatMap(({ side, parts }) => parts.map((part) => ({ side, part, away: awayFrom(part, wanted) })))
    .reduce<{ side: Side | undefined; part: Interval; away: number } | undefined>(
      (best, one) => (best === undefined || one.away < best.away - 1e-5 ? one : best),
      undefined,
    );
  if (nearest?.side === undefined) return 0;
  const { side, part } = nearest;
  for (const nudge of NUDGES_METRES) {
    const at = Math.min(part.to, Math.max(part.from, wanted + nudge));
    const edge = edgeAt(line, at);
    const from = line.along[edge] ?? 0;
    const to = line.along[edge + 1] ?? from;
    if (to <= from) continue;
    const strip = stripOf(line, edge, ground.halfMetres);
    const shift = shiftOn(strip, ground.near, (at - from) / (to - from), side);
    if (shift !== undefined) return shift;
  }
  return 0;
}

function awayFrom({ from, to }: Interval, at: number): number {
  return Math.max(0, from - at, at - to);
}

function isNear(line: ClosedPath, { box }: Forbidden, { setbackMetres }: RingRules): boolean {
  const margin = setbackMetres.farthest;
  let west = Infinity;
  let east = -Infinity;
  let south = Infinity;
  let north = -Infinity;
  for (const { x, y } of line.points) {
    west = Math.min(west, x);
    east = Math.max(east, x);
    south = Math.min(south, y);
    north = Math.max(north, y);
  }
  return (
    box.west <= east + margin &&
    box.east >= west - margin &&
    box.south <= north + margin &&
    box.north >= south - margin
  );
}

/** Where the line runs through the forbidden ground. */
function blockedParts(line: ClosedPath, by: Forbidden): readonly Interval[] {
  const parts: Interval[] = [];
  eachEdge(line, [{ from: 0, to: line.lengthMetres }], (edge, from, to) => {
    const [a, b] = movedEdge(line, edge, 0);
    for (const part of partsIn(a, b, by)) {
      parts.push({ from: from + part.from * (to - from), to: from + part.to * (to - from) });
    }
  });
  return unite(parts);
}

/**
 * Where the only free ground lies farther out than the line and there some other wall is nearer than its own: a station
 * would guard another part of the line. Asked at steps of at most 1 cm.
 */
function partsTooNear(
  line: ClosedPath,
  walls: readonly ClosedPath[],
  strip: Strip,
  near: readonly Forbidden[],
  { from, to }: Interval,
  [edgeFrom, edgeTo]: readonly [number, number],
  setbackMetres: number,
): readonly Interval[] {
  const parts: Interval[] = [];
  const count = Math.max(1, Math.ceil((to - from) / SHIFT_STEP_METRES));
  for (let step = 0; step < count; step++) {
    // Along an edge of the ground that runs almost square to the line the station moves far within a step.
    const isClear = STEP_SHARES.every((share) => {
      const along = from + ((step + share) / count) * (to - from);
      const fraction = (along - edgeFrom) / (edgeTo - edgeFrom);
      // Clear at the far edge of the band is clear all the way: no wall comes nearer faster than one walks.
      const farEdge = pointOn(strip.far, fraction);
      const reach = setbackMetres + strip.halfMetres - WALL_TOLERANCE_METRES;
      if (!walls.some((wall) => isWithin(wall, farEdge, reach))) return true;
      const shift = shiftOn(strip, near, fraction, 'far');
      if (shift === undefined) return false;
      const at = pointAt(line, along, shift);
      return !walls.some((wall) => isWithin(wall, at, setbackMetres + shift - WALL_TOLERANCE_METRES));
    });
    if (isClear) continue;
    parts.push({
      from: Math.max(0, from + (step / count) * (to - from) - SHIFT_MARGIN_METRES),
      to: Math.min(line.lengthMetres, from + ((step + 1) / count) * (to - from) + SHIFT_MARGIN_METRES),
    });
  }
  return unite(parts);
}

function isWithin(wall: ClosedPath, p: Point, limit: number): boolean {
  let a = wall.points[wall.points.length - 1];
  for (const b of wall.points) {
    if (a !== undefined) {
      const dx = b.x - a.x;
      const dy = b.y - a.y;
      const squared = dx * dx + dy * dy;
      const fraction = Math.min(1, Math.max(0, ((p.x - a.x) * dx + (p.y - a.y) * dy) / squared));
      const ex = p.x - a.x - fraction * dx;
      const ey = p.y - a.y - fraction * dy;
      if (ex * ex + ey * ey < limit * limit) return true;
    }
    a = b;
  }
  return false;
}

function eachEdge(
  { points, along }: ClosedPath,
  only: readonly Interval[],
  visit: (edge: number, from: number, to: number) => void,
): void {
  points.forEach((_, edge) => {
    const from = along[edge] ?? 0;
    const to = along[edge + 1] ?? from;
    if (to <= from || !only.some((part) => part.to > from && part.from < to)) return;
    visit(edge, from, to);
  });
}
