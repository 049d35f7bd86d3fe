import { crossOf, distanceOf, nearestOn, type Point, type Segment, signedArea } from './plane.ts';

/** What stands in the way. A closed one (building, pool) has an outer ring and rings of its courtyards; an open one is a fence. */
export type Barrier =
  | {
      readonly kind: 'closed';
      readonly outer: readonly Point[];
      readonly courtyards: readonly (readonly Point[])[];
    }
  | { readonly kind: 'open'; readonly line: readonly Point[] };

/** A way through a fence: its middle, and how wide it is. */
export interface Opening {
  readonly at: Point;
  readonly widthMetres: number;
}

export interface WalkGround {
  readonly barriers: readonly Barrier[];
  readonly gates: readonly Opening[];
}

export interface Ground {
  /** Nothing walks through these. */
  readonly walls: readonly Segment[];
  /** Where a shortest path may bend: just off every corner and fence end. */
  readonly bends: readonly Point[];
}

/** How far a bend stands off its corner: so that a path never touches a wall, and is longer by no more than a fingertip. */
export const STAND_OFF_METRES = 0.01;
/** Nobody walks through a narrower gap: a fence drawn almost up to a house ends at the house. Common practice, no source. */
export const NARROWEST_GAP_METRES = 0.3;
/** A gate drawn this near to a fence belongs to it. */
const GATE_REACH_METRES = 1;

/** Walls and bends of the ground: fences cut open at their gates, gaps too narrow for a person closed. */
export function buildGround({ barriers, gates }: WalkGround): Ground {
  const walls: (Segment & { readonly owner: number })[] = [];
  const bends: Point[] = [];
  const loose: { readonly point: Point; readonly owner: number }[] = [];
  for (const [owner, barrier] of barriers.entries()) {
    if (barrier.kind === 'closed') {
      // Outer rings counter-clockwise, courtyards clockwise: the open ground is always to the right.
      for (const ring of [turned(barrier.outer, 1), ...barrier.courtyards.map((yard) => turned(yard, -1))]) {
        for (const [index, a] of ring.entries()) {
          const b = ring[(index + 1) % ring.length];
          if (b !== undefined) walls.push({ a, b, owner });
          loose.push({ point: a, owner });
        }
        bends.push(...cornersOf(ring));
      }
      continue;
    }
    for (const piece of cutAtGates(withoutRepeats(barrier.line), gates)) {
      for (const [index, a] of piece.points.entries()) {
        const b = piece.points[index + 1];
        if (b !== undefined) walls.push({ a, b, owner });
      }
      bends.push(...endsAndBendsOf(piece.points));
      if (piece.isFirst && piece.points[0] !== undefined) loose.push({ point: piece.points[0], owner });
      const last = piece.points.at(-1);
      if (piece.isLast && last !== undefined) loose.push({ point: last, owner });
    }
  }
  const links: Segment[] = [];
  for (const { point, owner } of loose) {
    for (const wall of walls) {
      if (wall.owner === owner) continue;
      const foot = nearestOn(wall, point);
      const gap = distanceOf(foot, point);
      if (gap > 0 && gap < NARROWEST_GAP_METRES) links.push({ a: point, b: foot });
    }
  }
  return { walls: [...walls, ...links], bends };
}

function withoutRepeats(points: readonly Point[]): Point[] {
  return points.filter((point, index) => {
    const before = points[index - 1];
    return before === undefined || distanceOf(before, point) > 0;
  });
}

function turned(ring: readonly Point[], sign: 1 | -1): readonly Point[] {
  const tidy = withoutRepeats(ring);
  const first = tidy[0];
  const last = tidy.at(-1);
  if (first !== undefined && last !== undefined && tidy.length > 1 && distanceOf(first, last) === 0)
    tidy.pop();
  return Math.sign(signedArea(tidy)) === sign ? tidy : tidy.reverse();
}

