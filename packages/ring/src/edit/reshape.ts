import { FARTHEST_FROM_ORIGIN_METRES, SHORTEST_WALL_METRES } from '../site/checkSite.ts';
import type { Point, Site } from '../site/model.ts';
import { between, distance, footFraction } from '../site/plane.ts';
import { accept, type EditResult, refuse } from './edit.ts';
import { findThing, mapPoints, type Ring, ringsOf, type Thing, withRings } from './things.ts';

/** A corner: of which thing, which ring of it (0 = the outline or path), which point of the ring. */
export interface Corner {
  readonly id: string;
  readonly ring: number;
  readonly index: number;
}

/** A wall is named by the corner at which it begins; it runs to the next one, the last of an outline to the first. */
export type Wall = Corner;

/** Moves one corner, or the place of a thing that has no corners. */
export function moveCorner(site: Site, corner: Corner, to: Point): EditResult {
  const found = findRing(site, corner);
  if (found === undefined) return refuse('no such thing');
  const fault = faultOfPlace(to);
  if (fault !== undefined) return refuse(fault);
  const { ring, thing } = found;
  const from = ring.points[corner.index];
  if (from === undefined) return refuse('no such thing');
  if (from.x === to.x && from.y === to.y) return refuse('nothing changes');
  return reshape(
    thing,
    corner.ring,
    ring.points.map((point, index) => (index === corner.index ? to : point)),
    ring.points.length === 1 ? 'moved' : 'reshaped',
  );
}

export function moveThing(site: Site, id: string, eastMetres: number, northMetres: number): EditResult {
  const thing = findThing(site, id);
  if (thing === undefined) return refuse('no such thing');
  if (!Number.isFinite(eastMetres) || !Number.isFinite(northMetres)) return refuse('not a number');
  if (eastMetres === 0 && northMetres === 0) return refuse('nothing changes');
  const moved = mapPoints(thing, ({ x, y }) => ({ x: x + eastMetres, y: y + northMetres }));
  const far = ringsOf(moved).some(({ points }) => points.some((at) => faultOfPlace(at) !== undefined));
  return far ? refuse('too far away') : accept({ deed: 'moved', put: [moved] });
}

/** Turns a thing about its middle; clockwise is positive, as a compass turns. */
export function turnThing(site: Site, id: string, degrees: number): EditResult {
  const thing = findThing(site, id);
  if (thing === undefined) return refuse('no such thing');
  if (!Number.isFinite(degrees)) return refuse('not a number');
  if (degrees % 360 === 0) return refuse('nothing changes');
  const outline = ringsOf(thing)[0]?.points ?? [];
  const turn = turnAbout(middleOf(outline), degrees);
  return accept({ deed: 'moved', put: [mapPoints(thing, turn)] });
}

/**
 * Makes a wall as long as it was measured. Its first corner stays; its far corner goes out along it and takes the next corner
 * with it, so that the wall round the corner keeps its length and direction and a right-angled house stays right-angled. In a
 * triangle, and at the open end of a path, only the far corner moves.
 */
export function setWallLength(site: Site, wall: Wall, lengthMetres: number): EditResult {
  const found = findRing(site, wall);
  if (found === undefined) return refuse('no such thing');
  if (!Number.isFinite(lengthMetres)) return refuse('not a number');
  if (lengthMetres < SHORTEST_WALL_METRES) return refuse('wall too short');
  if (lengthMetres > FARTHEST_FROM_ORIGIN_METRES) return refuse('too far away');
  const { ring, thing } = found;
  const { points } = ring;
  const ends = endsOf(ring, wall.index);
  if (ends === undefined) return refuse('no such wall');
  const [from, to] = ends;
  const before = distance(from, to);
  if (before === 0) return refuse('no such wall');
  if (before === lengthMetres) return refuse('nothing changes');
  const stretch = lengthMetres / before - 1;
  const shift = { x: (to.x - from.x) * stretch, y: (to.y - from.y) * stretch };
  const far = (wall.index + 1) % points.length;
  const next = (wall.index + 2) % points.length;
  const isDrawnAlong = (index: number) =>
    ring.isClosed ? index === far || (points.length > 3 && index === next) : index > wall.index;
  const moved = points.map((point, index) =>
    isDrawnAlong(index) ? { x: point.x + shift.x, y: point.y + shift.y } : point,
  );
  if (moved.some((at) => faultOfPlace(at) !== undefined)) return refuse('too far away');
  return reshape(thing, wall.ring, moved);
}

