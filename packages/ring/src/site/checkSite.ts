import type { KeepOut, Outline, Path, Point, Site } from './model.ts';
import { crossing, distance, edgesOf, isInside, signedArea, stepsOf } from './plane.ts';

export const SITE_FAULTS = [
  'no_structure',
  'not_a_number',
  'too_few_corners',
  'zero_length_wall',
  'outline_crosses_itself',
  'no_area',
  'hole_outside_outline',
  'too_large',
  'too_small',
  'too_far_from_origin',
  'probably_centimetres_or_millimetres',
  'station_inside_structure',
  'stations_in_one_place',
  'same_number_twice',
  'same_id_twice',
  'clearance_out_of_range',
  'path_too_short',
  'georeference_out_of_range',
] as const;
export type SiteFault = (typeof SITE_FAULTS)[number];

/** A reason and a place on the drawing, for a screen to put into words and mark. */
export interface SiteProblem {
  readonly fault: SiteFault;
  /** Of the thing at fault; empty for the site as a whole. */
  readonly id: string;
  readonly at: Point;
  /** The other end of a wall at fault, or the same place. */
  readonly to: Point;
}

/** A wall shorter than this is a slip of the pencil, metres. */
export const SHORTEST_WALL_METRES = 0.01;
/** No structure is larger than this across, metres: the largest building in the world measures about 1.1 km. */
export const LARGEST_STRUCTURE_METRES = 1500;
/** A structure smaller than this across is no building, metres. */
export const SMALLEST_STRUCTURE_METRES = 0.5;
/** From here on the plane of the site strays from the ground, metres. */
export const FARTHEST_FROM_ORIGIN_METRES = 5000;
/** Other things on the drawing reach this many times farther than the structures when units are mixed up. */
const MIXED_UNITS_RATIO = 50;
const LARGEST_CLEARANCE_METRES = 100;

/** The one thing on a drawing without an id of its own. */
const PARKING_ID = 'parking';

const ORIGIN: Point = { x: 0, y: 0 };

/** Everything that would make a placement wrong or impossible; empty when the site can be used. */
export function checkSite(site: Site): readonly SiteProblem[] {
  const numbers = checkNumbers(site);
  // Nothing can be measured on a drawing with NaN in it.
  if (numbers.length > 0) return numbers;
  return [
    ...(site.structures.length === 0 ? [problem('no_structure', '', ORIGIN)] : []),
    ...site.structures.flatMap(({ id, outline, holes }) => checkStructure(id, outline, holes)),
    ...[...site.hardSurfaces, ...site.plantings].flatMap(({ id, outline }) => checkOutline(id, outline)),
    ...site.keepOuts.flatMap(checkKeepOut),
    ...site.fences.flatMap(({ id, path }) => checkPath(id, path)),
    ...site.gates
      .filter(({ widthMetres }) => widthMetres <= 0 || widthMetres > LARGEST_CLEARANCE_METRES)
      .map(({ id, at }) => problem('clearance_out_of_range', id, at)),
    ...checkStations(site),
    ...checkIds(site),
    ...checkReach(site),
    ...checkGeoreference(site),
  ];
}

function problem(fault: SiteFault, id: string, at: Point, to: Point = at): SiteProblem {
  return { fault, id, at, to };
}

interface Drawn {
  readonly id: string;
  readonly points: readonly Point[];
}

function listDrawn(site: Site): readonly Drawn[] {
  return [
    ...site.structures.map(({ id, outline, holes }) => ({ id, points: [...outline, ...holes.flat()] })),
    ...[...site.hardSurfaces, ...site.plantings].map(({ id, outline }) => ({ id, points: outline })),
    ...site.keepOuts.map((keepOut) => ({ id: keepOut.id, points: pointsOfKeepOut(keepOut) })),
    ...site.fences.map(({ id, path }) => ({ id, points: path })),
    ...[...site.concerns, ...site.gates, ...site.stations].map(({ id, at }) => ({ id, points: [at] })),
    ...(site.parking === undefined ? [] : [{ id: PARKING_ID, points: [site.parking] }]),
  ];
}

