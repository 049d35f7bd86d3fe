import type { Point } from '../site/model.ts';
import { type Interval, unite, wrap } from './intervals.ts';
import { type ClosedPath, nearestOn } from './stationLine.ts';

/** Pieces of line shorter than this are not looked at more closely, metres. */
const FINEST_METRES = 0.001;
/** Walls and lines are held to 0.1 mm, so that shorter pieces of wall are rounding, metres. */
const SLIVER_METRES = 0.001;

/**
 * A stretch of wall and the stretch of a line that runs before it, square to the wall; or an outer corner (no length
 * of wall) and a piece of the arc round it.
 */
interface Facing {
  readonly wallFrom: number;
  readonly wallTo: number;
  readonly line: number;
  readonly lineFrom: number;
  readonly lineTo: number;
}

export interface LinePlace {
  readonly line: number;
  readonly alongMetres: number;
}

/**
 * A stretch of wall that no point of any line faces (an inner corner, a gap narrower than twice the setback), with
 * the positions on the lines at which it begins and ends. Undefined where no line comes near the whole closed wall.
 */
interface Hidden {
  readonly wallFrom: number;
  readonly wallTo: number;
  readonly begins: LinePlace | undefined;
  readonly ends: LinePlace | undefined;
}

export interface WallMap {
  readonly facing: readonly Facing[];
  readonly hidden: readonly Hidden[];
}

/** For every closed wall, which position on which line guards which part of it. */
export function mapWalls(walls: readonly ClosedPath[], lines: readonly ClosedPath[]): readonly WallMap[] {
  const facing: Facing[][] = walls.map(() => []);
  lines.forEach((line, lineIndex) => {
    const { points, along } = line;
    points.forEach((a, index) => {
      const b = points[(index + 1) % points.length] ?? a;
      mapPiece(walls, lineIndex, a, b, along[index] ?? 0, along[index + 1] ?? 0, facing);
    });
  });
  return walls.map((wall, index) => {
    const found = joinUp(
      (facing[index] ?? []).toSorted(
        (one, other) =>
          one.wallFrom - other.wallFrom || one.wallTo - other.wallTo || one.lineFrom - other.lineFrom,
      ),
    );
    return { facing: found, hidden: listHidden(wall, found) };
  });
}

function feetOf(walls: readonly ClosedPath[], p: Point) {
  let wall = 0;
  let best = Infinity;
  let alongMetres = 0;
  walls.forEach((candidate, index) => {
    const found = nearestOn(candidate, p);
    if (found.distanceMetres < best) {
      best = found.distanceMetres;
      wall = index;
      alongMetres = found.alongMetres;
    }
  });
  return { wall, alongMetres };
}

/**
 * Walks a straight piece of line. Its feet either run along the wall as fast as the piece does (straight wall),
 * or stand still (a corner of the wall), or the piece is halved. Feet are asked a little inside the ends, where two
 * walls are not equally near.
 */
function mapPiece(
  walls: readonly ClosedPath[],
  line: number,
  a: Point,
  b: Point,
  lineFrom: number,
  lineTo: number,
  facing: Facing[][],
): void {
  const length = lineTo - lineFrom;
  if (length < FINEST_METRES) return;
  const inset = Math.min(0.1, 0.0005 / length);
  const at = (fraction: number) => ({ x: a.x + (b.x - a.x) * fraction, y: a.y + (b.y - a.y) * fraction });
  const start = feetOf(walls, at(inset));
  const end = feetOf(walls, at(1 - inset));
  const wall = walls[start.wall];
  if (wall === undefined) return;
  if (start.wall === end.wall) {
    const turn = wall.lengthMetres;
    const run = (((end.alongMetres - start.alongMetres) % turn) + turn) % turn;
    const expected = length * (1 - 2 * inset);
    const list = facing[start.wall];
    if (Math.min(run, turn - run) < 1e-4 && expected < turn / 2) {
      const corner = snap(wall, start.alongMetres) % turn;
      list?.push({ wallFrom: corner, wallTo: corner, line, lineFrom, lineTo });
      return;
    }
    if (Math.abs(run - expected) < 1e-3) {
      const wallFrom = snap(wall, (start.alongMetres - length * inset + turn) % turn) % turn;
      const first = Math.min(length, turn - wallFrom);
      const wallTo = snap(wall, wallFrom + first);
      list?.push({ wallFrom, wallTo, line, lineFrom, lineTo: lineFrom + first });
      if (first < length - SLIVER_METRES) {
        list?.push({ wallFrom: 0, wallTo: length - first, line, lineFrom: lineFrom + first, lineTo });
      }
      return;
    }
  }
  const middle = at(0.5);
  const lineMiddle = (lineFrom + lineTo) / 2;
  mapPiece(walls, line, a, middle, lineFrom, lineMiddle, facing);
  mapPiece(walls, line, middle, b, lineMiddle, lineTo, facing);
}

