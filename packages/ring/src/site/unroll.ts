import type { Metres } from '@sillwatch/trade/units';
import { metres } from '@sillwatch/trade/units';
import type { Outline, Point } from './model.ts';
import { between, counterClockwise, distance, edgesOf, footFraction } from './plane.ts';

/** A structure's outline as a straight line: where its corners and a few places beside it lie along it. */
export interface Unrolled {
  readonly lengthMetres: Metres;
  /** Of each wall, where it begins along the line, and the compass side that it faces. */
  readonly walls: readonly { readonly fromMetres: Metres; readonly faces: CompassSide }[];
  /** Where along the line the nearest point of the outline lies, in the order of `places`. */
  readonly alongMetres: readonly Metres[];
}

export const COMPASS_SIDES = [
  'east',
  'north-east',
  'north',
  'north-west',
  'west',
  'south-west',
  'south',
  'south-east',
] as const;
export type CompassSide = (typeof COMPASS_SIDES)[number];

/**
 * Unrolls an outline from its first corner on, clockwise as one walks round a house with the wall at the right hand
 * (x east, y north). Throws a RangeError for fewer than three corners.
 */
export function unroll(outline: Outline, places: readonly Point[]): Unrolled {
  if (outline.length < 3) throw new RangeError('an outline has at least three corners');
  const [first] = outline;
  const ring = counterClockwise(outline).toReversed();
  const start = first === undefined ? 0 : ring.indexOf(first);
  const walls = edgesOf([...ring.slice(start), ...ring.slice(0, start)]);
  const begins: number[] = [];
  let length = 0;
  for (const [a, b] of walls) {
    begins.push(length);
    length += distance(a, b);
  }
  return {
    lengthMetres: metres(length),
    walls: walls.map(([a, b], index) => ({
      fromMetres: metres(begins[index] ?? 0),
      faces: outwardSide(a, b),
    })),
    alongMetres: places.map((place) => {
      let nearest = Number.POSITIVE_INFINITY;
      let along = 0;
      walls.forEach(([a, b], index) => {
        const fraction = footFraction(place, a, b);
        const gap = distance(place, between(a, b, fraction));
        if (gap >= nearest) return;
        nearest = gap;
        along = (begins[index] ?? 0) + fraction * distance(a, b);
      });
      return metres(along);
    }),
  };
}

/** Of a wall that is walked clockwise, outside lies at the left hand. */
function outwardSide(a: Point, b: Point): CompassSide {
  const angle = Math.atan2(b.x - a.x, -(b.y - a.y));
  const eighth = Math.round(angle / (Math.PI / 4));
  return COMPASS_SIDES[(eighth + 8) % 8] ?? 'east';
}
