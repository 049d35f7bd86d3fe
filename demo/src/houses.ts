import type { Chance } from './random.ts';

export type Point = readonly [number, number];

/** A closed outline with right angles, local metres, counter-clockwise, first point not repeated. */
export type Outline = readonly Point[];

const toCentimetres = (value: number): number => Math.round(value * 100) / 100;

/** A building of one of four plan shapes; walls of 3 to 17 m, twice that when large. */
export function inventOutline(chance: Chance, large: boolean): Outline {
  const scale = large ? 2 : 1;
  const width = chance.int(10, 16) * scale;
  const depth = chance.int(8, 11) * scale;
  const wing = Math.round(depth * (0.35 + chance.fraction() * 0.2));
  const side = Math.round(width * (0.35 + chance.fraction() * 0.2));
  const deep = depth + wing;
  const shape = chance.pick(['rectangle', 'rectangle', 'L', 'L', 'T', 'U'] as const);
  const corners: Readonly<Record<typeof shape, Outline>> = {
    rectangle: [
      [0, 0],
      [width, 0],
      [width, depth],
      [0, depth],
    ],
    L: [
      [0, 0],
      [width, 0],
      [width, depth],
      [side, depth],
      [side, deep],
      [0, deep],
    ],
    T: [
      [0, 0],
      [width, 0],
      [width, depth],
      [width - 3, depth],
      [width - 3, deep],
      [3, deep],
      [3, depth],
      [0, depth],
    ],
    U: [
      [0, 0],
      [width, 0],
      [width, deep],
      [width - 3, deep],
      [width - 3, depth],
      [3, depth],
      [3, deep],
      [0, deep],
    ],
  };
  return corners[shape];
}

/**
 * Moves each wall of a right-angled counter-clockwise outline outward by `setback` metres.
 * Right of the walking direction is outside.
 */
export function offsetOutline(outline: Outline, setback: number): Outline {
  const count = outline.length;
  const at = (index: number): Point => outline[(index + count) % count] ?? [0, 0];
  return outline.map(([x, y], index) => {
    const [beforeX, beforeY] = at(index - 1);
    const [nextX, nextY] = at(index + 1);
    const entering = outward(x - beforeX, y - beforeY);
    const leaving = outward(nextX - x, nextY - y);
    return [x + (entering[0] + leaving[0]) * setback, y + (entering[1] + leaving[1]) * setback];
  });
}

function outward(dx: number, dy: number): Point {
  return [Math.sign(dy), -Math.sign(dx)];
}

/** Evenly spaced points along a closed line, at most `spacing` metres apart along it. */
export function pointsAlong(line: Outline, spacing: number): readonly Point[] {
  const sides = line.map((from, index) => {
    const to = line[(index + 1) % line.length] ?? from;
    return { from, to, length: Math.hypot(to[0] - from[0], to[1] - from[1]) };
  });
  const perimeter = sides.reduce((sum, side) => sum + side.length, 0);
  const count = Math.ceil(perimeter / spacing);
  const points: Point[] = [];
  let sideIndex = 0;
  let passed = 0;
  for (let n = 0; n < count; n += 1) {
    const target = (perimeter * n) / count;
    let side = sides[sideIndex];
    while (side !== undefined && passed + side.length < target) {
      passed += side.length;
      sideIndex += 1;
      side = sides[sideIndex];
    }
    if (side === undefined) break;
    const { from, to, length } = side;
    const t = (target - passed) / length;
    points.push([
      toCentimetres(from[0] + (to[0] - from[0]) * t),
      toCentimetres(from[1] + (to[1] - from[1]) * t),
    ]);
  }
  return points;
}

/** Metres from a point to the nearest wall. */
export function distanceToWall([x, y]: Point, outline: Outline): number {
  const distances = outline.map(([ax, ay], index) => {
    const [bx, by] = outline[(index + 1) % outline.length] ?? [ax, ay];
    const squared = (bx - ax) ** 2 + (by - ay) ** 2;
    const t = Math.max(0, Math.min(1, ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / squared));
    return Math.hypot(x - ax - t * (bx - ax), y - ay - t * (by - ay));
  });
  return Math.min(...distances);
}

/** Even-odd rule: whether a point lies in the building. */
export function isInside([x, y]: Point, outline: Outline): boolean {
  let inside = false;
  for (const [index, [ax, ay]] of outline.entries()) {
    const [bx, by] = outline[(index + 1) % outline.length] ?? [ax, ay];
    if (ay > y !== by > y && x < ((bx - ax) * (y - ay)) / (by - ay) + ax) inside = !inside;
  }
  return inside;
}

/** Places 0.9 m beside a station, along the wall and clear of it. */
export function placesBeside([x, y]: Point, outline: Outline): readonly Point[] {
  const steps: readonly Point[] = [
    [0.9, 0],
    [-0.9, 0],
    [0, 0.9],
    [0, -0.9],
  ];
  return steps
    .map(([dx, dy]): Point => [toCentimetres(x + dx), toCentimetres(y + dy)])
    .filter(
      (place) =>
        !isInside(place, outline) &&
        distanceToWall(place, outline) >= 0.5 &&
        distanceToWall(place, outline) <= 1.1,
    );
}
