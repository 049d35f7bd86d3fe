import type { Point } from '../site/model.ts';
import { crossing } from '../site/plane.ts';
import { type Forbidden, partsIn } from './forbidden.ts';
import { complement, type Interval, unite } from './intervals.ts';
import { type ClosedPath, movedEdge } from './stationLine.ts';

/** Free ground less deep than this, square to the wall, takes no station, metres (common practice, no source). */
export const LEAST_DEPTH_METRES = 0.02;
/** A station keeps this far from the edge of forbidden ground where the ground lets it, metres. */
const EDGE_ROOM_METRES = 0.05;
/** Of the longest wall to far under a millimetre. */
const HALVINGS = 30;

/** The setback band along one edge of the station line, `half` to either side of it. */
export interface Strip {
  /** The nearer edge of the band, and the farther one; both run as the line does. */
  readonly near: readonly [Point, Point];
  readonly far: readonly [Point, Point];
  readonly halfMetres: number;
}

export function stripOf(line: ClosedPath, edge: number, halfMetres: number): Strip {
  return {
    near: movedEdge(line, edge, -halfMetres),
    far: movedEdge(line, edge, halfMetres),
    halfMetres,
  };
}

/**
 * Fractions of the edge, 0 and 1 included, between which nothing changes but lengths: a probe square to the line meets
 * the same edges of forbidden ground in the same order. `knots` are the corners of the ground and the points where two
 * edges of it cross.
 */
export function criticalFractions(
  strip: Strip,
  forbidden: readonly Forbidden[],
  knots: readonly Point[],
): readonly number[] {
  const { near, far } = strip;
  const box = boxOf([...near, ...far]);
  const found = [0, 1];
  for (const knot of knots) {
    if (knot.x < box.west || knot.x > box.east || knot.y < box.south || knot.y > box.north) continue;
    found.push(...fractionsThrough(strip, knot));
  }
  for (const [a, b] of [near, far]) {
    for (const { rings } of forbidden) {
      for (const ring of rings) {
        let c = ring[ring.length - 1];
        for (const d of ring) {
          const met = c === undefined ? undefined : crossing(a, b, c, d);
          if (met !== undefined) found.push(met.along);
          c = d;
        }
      }
    }
  }
  return found.filter((fraction) => fraction >= 0 && fraction <= 1).sort((a, b) => a - b);
}

/** False where the ground cannot meet the strip. */
export function isBeside({ near, far }: Strip, { box: own }: Forbidden): boolean {
  const box = boxOf([...near, ...far]);
  return own.west <= box.east && own.east >= box.west && own.south <= box.north && own.north >= box.south;
}

function boxOf(points: readonly Point[]) {
  const xs = points.map(({ x }) => x);
  const ys = points.map(({ y }) => y);
  return {
    west: Math.min(...xs) - 1e-9,
    east: Math.max(...xs) + 1e-9,
    south: Math.min(...ys) - 1e-9,
    north: Math.max(...ys) + 1e-9,
  };
}

/** Where the probe passes through a point: the cross product of the probe and the way to the point is a quadratic. */
export function fractionsThrough({ near: [a0, a1], far: [b0, b1] }: Strip, p: Point): readonly number[] {
  const ux = p.x - a0.x;
  const uy = p.y - a0.y;
  const vx = a1.x - a0.x;
  const vy = a1.y - a0.y;
  const dx = b0.x - a0.x;
  const dy = b0.y - a0.y;
  const ex = b1.x - a1.x - dx;
  const ey = b1.y - a1.y - dy;
  const c0 = ux * dy - uy * dx;
  const c1 = ux * ey - uy * ex - (vx * dy - vy * dx);
  const c2 = -(vx * ey - vy * ex);
  if (Math.abs(c2) < 1e-12) return c1 === 0 ? [] : [-c0 / c1];
  const under = c1 * c1 - 4 * c2 * c0;
  if (under < 0) return [];
  const root = Math.sqrt(under);
  return [(-c1 - root) / (2 * c2), (-c1 + root) / (2 * c2)];
}

/** On which side of the line the station would stand. On `near` no other wall can be nearer than its own. */
export type Side = 'near' | 'far';

/**
 * Where a station can stand on the probe at this fraction of the edge, on this side of the line: metres from the line, away
 * from the wall counted positive, as near to the line as can be; undefined where the ground is not free or not deep enough.
 */