/** A position on the wall, or the corner of it that lies within rounding. */
function snap({ along }: ClosedPath, alongMetres: number): number {
  let low = 0;
  let high = along.length - 1;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((along[middle] ?? 0) < alongMetres - SLIVER_METRES) low = middle + 1;
    else high = middle;
  }
  const corner = along[low] ?? alongMetres;
  return Math.abs(corner - alongMetres) <= SLIVER_METRES ? corner : alongMetres;
}

/** Pieces that follow one another on the wall and on the line become one. */
function joinUp(sorted: readonly Facing[]): readonly Facing[] {
  const joined: Facing[] = [];
  for (const next of sorted) {
    const last = joined[joined.length - 1];
    if (
      last !== undefined &&
      last.wallTo > last.wallFrom &&
      next.wallTo > next.wallFrom &&
      last.line === next.line &&
      Math.abs(next.wallFrom - last.wallTo) < FINEST_METRES &&
      Math.abs(next.lineFrom - last.lineTo) < FINEST_METRES
    ) {
      joined[joined.length - 1] = { ...last, wallTo: next.wallTo, lineTo: next.lineTo };
    } else joined.push(next);
  }
  return joined;
}

function listHidden(wall: ClosedPath, facing: readonly Facing[]): readonly Hidden[] {
  const turn = wall.lengthMetres;
  if (facing.length === 0) return [{ wallFrom: 0, wallTo: turn, begins: undefined, ends: undefined }];
  return facing.flatMap((piece, index) => {
    const next = facing[index + 1];
    const following = next ?? facing[0];
    if (following === undefined) return [];
    const wallTo = next === undefined ? following.wallFrom + turn : following.wallFrom;
    if (wallTo - piece.wallTo < SLIVER_METRES) return [];
    return [
      {
        wallFrom: piece.wallTo,
        wallTo,
        begins: { line: piece.line, alongMetres: piece.lineTo },
        ends: { line: following.line, alongMetres: following.lineFrom },
      },
    ];
  });
}

/** What of a closed wall is unguarded; `tooNarrow` is the part of it that no line comes near enough to. */
export function listUnguardedWall(
  wall: ClosedPath,
  map: WallMap,
  lines: readonly ClosedPath[],
  unguardedByLine: readonly (readonly Interval[])[],
  reachMetres: number,
): { readonly unguarded: readonly Interval[]; readonly tooNarrow: readonly Interval[] } {
  const turn = wall.lengthMetres;
  const open: Interval[] = [];
  const deep: Interval[] = [];
  const add = (list: Interval[], from: number, to: number) => {
    if (to > from) list.push(...wrap(from, to, turn));
  };
  for (const piece of map.facing) {
    for (const { from, to } of unguardedByLine[piece.line] ?? []) {
      const start = Math.max(from, piece.lineFrom) - piece.lineFrom + piece.wallFrom;
      const end = Math.min(to, piece.lineTo) - piece.lineFrom + piece.wallFrom;
      add(open, start, end);
    }
  }
  const isOpen = ({ line, alongMetres }: LinePlace) => {
    const unguarded = unguardedByLine[line] ?? [];
    const length = lines[line]?.lengthMetres ?? 0;
    const isSeam = alongMetres < 1e-4 || alongMetres > length - 1e-4;
    const opens = unguarded.some(({ from }) => from === 0) && unguarded.some(({ to }) => to === length);
    return isSeam ? opens : unguarded.some(({ from, to }) => alongMetres > from && alongMetres < to);
  };
  for (const { wallFrom, wallTo, begins, ends } of map.hidden) {
    if (begins === undefined || ends === undefined) {
      add(deep, wallFrom, wallTo);
      continue;
    }
    const middle = (wallFrom + wallTo) / 2;
    if (isOpen(begins)) add(open, wallFrom, Math.min(middle, wallFrom + reachMetres));
    if (isOpen(ends)) add(open, Math.max(middle, wallTo - reachMetres), wallTo);
    add(deep, wallFrom + reachMetres, wallTo - reachMetres);
  }
  return { unguarded: unite([...open, ...deep], 1e-6), tooNarrow: unite(deep, 1e-6) };
}
