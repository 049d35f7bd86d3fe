import {
  bringIn,
  type EditResult,
  FARTHEST_FROM_ORIGIN_METRES,
  type GeoJsonRefusal,
  type Georeference,
  listThings,
  movedSite,
  ringsOf,
  type Site,
  siteFromGeoJson,
  tangentPlane,
} from '@sillwatch/ring';

/** As the server takes a drawing. */
export const MOST_FILE_BYTES = 2 * 1024 * 1024;

/** A feature of a file, to be chosen by what it is called. */
export interface ListedFeature {
  readonly index: number;
  readonly name: string;
  /** Its first position; undefined where it has none. */
  readonly at: Georeference | undefined;
}

export type ImportResult =
  | { readonly ok: true; readonly result: Extract<EditResult, { ok: true }> }
  | { readonly ok: false; readonly refusals: readonly GeoJsonRefusal[] }
  | { readonly ok: false; readonly why: 'far' | 'no place' | 'nothing changes' };

/** A structure without a name gets one: every record of a structure has it. */
export interface Naming {
  readonly newId: () => string;
  readonly unnamed: string;
}

/** Names of the features, in the order of the file; empty where the file is no collection, which reading it will tell. */
export function listFeatures(text: string): readonly ListedFeature[] {
  return featuresOf(text).map((feature, index) => {
    const properties = isRecord(feature) && isRecord(feature['properties']) ? feature['properties'] : {};
    const words = ['name', 'kind', 'building', 'addr:housenumber', 'addr:street'].flatMap((key) => {
      const value = properties[key];
      // `building=yes` is how open maps say no more than that it is one.
      return typeof value === 'string' && value !== '' && value !== 'yes' ? [value] : [];
    });
    const id = isRecord(feature) ? feature['id'] : undefined;
    const named = typeof id === 'string' || typeof id === 'number' ? [String(id)] : [];
    const at = isRecord(feature) ? firstPosition(feature['geometry']) : undefined;
    return { index, name: [...words, ...named].join(', '), at };
  });
}

/** Whether the file is one drawing, and not a map of a neighbourhood: it says so by its member `site`, as drawings are written. */
export function isOneDrawing(text: string): boolean {
  const json = parse(text);
  return isRecord(json) && isRecord(json['site']);
}

/**
 * The chosen features of a GeoJSON text brought in beside what is drawn, moved to the drawing's own plane. Refusals name the
 * feature by its place in the whole file.
 */
export function importFeatures(
  site: Site,
  text: string,
  chosen: ReadonlySet<number>,
  { newId, unnamed }: Naming,
): ImportResult {
  const features = featuresOf(text);
  const isPart = features.length > 0 && chosen.size < features.length;
  const indices = [...features.keys()].filter((index) => chosen.has(index));
  const read = siteFromGeoJson(isPart ? withFeatures(text, indices) : text);
  if (!read.ok)
    return {
      ok: false,
      refusals: isPart ? read.refusals.map((one) => inWhole(one, indices)) : read.refusals,
    };
  const moved = onPlaneOf(site, {
    ...read.site,
    structures: read.site.structures.map((one) => (one.name === '' ? { ...one, name: unnamed } : one)),
  });
  if (moved === undefined) return { ok: false, why: 'no place' };
  const isFar = listThings(moved).some((thing) =>
    ringsOf(thing).some(({ points }) =>
      points.some(({ x, y }) => Math.hypot(x, y) > FARTHEST_FROM_ORIGIN_METRES),
    ),
  );
  if (isFar) return { ok: false, why: 'far' };
  const result = bringIn(site, moved, newId);
  if (!result.ok) return { ok: false, why: 'nothing changes' };
  return { ok: true, result };
}

/** Undefined where the drawing lies nowhere in particular, has something on it, and the file lies on the earth. */
function onPlaneOf(site: Site, other: Site): Site | undefined {
  const from = other.georeference;
  const to = site.georeference;
  if (from === undefined) return other;
  if (to === undefined) return listThings(site).length === 0 ? other : undefined;
  const away = tangentPlane(from);
  const own = tangentPlane(to);
  return movedSite(other, (at) => {
    const { longitude, latitude } = away.toDegrees(at);
    return own.toMetres(longitude, latitude);
  });
}

/** Nearest to the drawing first, where it lies on the earth; else in the order of the file. */
export function nearestFirst(
  features: readonly ListedFeature[],
  to: Georeference | undefined,
): readonly ListedFeature[] {
  if (to === undefined) return features;
  const plane = tangentPlane(to);
  const away = ({ at }: ListedFeature) => {
    if (at === undefined) return Number.POSITIVE_INFINITY;
    const { x, y } = plane.toMetres(at.longitude, at.latitude);
    return Math.hypot(x, y);
  };
  return features.toSorted((a, b) => away(a) - away(b));
}

function firstPosition(value: unknown): Georeference | undefined {
  const inner: unknown = isRecord(value) ? value['coordinates'] : value;
  if (!Array.isArray(inner)) return undefined;
  const [longitude, latitude]: readonly unknown[] = inner;
  if (typeof longitude === 'number' && typeof latitude === 'number') return { longitude, latitude };
  return firstPosition(longitude);
}

function featuresOf(text: string): readonly unknown[] {
  const json = parse(text);
  const features = isRecord(json) ? json['features'] : undefined;
  return Array.isArray(features) ? features : [];
}

function withFeatures(text: string, indices: readonly number[]): string {
  const json = parse(text);
  const features = featuresOf(text);
  return JSON.stringify({
    ...(isRecord(json) ? json : {}),
    features: indices.map((index) => features[index]),
  });
}

function inWhole(refusal: GeoJsonRefusal, indices: readonly number[]): GeoJsonRefusal {
  const path = refusal.path.replace(
    /^features\[(\d+)\]/,
    (_, index: string) => `features[${indices[Number(index)] ?? index}]`,
  );
  return { ...refusal, path };
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
