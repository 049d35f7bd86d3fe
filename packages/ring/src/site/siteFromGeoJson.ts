import { metres } from '@sillwatch/trade/units';
import {
  CONCERNS,
  type Concern,
  EMPTY_SITE,
  type Fence,
  FOUNDATIONS,
  type Gate,
  type Georeference,
  HARD_SURFACES,
  type HardSurface,
  type KeepOut,
  type Outline,
  PLANTINGS,
  type Planting,
  type Point,
  type Site,
  type Station,
  type Structure,
} from './model.ts';
import { tangentPlane } from './tangentPlane.ts';

export type GeoJsonFault =
  | 'not_json'
  | 'not_a_feature_collection'
  | 'no_coordinates'
  | 'position_out_of_range'
  | 'ring_not_closed'
  | 'wrong_geometry'
  | 'unknown_kind'
  | 'missing_property';

/** `path` points into the document: `features[3].geometry.coordinates[0][2]`. `found` is what stands there. */
export interface GeoJsonRefusal {
  readonly fault: GeoJsonFault;
  readonly path: string;
  readonly found: string;
}

export type SiteResult =
  | { readonly ok: true; readonly site: Site }
  | { readonly ok: false; readonly refusals: readonly GeoJsonRefusal[] };

/**
 * Reads a site from a GeoJSON text (RFC 7946): a FeatureCollection whose features carry `properties.kind`, one of the
 * kinds of the site model (`structure`, `drive`, `utility_line`, `stump`, `fence`, `gate`, `station` ...). A polygon with
 * a `building` property and no `kind`, as open maps have it, is a structure. The origin is the member `site.origin`,
 * or else the first position; `site.placed: false` says that it lies nowhere in particular. Winding is not asked for. The result is not yet checked: see checkSite.
 */
export function siteFromGeoJson(text: string): SiteResult {
  const json = parse(text);
  if (json === undefined) return refuse('not_json', '', text.slice(0, 40));
  if (!isRecord(json) || json['type'] !== 'FeatureCollection' || !Array.isArray(json['features'])) {
    return refuse('not_a_feature_collection', 'type', brief(isRecord(json) ? json['type'] : json));
  }
  const features: readonly unknown[] = json['features'];
  const about = isRecord(json['site']) ? json['site'] : {};
  const georeference = originOf(about['origin']) ?? firstPosition(features);
  if (georeference === undefined) return refuse('no_coordinates', 'features', '');
  const reader = createReader(georeference);
  features.forEach((feature, index) => {
    reader.read(feature, index);
  });
  if (reader.refusals.length > 0) return { ok: false, refusals: reader.refusals };
  const name = about['name'];
  return {
    ok: true,
    site: {
      ...reader.finish(),
      name: typeof name === 'string' ? name : '',
      georeference: about['placed'] === false ? undefined : georeference,
    },
  };
}

function refuse(fault: GeoJsonFault, path: string, found: string): SiteResult {
  return { ok: false, refusals: [{ fault, path, found }] };
}