/** Bends off the corners that stick out into the open ground (left turns, with the ground to the right). */
function cornersOf(ring: readonly Point[]): Point[] {
  const bends: Point[] = [];
  for (const [index, corner] of ring.entries()) {
    const before = ring[(index + ring.length - 1) % ring.length];
    const after = ring[(index + 1) % ring.length];
    if (before === undefined || after === undefined || crossOf(before, corner, after) <= 0) continue;
    bends.push(standOff(before, corner, after));
  }
  return bends;
}

function endsAndBendsOf(points: readonly Point[]): Point[] {
  return points.map((point, index) => {
    const before = points[index - 1] ?? points[index + 1] ?? point;
    const after = points[index + 1] ?? points[index - 1] ?? point;
    return standOff(before, point, after);
  });
}

/** A point off the corner, away from both of its arms; past the end of a fence when the arms are one. */
function standOff(before: Point, corner: Point, after: Point): Point {
  const one = unit(before, corner);
  const two = unit(after, corner);
  const x = one.x + two.x;
  const y = one.y + two.y;
  const size = Math.hypot(x, y);
  // Arms that run straight on have no outside to bend round; any side will do.
  if (size < 1e-9) return { x: corner.x - one.y * STAND_OFF_METRES, y: corner.y + one.x * STAND_OFF_METRES };
  return { x: corner.x + (x / size) * STAND_OFF_METRES, y: corner.y + (y / size) * STAND_OFF_METRES };
}

function unit(from: Point, to: Point): Point {
  const size = distanceOf(from, to);
  return size === 0 ? { x: 0, y: 0 } : { x: (to.x - from.x) / size, y: (to.y - from.y) / size };
}

interface Piece {
  readonly points: readonly Point[];
  readonly isFirst: boolean;
  readonly isLast: boolean;
}

/** The fence without the widths of its gates, measured along the fence. */
function cutAtGates(line: readonly Point[], gates: readonly Opening[]): Piece[] {
  const starts: number[] = [0];
  for (const [index, point] of line.entries()) {
    const before = line[index - 1];
    if (before !== undefined) starts.push((starts.at(-1) ?? 0) + distanceOf(before, point));
  }
  const total = starts.at(-1) ?? 0;
  const openings = gates
    .flatMap((gate) => {
      const along = findAlong(line, starts, gate.at);
      return along === undefined
        ? []
        : [{ from: along - gate.widthMetres / 2, to: along + gate.widthMetres / 2 }];
    })
    .sort((a, b) => a.from - b.from);
  const pieces: Piece[] = [];
  let from = 0;
  for (const opening of openings) {
    if (opening.from > from) pieces.push(pieceOf(line, starts, from, opening.from));
    from = Math.max(from, opening.to);
  }
  if (from < total) pieces.push(pieceOf(line, starts, from, total));
  return pieces;
}

function findAlong(line: readonly Point[], starts: readonly number[], at: Point): number | undefined {
  let best: number | undefined;
  let least = GATE_REACH_METRES;
  for (const [index, a] of line.entries()) {
    const b = line[index + 1];
    if (b === undefined) continue;
    const foot = nearestOn({ a, b }, at);
    const gap = distanceOf(foot, at);
    if (gap <= least) {
      least = gap;
      best = (starts[index] ?? 0) + distanceOf(a, foot);
    }
  }
  return best;
}

function pieceOf(line: readonly Point[], starts: readonly number[], from: number, to: number): Piece {
  const inner = line.filter((_, index) => (starts[index] ?? 0) > from && (starts[index] ?? 0) < to);
  const total = starts.at(-1) ?? 0;
  return {
    points: [pointAlong(line, starts, from), ...inner, pointAlong(line, starts, to)],
    isFirst: from === 0,
    isLast: to === total,
  };
}

function pointAlong(line: readonly Point[], starts: readonly number[], along: number): Point {
  for (const [index, a] of line.entries()) {
    const b = line[index + 1];
    const start = starts[index] ?? 0;
    const end = starts[index + 1] ?? 0;
    if (b === undefined || along > end) continue;
    const share = end === start ? 0 : (along - start) / (end - start);
    return { x: a.x + share * (b.x - a.x), y: a.y + share * (b.y - a.y) };
  }
  return line.at(-1) ?? { x: 0, y: 0 };
}
