import type { Point, SiteDrawing } from '@sillwatch/ring';

/** Where a place in local metres lies on the drawing. */
export function metresToSheet({ metresToSheet: { a, b, c, d, e, f } }: SiteDrawing, { x, y }: Point): Point {
  return { x: a * x + c * y + e, y: b * x + d * y + f };
}

/** Local metres of a point on the drawing: the way back through its matrix. */
export function sheetToMetres({ metresToSheet }: SiteDrawing, x: number, y: number): Point {
  const { a, b, c, d, e, f } = metresToSheet;
  const determinant = a * d - b * c;
  return {
    x: (d * (x - e) - c * (y - f)) / determinant,
    y: (a * (y - f) - b * (x - e)) / determinant,
  };
}

/** Marks nearer than this cannot be pressed apart, CSS pixels. */
const CLOSEST = 30;

/**
 * How many times larger than its sheet the drawing must be so that neighbouring marks can be pressed apart, 1 to 3.
 * Stations measured at one place cannot be drawn apart and do not count.
 */
export function zoomOf({ stations, unitsPerMetre }: SiteDrawing): number {
  const nearest = stations
    .map(({ x, y }) =>
      Math.min(
        ...stations
          .map((other) => Math.hypot(other.x - x, other.y - y))
          .filter((gap) => gap > 0.2 * unitsPerMetre),
      ),
    )
    .filter((gap) => Number.isFinite(gap))
    .sort((a, b) => a - b);
  const tight = nearest[Math.floor(nearest.length / 10)] ?? CLOSEST;
  const zoom = Math.min(3, CLOSEST / tight);
  return zoom < 1.15 ? 1 : zoom;
}