export function shiftOn(
  strip: Strip,
  forbidden: readonly Forbidden[],
  fraction: number,
  side: Side,
): number | undefined {
  const least = leastDepth(strip) - 1e-6;
  let best: number | undefined;
  for (const free of freeOnProbe(strip, forbidden, fraction)) {
    if (sideOf(free) !== side || free.to - free.from < least) continue;
    const shift = standIn(free);
    if (best === undefined || Math.abs(shift) < Math.abs(best)) best = shift;
  }
  return best;
}

/**
 * Between two critical fractions, with the line itself blocked: the parts in which free ground on a side is deep enough. Its depth
 * grows or shrinks all the way there.
 */
export function deepEnough(
  strip: Strip,
  forbidden: readonly Forbidden[],
  { from, to }: Interval,
): readonly (Interval & { readonly side: Side })[] {
  const inset = (to - from) * 0.001;
  const first = freeOnProbe(strip, forbidden, from + inset);
  const last = freeOnProbe(strip, forbidden, to - inset);
  if (first.length !== last.length) return [];
  const least = leastDepth(strip);
  return first.flatMap((one, index) => {
    const other = last[index] ?? one;
    const start = one.to - one.from;
    const end = other.to - other.from;
    const side = sideOf(one);
    if (start >= least && end >= least) return [{ from, to, side }];
    if (start < least && end < least) return [];
    const met = fractionOfDepth(strip, forbidden, index, { from: from + inset, to: to - inset }, least);
    return [start < least ? { from: met, to, side } : { from, to: met, side }];
  });
}

/** Where the free ground of this number reaches a depth that it has at one end only: by halving, for round corners bend it. */
function fractionOfDepth(
  strip: Strip,
  forbidden: readonly Forbidden[],
  index: number,
  { from, to }: Interval,
  depthMetres: number,
): number {
  const isDeep = (fraction: number): boolean => {
    const free = freeOnProbe(strip, forbidden, fraction)[index];
    return free !== undefined && free.to - free.from >= depthMetres;
  };
  let [low, high] = [from, to];
  const isDeepLow = isDeep(low);
  for (let halving = 0; halving < HALVINGS; halving++) {
    const middle = (low + high) / 2;
    if (isDeep(middle) === isDeepLow) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

function leastDepth({ halfMetres }: Strip): number {
  return Math.min(LEAST_DEPTH_METRES, halfMetres);
}

function sideOf({ from, to }: Interval): Side {
  return from + to <= 0 ? 'near' : 'far';
}

/** Free stretches of the probe, metres from the line. */
function freeOnProbe(strip: Strip, forbidden: readonly Forbidden[], fraction: number): readonly Interval[] {
  const half = strip.halfMetres;
  const from = pointOn(strip.near, fraction);
  const to = pointOn(strip.far, fraction);
  const blocked = unite(forbidden.flatMap((ground) => partsIn(from, to, ground)));
  return complement(blocked, 1).flatMap((free) =>
    free.to - free.from < 1e-9 ? [] : [{ from: (2 * free.from - 1) * half, to: (2 * free.to - 1) * half }],
  );
}

/** As near to the line as free ground lets it, a little off the edge. */
function standIn({ from, to }: Interval): number {
  const room = Math.min(EDGE_ROOM_METRES, (to - from) / 2);
  return Math.min(to - room, Math.max(from + room, 0));
}

export function pointOn([a, b]: readonly [Point, Point], fraction: number): Point {
  return { x: a.x + (b.x - a.x) * fraction, y: a.y + (b.y - a.y) * fraction };
}

/** Corners of all forbidden ground, and where edges of two pieces of it cross. */
export function knotsOf(forbidden: readonly Forbidden[]): readonly Point[] {
  const knots: Point[] = forbidden.flatMap(({ rings }) => rings.flat());
  forbidden.forEach((one, index) => {
    for (const other of forbidden.slice(index + 1)) {
      if (
        one.box.west > other.box.east ||
        one.box.east < other.box.west ||
        one.box.south > other.box.north ||
        one.box.north < other.box.south
      )
        continue;
      for (const [a, b] of edgesOfAll(one))
        for (const [c, d] of edgesOfAll(other)) {
          const met = crossing(a, b, c, d);
          if (met !== undefined)
            knots.push({ x: a.x + (b.x - a.x) * met.along, y: a.y + (b.y - a.y) * met.along });
        }
    }
  });
  return knots;
}

function edgesOfAll({ rings }: Forbidden): readonly (readonly [Point, Point])[] {
  return rings.flatMap((ring) =>
    ring.flatMap((a, index) => {
      const b = ring[(index + 1) % ring.length];
      return b === undefined ? [] : [[a, b] as const];
    }),
  );
}
