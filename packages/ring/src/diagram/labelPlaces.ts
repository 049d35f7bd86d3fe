import type { Point } from '../site/model.ts';
import { edgesOf, isInside } from '../site/plane.ts';
import type { Box } from './frame.ts';
import { overlaps } from './labels.ts';

/** What labels beside a station had better keep off, in the unit of the sheet. */
export interface Surroundings {
  readonly walls: readonly (readonly [Point, Point])[];
  readonly isIndoors: (point: Point) => boolean;
  /** Stations: a number nearer to another's mark than to its own would be taken for the other's. */
  readonly marks: readonly Point[];
}

export interface Size {
  readonly width: number;
  readonly height: number;
}

const DIRECTIONS = 16;
/** Rings of leader lines that are tried: as far as it takes for a station's number. */
export const FAR_RINGS = { required: 28, helpful: 3 } as const;

/** Places round the point, by direction: those that cross no wall first, out of doors before indoors; then wider and wider. */
export function roundPoint(
  at: Point,
  radius: number,
  size: Size,
  around: Surroundings,
  farRings: number,
): { readonly near: readonly Point[]; readonly far: readonly Point[] } {
  const ringAt = (distance: number): { readonly point: Point; readonly cost: number }[] =>
    Array.from({ length: DIRECTIONS }, (_, index) => {
      const angle = (index * 2 * Math.PI) / DIRECTIONS;
      const x = Math.cos(angle);
      const y = Math.sin(angle);
      // As near as the label's box clears the square of the mark, whichever side it passes.
      const reach = Math.min(
        (distance + size.width / 2) / Math.abs(x),
        (distance + size.height / 2) / Math.abs(y),
      );
      const point = { x: at.x + x * reach, y: at.y + y * reach };
      const box = boxAt(point, size);
      const crossed = around.walls.some(([a, b]) => crosses(a, b, box)) ? 4 : 0;
      const own = Math.hypot(point.x - at.x, point.y - at.y);
      const doubtful = around.marks.some(
        (mark) =>
          (mark.x !== at.x || mark.y !== at.y) && Math.hypot(point.x - mark.x, point.y - mark.y) < own * 1.15,
      )
        ? 2
        : 0;
      const indoors = around.isIndoors(point) ? 1 : 0;
      // Straight up, down and sideways read best.
      return {
        point,
        cost: crossed + indoors + doubtful + (index % 4 === 0 ? 0 : index % 2 === 0 ? 0.3 : 0.5),
      };
    }).sort((a, b) => a.cost - b.cost);
  const near = [...ringAt(radius), ...ringAt(radius * 1.3)].sort((a, b) => a.cost - b.cost);
  const far = Array.from({ length: farRings }, (_, ring) =>
    ringAt(radius + size.height * (1 + ring)).map(({ point, cost }) => ({ point, cost: cost + ring * 0.6 })),
  )
    .flat()
    .sort((a, b) => a.cost - b.cost);
  return { near: near.map(({ point }) => point), far: far.map(({ point }) => point) };
}

/** Middles of labels that lie wholly inside the ring, nearest to its middle first. */
export function placesInside(ring: readonly Point[], size: Size): Point[] {
  const xs = ring.map((point) => point.x);
  const ys = ring.map((point) => point.y);
  const left = Math.min(...xs);
  const top = Math.min(...ys);
  const middle = middleOf(ring);
  const steps = 12;
  const places: Point[] = [middle];
  for (let row = 1; row < steps; row += 1)
    for (let column = 1; column < steps; column += 1)
      places.push({
        x: left + ((Math.max(...xs) - left) * column) / steps,
        y: top + ((Math.max(...ys) - top) * row) / steps,
      });
  const far = (point: Point): number => Math.hypot(point.x - middle.x, point.y - middle.y);
  return places
    .filter((place) => {
      const box = boxAt(place, size);
      const corners = [
        { x: box.left, y: box.top },
        { x: box.right, y: box.top },
        { x: box.left, y: box.bottom },
        { x: box.right, y: box.bottom },
      ];
      return (
        corners.every((corner) => isInside(corner, [ring])) &&
        !edgesOf(ring).some(([a, b]) => crosses(a, b, box))
      );
    })
    .sort((a, b) => far(a) - far(b));
}

function boxAt({ x, y }: Point, { width, height }: Size): Box {
  return { left: x - width / 2, right: x + width / 2, top: y - height / 2, bottom: y + height / 2 };
}

export function middleOf(ring: readonly Point[]): Point {
  const sum = ring.reduce((total, { x, y }) => ({ x: total.x + x, y: total.y + y }), { x: 0, y: 0 });
  return { x: sum.x / ring.length, y: sum.y / ring.length };
}

/** True when the segment touches the box: their own boxes meet, and the corners of the box do not all lie on one side of the line. */
function crosses(a: Point, b: Point, box: Box): boolean {
  const own = {
    left: Math.min(a.x, b.x) - 1e-9,
    right: Math.max(a.x, b.x) + 1e-9,
    top: Math.min(a.y, b.y) - 1e-9,
    bottom: Math.max(a.y, b.y) + 1e-9,
  };
  if (!overlaps(own, box)) return false;
  const side = (x: number, y: number): number => Math.sign((b.x - a.x) * (y - a.y) - (b.y - a.y) * (x - a.x));
  const sides = [
    side(box.left, box.top),
    side(box.right, box.top),
    side(box.left, box.bottom),
    side(box.right, box.bottom),
  ];
  return !(sides.every((value) => value > 0) || sides.every((value) => value < 0));
}