/** A new corner on the wall, at the place nearest to `at`, or halfway. */
export function splitWall(site: Site, wall: Wall, at?: Point): EditResult {
  const found = findRing(site, wall);
  if (found === undefined) return refuse('no such thing');
  const fault = at === undefined ? undefined : faultOfPlace(at);
  if (fault !== undefined) return refuse(fault);
  const { ring, thing } = found;
  const ends = endsOf(ring, wall.index);
  if (ends === undefined) return refuse('no such wall');
  const [from, to] = ends;
  const share = at === undefined ? 0.5 : footFraction(at, from, to);
  const corner = between(from, to, share);
  if (distance(from, corner) < SHORTEST_WALL_METRES || distance(corner, to) < SHORTEST_WALL_METRES)
    return refuse('wall too short');
  return reshape(thing, wall.ring, ring.points.toSpliced(wall.index + 1, 0, corner));
}

/** An outline keeps three corners and a path two; a courtyard that has only three goes with the first of them. */
export function removeCorner(site: Site, corner: Corner): EditResult {
  const found = findRing(site, corner);
  const { ring, thing } = found ?? {};
  if (ring?.points[corner.index] === undefined || thing === undefined) return refuse('no such thing');
  const left = ring.points.filter((_, index) => index !== corner.index);
  if (left.length >= (ring.isClosed ? 3 : 2)) return reshape(thing, corner.ring, left);
  if (corner.ring === 0) return refuse('too few corners');
  const rings = ringsOf(thing).map(({ points }) => points);
  return accept({
    deed: 'reshaped',
    put: [
      withRings(
        thing,
        rings.filter((_, index) => index !== corner.ring),
      ),
    ],
  });
}

/** The two ends of the wall that begins at a corner; undefined past the end of a path. */
export function endsOf(
  { points, isClosed }: Ring,
  index: number,
): readonly [from: Point, to: Point] | undefined {
  const from = points[index];
  const to = points[index + 1] ?? (isClosed && index === points.length - 1 ? points[0] : undefined);
  return from === undefined || to === undefined || points.length < 2 ? undefined : [from, to];
}

/** Clockwise about a place, degrees. */
export function turnAbout({ x: east, y: north }: Point, degrees: number): (at: Point) => Point {
  const radians = (degrees * Math.PI) / 180;
  const cos = Math.cos(radians);
  const sin = Math.sin(radians);
  return ({ x, y }) => ({
    x: east + (x - east) * cos + (y - north) * sin,
    y: north + (y - north) * cos - (x - east) * sin,
  });
}

/** Halfway between the outermost corners. */
export function middleOf(points: readonly Point[]): Point {
  const xs = points.map(({ x }) => x);
  const ys = points.map(({ y }) => y);
  if (points.length === 0) return { x: 0, y: 0 };
  return {
    x: (Math.min(...xs) + Math.max(...xs)) / 2,
    y: (Math.min(...ys) + Math.max(...ys)) / 2,
  };
}

/** Why nothing can be drawn there. */
export function faultOfPlace({ x, y }: Point): 'not a number' | 'too far away' | undefined {
  if (!Number.isFinite(x) || !Number.isFinite(y)) return 'not a number';
  return Math.hypot(x, y) > FARTHEST_FROM_ORIGIN_METRES ? 'too far away' : undefined;
}

function findRing(
  site: Site,
  { id, ring: ringIndex }: Corner,
): { readonly thing: Thing; readonly ring: Ring } | undefined {
  const thing = findThing(site, id);
  const ring = thing === undefined ? undefined : ringsOf(thing)[ringIndex];
  return thing === undefined || ring === undefined ? undefined : { thing, ring };
}

function reshape(
  thing: Thing,
  ringIndex: number,
  points: readonly Point[],
  deed: 'moved' | 'reshaped' = 'reshaped',
): EditResult {
  const rings = ringsOf(thing).map((ring, index) => (index === ringIndex ? points : ring.points));
  return accept({ deed, put: [withRings(thing, rings)] });
}
