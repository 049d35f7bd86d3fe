import type { Point } from './model.ts';

export function distance(a: Point, b: Point): number {
  return Math.hypot(b.x - a.x, b.y - a.y);
}

export function between(a: Point, b: Point, fraction: number): Point {
  return { x: a.x + (b.x - a.x) * fraction, y: a.y + (b.y - a.y) * fraction };
}

/** Twice the area would be positive where the ring runs counter-clockwise (x east, y north). Square metres. */
export function signedArea(ring: readonly Point[]): number {
  let doubled = 0;
  for (const [a, b] of edgesOf(ring)) doubled += a.x * b.y - b.x * a.y;
  return doubled / 2;
}

export function counterClockwise(ring: readonly Point[]): readonly Point[] {
  return signedArea(ring) < 0 ? ring.toReversed() : ring;
}

/** Consecutive pairs, the last one back to the first. */
export function edgesOf(ring: readonly Point[]): readonly (readonly [Point, Point])[] {
  return ring.flatMap((a, index) => {
    const b = ring[(index + 1) % ring.length];
    return b === undefined ? [] : [[a, b] as const];
  });
}

/** Consecutive pairs of an open path. */
export function stepsOf(path: readonly Point[]): readonly (readonly [Point, Point])[] {
  return path.flatMap((a, index) => {
    const b = path[index + 1];
    return b === undefined ? [] : [[a, b] as const];
  });
}

/** 0 to 1: how far along a-b lies the point nearest to p; 0 where a and b coincide. */
export function footFraction(p: Point, a: Point, b: Point): number {
  const dx = b.x - a.x;
  const dy = b.y - a.y;
  const squared = dx * dx + dy * dy;
  if (squared === 0) return 0;
  return Math.min(1, Math.max(0, ((p.x - a.x) * dx + (p.y - a.y) * dy) / squared));
}

export function distanceToSegment(p: Point, a: Point, b: Point): number {
  return distance(p, between(a, b, footFraction(p, a, b)));
}

/** Even-odd over all rings, so that holes are outside; a point on the edge may fall either way. */
export function isInside(p: Point, rings: readonly (readonly Point[])[]): boolean {
  let inside = false;
  for (const ring of rings) {
    let b = ring[ring.length - 1];
    for (const a of ring) {
      if (b !== undefined && a.y > p.y !== b.y > p.y) {
        if (p.x < ((b.x - a.x) * (p.y - a.y)) / (b.y - a.y) + a.x) inside = !inside;
      }
      b = a;
    }
  }
  return inside;
}

/** Where a-b and c-d meet, as fractions of each (0 to 1, ends included); undefined when they miss or run parallel. */
export function crossing(
  a: Point,
  b: Point,
  c: Point,
  d: Point,
): { readonly along: number; readonly across: number } | undefined {
  const rx = b.x - a.x;
  const ry = b.y - a.y;
  const sx = d.x - c.x;
  const sy = d.y - c.y;
  const cross = rx * sy - ry * sx;
  if (cross === 0) return undefined;
  const along = ((c.x - a.x) * sy - (c.y - a.y) * sx) / cross;
  const across = ((c.x - a.x) * ry - (c.y - a.y) * rx) / cross;
  return along < 0 || along > 1 || across < 0 || across > 1 ? undefined : { along, across };
}