function pointsOfKeepOut(keepOut: KeepOut): readonly Point[] {
  switch (keepOut.kind) {
    case 'utility_line':
      return keepOut.path;
    case 'well':
    case 'drain':
      return [keepOut.at];
    case 'treated_soil':
      return keepOut.outline;
  }
}

function checkNumbers(site: Site): readonly SiteProblem[] {
  return listDrawn(site).flatMap(({ id, points }) => {
    const index = points.findIndex(({ x, y }) => !Number.isFinite(x) || !Number.isFinite(y));
    if (index < 0) return [];
    const known = points.find(({ x, y }) => Number.isFinite(x) && Number.isFinite(y));
    return [problem('not_a_number', id, known ?? ORIGIN)];
  });
}

function checkStructure(id: string, outline: Outline, holes: readonly Outline[]): readonly SiteProblem[] {
  const problems = [outline, ...holes].flatMap((ring) => checkOutline(id, ring));
  if (problems.length > 0) return problems;
  const across = acrossMetres(outline);
  const corner = outline[0] ?? ORIGIN;
  if (across > LARGEST_STRUCTURE_METRES)
    return [problem('too_large', id, corner, farthestFrom(corner, outline))];
  if (across < SMALLEST_STRUCTURE_METRES) return [problem('too_small', id, corner)];
  return holes.flatMap((hole) => {
    const stray = hole.find((point) => !isInside(point, [outline]));
    if (stray !== undefined) return [problem('hole_outside_outline', id, stray)];
    const crossed = firstCrossingOf(hole, outline);
    return crossed === undefined ? [] : [problem('hole_outside_outline', id, crossed)];
  });
}

function checkOutline(id: string, ring: Outline): readonly SiteProblem[] {
  const first = ring[0] ?? ORIGIN;
  if (ring.length < 3) return [problem('too_few_corners', id, first)];
  const short = edgesOf(ring).filter(([a, b]) => distance(a, b) < SHORTEST_WALL_METRES);
  if (short.length > 0) return short.map(([a, b]) => problem('zero_length_wall', id, a, b));
  const crossed = selfCrossings(ring);
  if (crossed.length > 0) return crossed.map((at) => problem('outline_crosses_itself', id, at));
  return Math.abs(signedArea(ring)) < 1e-4 ? [problem('no_area', id, first)] : [];
}

/** Where walls that do not follow one another meet, or one turns back on the next. */
function selfCrossings(ring: Outline): readonly Point[] {
  const edges = edgesOf(ring);
  const found: Point[] = [];
  edges.forEach(([a, b], index) => {
    const next = edges[(index + 1) % edges.length];
    if (next !== undefined && turnsBack(a, b, next[1])) found.push(b);
    for (let other = index + 2; other < edges.length; other++) {
      if (index === 0 && other === edges.length - 1) continue;
      const edge = edges[other];
      if (edge === undefined || !boxesMeet(a, b, edge[0], edge[1])) continue;
      const at = meeting(a, b, edge[0], edge[1]);
      if (at !== undefined) found.push(at);
    }
  });
  return found;
}

function boxesMeet(a: Point, b: Point, c: Point, d: Point): boolean {
  return (
    Math.max(a.x, b.x) >= Math.min(c.x, d.x) &&
    Math.min(a.x, b.x) <= Math.max(c.x, d.x) &&
    Math.max(a.y, b.y) >= Math.min(c.y, d.y) &&
    Math.min(a.y, b.y) <= Math.max(c.y, d.y)
  );
}

function meeting(a: Point, b: Point, c: Point, d: Point): Point | undefined {
  const met = crossing(a, b, c, d);
  if (met !== undefined) return { x: a.x + (b.x - a.x) * met.along, y: a.y + (b.y - a.y) * met.along };
  return [c, d].find((p) => isOn(p, a, b)) ?? [a, b].find((p) => isOn(p, c, d));
}

function isOn(p: Point, a: Point, b: Point): boolean {
  return distance(a, p) + distance(p, b) <= distance(a, b) + 1e-9;
}

function turnsBack(a: Point, b: Point, c: Point): boolean {
  const cross = (b.x - a.x) * (c.y - b.y) - (b.y - a.y) * (c.x - b.x);
  const dot = (b.x - a.x) * (c.x - b.x) + (b.y - a.y) * (c.y - b.y);
  return dot < 0 && Math.abs(cross) < 1e-9 * Math.abs(dot);
}

