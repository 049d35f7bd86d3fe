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
  readonly site: { readonly name: string; readonly origin: Position };
  readonly features: readonly Feature[];
}

/** Degrees are written to nine decimals: 0.1 mm, the step to which walls are held. */
const DECIMALS = 9;

/**
 * A site as GeoJSON (RFC 7946): WGS 84, outer rings counter-clockwise, holes clockwise, rings closed.
 * Undefined where the site has no georeference: GeoJSON knows no other coordinates.
 */
export function siteToGeoJson(site: Site): FeatureCollection | undefined {
  const { georeference } = site;
  if (georeference === undefined) return undefined;
  const write = createWriter(georeference);
  const { polygon, line, point } = write;
  return {
    type: 'FeatureCollection',
    site: { name: site.name, origin: [georeference.longitude, georeference.latitude] },
    features: [
      ...site.structures.map(({ id, name, foundation, outline, holes }) =>
        feature(id, { kind: 'structure', name, foundation }, polygon(outline, holes)),
      ),
      ...site.hardSurfaces.map(({ id, kind, outline }) => feature(id, { kind }, polygon(outline, []))),
      ...site.keepOuts.map((keepOut) => keepOutFeature(keepOut, write)),
      ...site.plantings.map(({ id, kind, outline }) => feature(id, { kind }, polygon(outline, []))),
      ...site.concerns.map(({ id, kind, at }) => feature(id, { kind }, point(at))),
      ...site.fences.map(({ id, path }) => feature(id, { kind: 'fence' }, line(path))),
      ...site.gates.map(({ id, at, widthMetres }) => feature(id, { kind: 'gate', widthMetres }, point(at))),
      ...site.stations.map(({ id, number, at }) => feature(id, { kind: 'station', number }, point(at))),
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
