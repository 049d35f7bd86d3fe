import type { Point } from '../site/model.ts';

export type { Point };

export interface Segment {
  readonly a: Point;
  readonly b: Point;
}

/** Twice the signed area of a, b, c: positive when c lies left of the way from a to b. */
export function crossOf(a: Point, b: Point, c: Point): number {
  return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

/** True when the segments share a point; ends count. */
export function segmentsMeet(p: Segment, q: Segment): boolean {
  const d1 = crossOf(q.a, q.b, p.a);
  const d2 = crossOf(q.a, q.b, p.b);
  const d3 = crossOf(p.a, p.b, q.a);
  const d4 = crossOf(p.a, p.b, q.b);
  if (d1 * d2 < 0 && d3 * d4 < 0) return true;
  return (
    (d1 === 0 && isBeside(q, p.a)) ||
    (d2 === 0 && isBeside(q, p.b)) ||
    (d3 === 0 && isBeside(p, q.a)) ||
    (d4 === 0 && isBeside(p, q.b))
  );
}

/** For a point on the line of the segment: within its box. */
function isBeside({ a, b }: Segment, point: Point): boolean {
  return (
    point.x >= Math.min(a.x, b.x) &&
    point.x <= Math.max(a.x, b.x) &&
    point.y >= Math.min(a.y, b.y) &&
    point.y <= Math.max(a.y, b.y)
  );
}

export function distanceOf(a: Point, b: Point): number {
  return Math.hypot(a.x - b.x, a.y - b.y);
}

export function nearestOn({ a, b }: Segment, point: Point): Point {
  const dx = b.x - a.x;
  const dy = b.y - a.y;
  const square = dx * dx + dy * dy;
  if (square === 0) return a;
  const along = Math.max(0, Math.min(1, ((point.x - a.x) * dx + (point.y - a.y) * dy) / square));
  return { x: a.x + along * dx, y: a.y + along * dy };
}

/** Positive for a ring that runs counter-clockwise; the last point need not repeat the first. */
export function signedArea(ring: readonly Point[]): number {
  let twice = 0;
  for (const [index, point] of ring.entries()) {
    const next = ring[(index + 1) % ring.length];
    if (next !== undefined) twice += point.x * next.y - next.x * point.y;
  }
  return twice / 2;
}