function firstCrossingOf(one: Outline, other: Outline): Point | undefined {
  for (const [a, b] of edgesOf(one)) {
    for (const [c, d] of edgesOf(other)) {
      const at = meeting(a, b, c, d);
      if (at !== undefined) return at;
    }
  }
  return undefined;
}

function checkPath(id: string, path: Path): readonly SiteProblem[] {
  const first = path[0] ?? ORIGIN;
  if (path.length < 2) return [problem('path_too_short', id, first)];
  const length = stepsOf(path).reduce((sum, [a, b]) => sum + distance(a, b), 0);
  return length < SHORTEST_WALL_METRES ? [problem('path_too_short', id, first)] : [];
}

function checkKeepOut(keepOut: KeepOut): readonly SiteProblem[] {
  const first = pointsOfKeepOut(keepOut)[0] ?? ORIGIN;
  if (keepOut.kind === 'treated_soil') return checkOutline(keepOut.id, keepOut.outline);
  const { id, clearanceMetres } = keepOut;
  const isWrong = !(clearanceMetres > 0 && clearanceMetres <= LARGEST_CLEARANCE_METRES);
  return [
    ...(isWrong ? [problem('clearance_out_of_range', id, first)] : []),
    ...(keepOut.kind === 'utility_line' ? checkPath(id, keepOut.path) : []),
  ];
}

function checkStations(site: Site): readonly SiteProblem[] {
  const numbers = new Set<string>();
  return site.stations.flatMap((station, index) => {
    const { id, at, number } = station;
    const found: SiteProblem[] = [];
    const inside = site.structures.some(({ outline, holes }) => isInside(at, [outline, ...holes]));
    if (inside) found.push(problem('station_inside_structure', id, at));
    const twin = site.stations.slice(0, index).find((other) => distance(other.at, at) < SHORTEST_WALL_METRES);
    if (twin !== undefined) found.push(problem('stations_in_one_place', id, at));
    const onItsRing = `${number} ${station.structureId ?? ''}`;
    if (numbers.has(onItsRing)) found.push(problem('same_number_twice', id, at));
    numbers.add(onItsRing);
    return found;
  });
}

function checkIds(site: Site): readonly SiteProblem[] {
  const seen = new Set<string>();
  return listDrawn(site).flatMap(({ id, points }) => {
    if (!seen.has(id)) {
      seen.add(id);
      return [];
    }
    return [problem('same_id_twice', id, points[0] ?? ORIGIN)];
  });
}

/** Far corners, and a drawing on which one hand drew in metres and the other in centimetres. */
function checkReach(site: Site): readonly SiteProblem[] {
  const corners = site.structures.flatMap(({ outline }) => outline);
  const across = acrossMetres(corners);
  const middle = corners[0] ?? ORIGIN;
  return listDrawn(site).flatMap(({ id, points }) => {
    const far = points.find((point) => distance(point, ORIGIN) > FARTHEST_FROM_ORIGIN_METRES);
    const stray = points.find((point) => distance(point, middle) > MIXED_UNITS_RATIO * Math.max(across, 5));
    if (stray !== undefined) return [problem('probably_centimetres_or_millimetres', id, stray)];
    return far === undefined ? [] : [problem('too_far_from_origin', id, far)];
  });
}

function checkGeoreference({ georeference }: Site): readonly SiteProblem[] {
  if (georeference === undefined) return [];
  const { longitude, latitude } = georeference;
  // Nearer to the poles a degree of longitude shrinks to nothing.
  const isRight = Math.abs(longitude) <= 180 && Math.abs(latitude) <= 85;
  return isRight ? [] : [problem('georeference_out_of_range', '', ORIGIN)];
}

function acrossMetres(points: readonly Point[]): number {
  const xs = points.map(({ x }) => x);
  const ys = points.map(({ y }) => y);
  if (points.length === 0) return 0;
  return Math.max(Math.max(...xs) - Math.min(...xs), Math.max(...ys) - Math.min(...ys));
}

function farthestFrom(p: Point, points: readonly Point[]): Point {
  return points.reduce((far, point) => (distance(p, point) > distance(p, far) ? point : far), p);
}
