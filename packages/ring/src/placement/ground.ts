import type { Point } from '../site/model.ts';
import { type Forbidden, partsIn } from './forbidden.ts';
import { complement, type Interval, intersect, unite } from './intervals.ts';
import type { RingRules } from './model.ts';
import { type ClosedPath, movedEdge, pointAt } from './stationLine.ts';

/** Ground narrower than this along the line takes no station, metres (common practice, no source: a hand's breadth). */
export const NARROWEST_PLACE_METRES = 0.1;
/** The line is drawn with chords, so that it strays from its setback by up to this much, metres. */
const WALL_TOLERANCE_METRES = 0.005;
const SHIFT_STEP_METRES = 0.01;
/** Kept clear of places equally far from two walls, where it is a toss-up which part of the line a station guards. */
const SHIFT_MARGIN_METRES = 0.05;
/** Positions in the setback band besides the middle, as shares of half its width, in the order they are tried. */
const BAND_SHARES = [-0.5, 0.5, -1, 1] as const;

/** The line runs in the middle of the setback band. */
export function lineSetback(rules: RingRules): number {
  return (rules.setbackMetres.nearest + rules.setbackMetres.farthest) / 2;
}

/** Where along one station line a station can stand. */
export interface Ground {
  /** Sorted, disjoint, on the line cut open at its first point. */
  readonly free: readonly Interval[];
  /** Free at this many metres farther from the wall than the line, in the order of preference. */
  readonly shifts: readonly { readonly shiftMetres: number; readonly free: readonly Interval[] }[];
  /** What blocks the line itself. */
  readonly blocked: readonly { readonly by: Forbidden; readonly parts: readonly Interval[] }[];
}

/**
 * Takes the forbidden ground from a station line. A stretch blocked in the middle of the setback band is tried
 * nearer to the wall and farther from it, at five positions in all, square to the line.
 */
export function groundOf(
  line: ClosedPath,
  walls: readonly ClosedPath[],
  forbidden: readonly Forbidden[],
  rules: RingRules,
): Ground {
  const near = forbidden.filter((ground) => isNear(line, ground, rules));
  const whole = [{ from: 0, to: line.lengthMetres }];
  const blocked = near.flatMap((by) => {
    const parts = blockedParts(line, 0, whole, by);
    return parts.length === 0 ? [] : [{ by, parts }];
  });
  const blockedOnLine = unite(blocked.flatMap(({ parts }) => parts));
  const shifts = [{ shiftMetres: 0, free: complement(blockedOnLine, line.lengthMetres) }];
  if (blockedOnLine.length > 0) {
    const { nearest, farthest } = rules.setbackMetres;
    const half = (farthest - nearest) / 2;
    for (const share of half > 0 ? BAND_SHARES : []) {
      const shiftMetres = share * half;
      const parts = near.flatMap((by) => blockedParts(line, shiftMetres, blockedOnLine, by));
      const tooNear =
        shiftMetres > 0
          ? partsTooNear(line, shiftMetres, blockedOnLine, walls, lineSetback(rules) + shiftMetres)
          : [];
      const freeThere = complement(unite([...parts, ...tooNear]), line.lengthMetres);
      shifts.push({ shiftMetres, free: intersect(blockedOnLine, freeThere) });
    }
  }
  const free = dropNarrow(
    unite(
      shifts.flatMap((shift) => shift.free),
      1e-6,
    ),
    line.lengthMetres,
  );
  return { free, shifts, blocked };
}

/** The place for a position on the line: as near to the middle of the band as the ground lets it. */
export function placeAt(
  line: ClosedPath,
  ground: Ground,
  alongMetres: number,
): { readonly at: Point; readonly shiftMetres: number } {
  const wanted = ((alongMetres % line.lengthMetres) + line.lengthMetres) % line.lengthMetres;
  const holds = (free: readonly Interval[]) =>
    free.some(({ from, to }) => wanted >= from - 1e-6 && wanted <= to + 1e-6);
  const shiftMetres = ground.shifts.find(({ free }) => holds(free))?.shiftMetres ?? 0;
  return { at: pointAt(line, wanted, shiftMetres), shiftMetres };
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

/** Where the line, moved square to itself by `shiftMetres`, runs through the forbidden ground; within `only`. */
function blockedParts(
  line: ClosedPath,
  shiftMetres: number,
  only: readonly Interval[],
  by: Forbidden,
): readonly Interval[] {
  const parts: Interval[] = [];
  eachPiece(line, shiftMetres, only, (a, b, from, to) => {
    for (const part of partsIn(a, b, by)) {
      parts.push({ from: from + part.from * (to - from), to: from + part.to * (to - from) });
    }
  });
  return unite(parts);
}

/**
 * Where the line, moved outwards, comes nearer to some other wall than to its own: a station there would guard another
 * part of the line. Asked at steps of at most 1 cm. Moved towards the wall it never does.
 */
function partsTooNear(
  line: ClosedPath,
  shiftMetres: number,
  only: readonly Interval[],
  walls: readonly ClosedPath[],
  setbackMetres: number,
): readonly Interval[] {
  const parts: Interval[] = [];
  const limit = setbackMetres - WALL_TOLERANCE_METRES;
  eachPiece(line, shiftMetres, only, (a, b, from, to) => {
    const count = Math.max(1, Math.ceil((to - from) / SHIFT_STEP_METRES));
    for (let step = 0; step < count; step++) {
      const middle = (step + 0.5) / count;
      const at = { x: a.x + (b.x - a.x) * middle, y: a.y + (b.y - a.y) * middle };
      if (walls.some((wall) => isWithin(wall, at, limit))) {
        parts.push({
          from: Math.max(0, from + (step / count) * (to - from) - SHIFT_MARGIN_METRES),
          to: Math.min(line.lengthMetres, from + ((step + 1) / count) * (to - from) + SHIFT_MARGIN_METRES),
        });
      }
    }
  });
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

function eachPiece(
  line: ClosedPath,
  shiftMetres: number,
  only: readonly Interval[],
  visit: (a: Point, b: Point, from: number, to: number) => void,
): void {
  const { points, along } = line;
  points.forEach((_, index) => {
    const from = along[index] ?? 0;
    const to = along[index + 1] ?? from;
    if (to <= from || !only.some((part) => part.to > from && part.from < to)) return;
    const [start, end] = movedEdge(line, index, shiftMetres);
    visit(start, end, from, to);
  });
}

/** A stretch that runs through the first point of the line counts as one. */
function dropNarrow(free: readonly Interval[], length: number): readonly Interval[] {
  const first = free[0];
  const last = free[free.length - 1];
  const isJoined =
    first !== undefined &&
    last !== undefined &&
    first !== last &&
    first.from <= 0 &&
    last.to >= length - 1e-9;
  const joined = isJoined ? first.to - first.from + last.to - last.from : 0;
  return free.filter((arc) => {
    const width = isJoined && (arc === first || arc === last) ? joined : arc.to - arc.from;
    return width >= NARROWEST_PLACE_METRES;
  });
}
