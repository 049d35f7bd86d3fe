import type { Georeference, KeepOut, Outline, Path, Point, Site } from './model.ts';
import { counterClockwise } from './plane.ts';
import { tangentPlane } from './tangentPlane.ts';

export type Position = readonly [longitude: number, latitude: number];

export type Geometry =
  | { readonly type: 'Point'; readonly coordinates: Position }
  | { readonly type: 'LineString'; readonly coordinates: readonly Position[] }
  | { readonly type: 'Polygon'; readonly coordinates: readonly (readonly Position[])[] };

export interface Feature {
  readonly type: 'Feature';
  readonly id: string;
  readonly properties: Readonly<Record<string, string | number>>;
  readonly geometry: Geometry;
}

export interface FeatureCollection {
  readonly type: 'FeatureCollection';
  /** A foreign member (RFC 7946, section 6.1): the name of the site and its origin. */
  readonly site: {
    readonly name: string;
    readonly origin: Position;
    /** Present where the site has no georeference: the origin is then `NOWHERE`, and says nothing of where the site lies. */
    readonly placed?: false;
    readonly note?: string;
  };
  readonly features: readonly Feature[];
}

/** Degrees are written to nine decimals: 0.1 mm, the step to which walls are held. */
const DECIMALS = 9;

/** Where a site without a georeference is written: GeoJSON knows no coordinates but degrees on the earth. */
export const NOWHERE: Georeference = { longitude: 0, latitude: 0 };
const NOWHERE_NOTE =
  'This drawing has no position on the earth. Its origin was put at longitude 0, latitude 0 so that its metres can be written as degrees; shapes and distances are right, the place is not.';

/**
 * A site as GeoJSON (RFC 7946): WGS 84, outer rings counter-clockwise, holes clockwise, rings closed.
 * One without a georeference is written round `NOWHERE` and says so; `siteFromGeoJson` reads it back without one.
 */
export function siteToGeoJson(site: Site): FeatureCollection {
  const origin = site.georeference ?? NOWHERE;
  const write = createWriter(origin);
  const { polygon, line, point } = write;
  return {
    type: 'FeatureCollection',
    site: {
      name: site.name,
      origin: [origin.longitude, origin.latitude],
      ...(site.georeference === undefined ? { placed: false, note: NOWHERE_NOTE } : {}),
    },
    features: [
      ...site.structures.map(({ id, name, foundation, outline, holes }) =>
        feature(id, { kind: 'structure', name, foundation }, polygon(outline, holes)),
      ),
      ...site.hardSurfaces.map(({ id, kind, outline }) => feature(id, { kind }, polygon(outline, []))),
      ...site.keepOuts.map((keepOut) => keepOutFeature(keepOut, write)),
      ...site.plantings.map(({ id, kind, outline }) => feature(id, { kind }, polygon(outline, []))),
      ...site.concerns.map(({ id, kind, at, note }) =>
        feature(id, { kind, ...(note === undefined ? {} : { note }) }, point(at)),
      ),
      ...site.fences.map(({ id, path }) => feature(id, { kind: 'fence' }, line(path))),
      ...site.gates.map(({ id, at, widthMetres }) => feature(id, { kind: 'gate', widthMetres }, point(at))),
      ...site.stations.map(({ id, number, at, structureId }) =>
        feature(
          id,
          { kind: 'station', number, ...(structureId === undefined ? {} : { structure: structureId }) },
          point(at),
        ),
      ),
      ...(site.parking === undefined ? [] : [feature('parking', { kind: 'parking' }, point(site.parking))]),
    ],
  };
}

function feature(id: string, properties: Feature['properties'], geometry: Geometry): Feature {
  return { type: 'Feature', id, properties, geometry };
}

function keepOutFeature(keepOut: KeepOut, { polygon, line, point }: Writer): Feature {
  const { id, kind } = keepOut;
  switch (keepOut.kind) {
    case 'utility_line':
      return feature(id, { kind, clearanceMetres: keepOut.clearanceMetres }, line(keepOut.path));
    case 'well':
    case 'drain':
      return feature(id, { kind, clearanceMetres: keepOut.clearanceMetres }, point(keepOut.at));
    case 'treated_soil':
      return feature(id, { kind }, polygon(keepOut.outline, []));
  }
}

type Writer = ReturnType<typeof createWriter>;

function createWriter(georeference: Georeference) {
  const plane = tangentPlane(georeference);
  const position = (at: Point): Position => {
    const { longitude, latitude } = plane.toDegrees(at);
    return [rounded(longitude), rounded(latitude)];
  };
  const ring = (outline: Outline): readonly Position[] => {
    const [first] = outline;
    return first === undefined ? [] : [...outline, first].map(position);
  };
  return {
    point: (at: Point): Geometry => ({ type: 'Point', coordinates: position(at) }),
    line: (path: Path): Geometry => ({ type: 'LineString', coordinates: path.map(position) }),
    polygon: (outline: Outline, holes: readonly Outline[]): Geometry => ({
      type: 'Polygon',
      coordinates: [
        ring(counterClockwise(outline)),
        ...holes.map((hole) => ring(counterClockwise(hole).toReversed())),
      ],
    }),
  };
}

function rounded(degrees: number): number {
  const scale = 10 ** DECIMALS;
  return Math.round(degrees * scale) / scale;
}