function createReader(georeference: Georeference) {
  const plane = tangentPlane(georeference);
  const refusals: GeoJsonRefusal[] = [];
  const structures: Structure[] = [];
  const hardSurfaces: HardSurface[] = [];
  const keepOuts: KeepOut[] = [];
  const plantings: Planting[] = [];
  const concerns: Concern[] = [];
  const fences: Fence[] = [];
  const gates: Gate[] = [];
  const stations: Station[] = [];
  let parking: Point | undefined;

  function point(value: unknown, path: string): Point | undefined {
    const found = originOf(value);
    if (found === undefined) {
      refusals.push({ fault: 'position_out_of_range', path, found: brief(value) });
      return undefined;
    }
    return plane.toMetres(found.longitude, found.latitude);
  }

  function points(value: unknown, path: string): readonly Point[] {
    if (!Array.isArray(value)) {
      refusals.push({ fault: 'wrong_geometry', path, found: brief(value) });
      return [];
    }
    return value.flatMap((position: unknown, index) => point(position, `${path}[${index}]`) ?? []);
  }

  function ring(value: unknown, path: string): Outline {
    const closed = points(value, path);
    const first = closed[0];
    const last = closed[closed.length - 1];
    if (first === undefined || last === undefined || first.x !== last.x || first.y !== last.y) {
      if (first !== undefined) refusals.push({ fault: 'ring_not_closed', path, found: brief(value) });
      return closed;
    }
    return closed.slice(0, -1);
  }

  function read(feature: unknown, index: number): void {
    const where = `features[${index}]`;
    const geometry = isRecord(feature) ? feature['geometry'] : undefined;
    if (!isRecord(feature) || !isRecord(geometry)) {
      refusals.push({ fault: 'wrong_geometry', path: `${where}.geometry`, found: brief(geometry) });
      return;
    }
    const properties = isRecord(feature['properties']) ? feature['properties'] : {};
    const kind = kindOf(properties);
    const id = idOf(feature['id'], properties['id'], kind, index);
    const coordinates = geometry['coordinates'];
    const path = `${where}.geometry.coordinates`;
    const isGeometry = (type: string) => {
      if (geometry['type'] === type) return true;
      refusals.push({
        fault: 'wrong_geometry',
        path: `${where}.geometry.type`,
        found: brief(geometry['type']),
      });
      return false;
    };
    const number = (name: string): number | undefined => {
      const value = properties[name];
      if (typeof value === 'number' && Number.isFinite(value)) return value;
      refusals.push({
        fault: 'missing_property',
        path: `${where}.properties.${name}`,
        found: brief(value),
      });
      return undefined;
    };
    const rings = (): readonly Outline[] =>
      Array.isArray(coordinates)
        ? coordinates.map((value: unknown, at) => ring(value, `${path}[${at}]`))
        : [];

    const hard = HARD_SURFACES.find((known) => known === kind);
    const planting = PLANTINGS.find((known) => known === kind);
    const concern = CONCERNS.find((known) => known === kind);
    if (kind === 'structure') {
      if (!isGeometry('Polygon')) return;
      const [outline = [], ...holes] = rings();
      const name = typeof properties['name'] === 'string' ? properties['name'] : '';
      const foundation = FOUNDATIONS.find((known) => known === properties['foundation']) ?? 'unknown';
      structures.push({ id, name, foundation, outline, holes });
    } else if (hard !== undefined) {
      if (isGeometry('Polygon')) hardSurfaces.push({ id, kind: hard, outline: rings()[0] ?? [] });
    } else if (planting !== undefined) {
      if (isGeometry('Polygon')) plantings.push({ id, kind: planting, outline: rings()[0] ?? [] });
    } else if (kind === 'treated_soil') {
      if (isGeometry('Polygon')) keepOuts.push({ id, kind, outline: rings()[0] ?? [] });
    } else if (kind === 'utility_line') {
      const clearance = number('clearanceMetres');
      if (!isGeometry('LineString') || clearance === undefined) return;
      keepOuts.push({ id, kind, path: points(coordinates, path), clearanceMetres: metres(clearance) });
    } else if (kind === 'fence') {
      if (isGeometry('LineString')) fences.push({ id, path: points(coordinates, path) });
    } else if (kind === 'well' || kind === 'drain') {
      const clearance = number('clearanceMetres');
      const at = isGeometry('Point') ? point(coordinates, path) : undefined;
      if (at !== undefined && clearance !== undefined) {
        keepOuts.push({ id, kind, at, clearanceMetres: metres(clearance) });
      }
    } else if (concern !== undefined) {
      const at = isGeometry('Point') ? point(coordinates, path) : undefined;
      const note = properties['note'];
      if (at !== undefined)
        concerns.push({ id, kind: concern, at, ...(typeof note === 'string' ? { note } : {}) });
    } else if (kind === 'gate') {
      const width = number('widthMetres');
      const at = isGeometry('Point') ? point(coordinates, path) : undefined;
      if (at !== undefined && width !== undefined) gates.push({ id, at, widthMetres: metres(width) });
    } else if (kind === 'station') {
      const numbered = number('number');
      const at = isGeometry('Point') ? point(coordinates, path) : undefined;
      const structureId = properties['structure'];
      if (at !== undefined && numbered !== undefined)
        stations.push({
          id,
          number: numbered,
          at,
          ...(typeof structureId === 'string' ? { structureId } : {}),
        });
    } else if (kind === 'parking') {
      if (isGeometry('Point')) parking = point(coordinates, path);
    } else {
      refusals.push({ fault: 'unknown_kind', path: `${where}.properties.kind`, found: kind });
    }
  }

  return {
    refusals,
    read,
    finish: (): Site => ({
      ...EMPTY_SITE,
      structures,
      hardSurfaces,
      keepOuts,
      plantings,
      concerns,
      fences,
      gates,
      stations,
      parking,
    }),
  };
}

function parse(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

function isRecord(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function kindOf(properties: Readonly<Record<string, unknown>>): string {
  const kind = properties['kind'];
  if (typeof kind === 'string') return kind;
  return properties['building'] === undefined ? '' : 'structure';
}

function idOf(id: unknown, other: unknown, kind: string, index: number): string {
  for (const value of [id, other]) {
    if (typeof value === 'string' && value !== '') return value;
    if (typeof value === 'number') return String(value);
  }
  return `${kind}-${index + 1}`;
}

function originOf(value: unknown): Georeference | undefined {
  if (!Array.isArray(value)) return undefined;
  const [longitude, latitude]: readonly unknown[] = value;
  if (typeof longitude !== 'number' || typeof latitude !== 'number') return undefined;
  const isInRange = Math.abs(longitude) <= 180 && Math.abs(latitude) <= 90;
  return isInRange ? { longitude, latitude } : undefined;
}

function firstPosition(value: unknown): Georeference | undefined {
  const here = originOf(value);
  if (here !== undefined) return here;
  const inner: readonly unknown[] = Array.isArray(value)
    ? value
    : isRecord(value)
      ? [value['geometry'], value['coordinates']]
      : [];
  for (const part of inner) {
    const found = firstPosition(part);
    if (found !== undefined) return found;
  }
  return undefined;
}

function brief(value: unknown): string {
  return (JSON.stringify(value) ?? String(value)).slice(0, 60);
}
