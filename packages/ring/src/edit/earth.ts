import type { Georeference, Point, Site } from '../site/model.ts';
import { distance } from '../site/plane.ts';
import { tangentPlane } from '../site/tangentPlane.ts';
import { accept, type EditResult, refuse } from './edit.ts';
import { turnAbout } from './reshape.ts';
import { listThings, mapPoints } from './things.ts';

/** A corner of the drawing with where it lies on the earth, degrees on WGS 84. */
export interface EarthMark extends Georeference {
  readonly at: Point;
}

/** How the drawing must be turned and where its origin then lies. */
export interface EarthFit {
  readonly turnDegrees: number;
  readonly origin: Georeference;
  /** How far each mark stays from its place on the earth, metres. */
  readonly residualsMetres: readonly number[];
  /** Root of the mean of their squares, metres. */
  readonly rmsMetres: number;
  /** Lengths on the earth over lengths on the drawing: 1 where both were measured without error. */
  readonly scale: number;
}

const ORIGIN: Point = { x: 0, y: 0 };
/** A drawing whose lengths differ from the earth's by more was read off wrongly, or is of another place. */
const WORST_SCALE = 1.05;

/** The drawing turned so that a wall runs in this direction, with one place of it where it lies on the earth. */
export function placeByBearing(
  site: Site,
  mark: EarthMark,
  wall: readonly [from: Point, to: Point],
  azimuthDegrees: number,
): EditResult {
  const [from, to] = wall;
  if (distance(from, to) === 0) return refuse('no such wall');
  if (!isOnEarth(mark) || !Number.isFinite(azimuthDegrees)) return refuse('not a number');
  const drawn = (Math.atan2(to.x - from.x, to.y - from.y) * 180) / Math.PI;
  const turnDegrees = shortTurn(azimuthDegrees - drawn);
  const moved = turnAbout(ORIGIN, turnDegrees)(mark.at);
  return place(site, turnDegrees, originOf(mark, moved));
}

/**
 * The turn and shift that bring two or more marks nearest to their places: least squares, lengths kept (Umeyama 1991, without
 * scale). Undefined where fewer than two places differ, or one is not on the earth.
 */
export function fitEarth(marks: readonly EarthMark[]): EarthFit | undefined {
  const [first] = marks;
  if (first === undefined || marks.length < 2 || !marks.every(isOnEarth)) return undefined;
  // The plane touches the earth at the origin, which is what is looked for: a second turn is exact to the micrometre.
  const rough = fitOn(first, marks);
  return rough === undefined ? undefined : fitOn(rough.origin, marks);
}

export function placeByMarks(site: Site, marks: readonly EarthMark[]): EditResult {
  const fit = fitEarth(marks);
  if (fit === undefined) return refuse('same place twice');
  if (fit.scale > WORST_SCALE || fit.scale < 1 / WORST_SCALE) return refuse('does not fit');
  return place(site, fit.turnDegrees, fit.origin);
}

function fitOn(touching: Georeference, marks: readonly EarthMark[]): EarthFit | undefined {
  const plane = tangentPlane(touching);
  const earth = marks.map(({ longitude, latitude }) => plane.toMetres(longitude, latitude));
  const drawn = marks.map(({ at }) => at);
  const from = meanOf(drawn);
  const to = meanOf(earth);
  let along = 0;
  let across = 0;
  let drawnSquares = 0;
  let earthSquares = 0;
  marks.forEach((_, index) => {
    const p = minus(drawn[index] ?? from, from);
    const q = minus(earth[index] ?? to, to);
    along += p.x * q.x + p.y * q.y;
    across += p.x * q.y - p.y * q.x;
    drawnSquares += p.x * p.x + p.y * p.y;
    earthSquares += q.x * q.x + q.y * q.y;
  });
  if (drawnSquares === 0 || earthSquares === 0) return undefined;
  // Counter-clockwise is positive in the plane, clockwise on the compass.
  const turnDegrees = (-Math.atan2(across, along) * 180) / Math.PI;
  const turn = turnAbout(ORIGIN, turnDegrees);
  const toEarth = (at: Point): Point => {
    const { x, y } = turn(minus(at, from));
    return { x: x + to.x, y: y + to.y };
  };
  const residualsMetres = drawn.map((at, index) => distance(toEarth(at), earth[index] ?? to));
  return {
    turnDegrees,
    origin: plane.toDegrees(toEarth(ORIGIN)),
    residualsMetres,
    rmsMetres: Math.sqrt(residualsMetres.reduce((sum, one) => sum + one * one, 0) / marks.length),
    scale: Math.sqrt(earthSquares / drawnSquares),
  };
}

function place(site: Site, turnDegrees: number, origin: Georeference): EditResult {
  if (Math.abs(origin.latitude) > 85) return refuse('too far away');
  const turn = turnAbout(ORIGIN, turnDegrees);
  return accept({
    deed: 'placed on the earth',
    put: turnDegrees === 0 ? [] : listThings(site).map((thing) => mapPoints(thing, turn)),
    georeference: origin,
  });
}

/** Where the origin lies so that `at` lies at the mark. The plane depends on the origin, so this is asked three times. */
function originOf(mark: Georeference, at: Point): Georeference {
  let origin: Georeference = { longitude: mark.longitude, latitude: mark.latitude };
  for (let turn = 0; turn < 3; turn += 1) {
    const plane = tangentPlane(origin);
    const there = plane.toMetres(mark.longitude, mark.latitude);
    origin = plane.toDegrees({ x: there.x - at.x, y: there.y - at.y });
  }
  return origin;
}

function isOnEarth({ longitude, latitude }: Georeference): boolean {
  return Math.abs(longitude) <= 180 && Math.abs(latitude) <= 85;
}

function meanOf(points: readonly Point[]): Point {
  return {
    x: points.reduce((sum, { x }) => sum + x, 0) / points.length,
    y: points.reduce((sum, { y }) => sum + y, 0) / points.length,
  };
}

function minus(a: Point, b: Point): Point {
  return { x: a.x - b.x, y: a.y - b.y };
}

/** Above -180 up to 180. */
function shortTurn(degrees: number): number {
  const turned = ((degrees % 360) + 360) % 360;
  return turned > 180 ? turned - 360 : turned;
}
