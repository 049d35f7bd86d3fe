import type { Path, Point, Site } from '../site/model.ts';

/** The lists of a site in the order in which they are told, and the one thing without a list. */
export const LAYERS = [
  'structures',
  'hardSurfaces',
  'keepOuts',
  'plantings',
  'concerns',
  'fences',
  'gates',
  'stations',
  'parking',
] as const;
export type Layer = (typeof LAYERS)[number];
type ListLayer = Exclude<Layer, 'parking'>;

export interface Parking {
  readonly id: typeof PARKING_ID;
  readonly at: Point;
}
/** The one thing on a drawing without an id of its own. */
export const PARKING_ID = 'parking';

/** One thing on a drawing, with the list in which it stands. */
export type Thing =
  | { readonly [L in ListLayer]: { readonly layer: L; readonly value: Site[L][number] } }[ListLayer]
  | { readonly layer: 'parking'; readonly value: Parking };

/** The corners of a thing: closed round an outline, open along a path, one alone where it is a place. */
export interface Ring {
  readonly points: readonly Point[];
  readonly isClosed: boolean;
}

export function listThings(site: Site): readonly Thing[] {
  return [
    ...site.structures.map((value): Thing => ({ layer: 'structures', value })),
    ...site.hardSurfaces.map((value): Thing => ({ layer: 'hardSurfaces', value })),
    ...site.keepOuts.map((value): Thing => ({ layer: 'keepOuts', value })),
    ...site.plantings.map((value): Thing => ({ layer: 'plantings', value })),
    ...site.concerns.map((value): Thing => ({ layer: 'concerns', value })),
    ...site.fences.map((value): Thing => ({ layer: 'fences', value })),
    ...site.gates.map((value): Thing => ({ layer: 'gates', value })),
    ...site.stations.map((value): Thing => ({ layer: 'stations', value })),
    ...(site.parking === undefined
      ? []
      : [{ layer: 'parking', value: { id: PARKING_ID, at: site.parking } } as const]),
  ];
}

export function findThing(site: Site, id: string): Thing | undefined {
  return listThings(site).find(({ value }) => value.id === id);
}

/** The site with the thing in place of the one of its id, or after the others of its list. */
export function putThing(site: Site, thing: Thing): Site {
  switch (thing.layer) {
    case 'structures':
      return { ...site, structures: put(site.structures, thing.value) };
    case 'hardSurfaces':
      return { ...site, hardSurfaces: put(site.hardSurfaces, thing.value) };
    case 'keepOuts':
      return { ...site, keepOuts: put(site.keepOuts, thing.value) };
    case 'plantings':
      return { ...site, plantings: put(site.plantings, thing.value) };
    case 'concerns':
      return { ...site, concerns: put(site.concerns, thing.value) };
    case 'fences':
      return { ...site, fences: put(site.fences, thing.value) };
    case 'gates':
      return { ...site, gates: put(site.gates, thing.value) };
    case 'stations':
      return { ...site, stations: put(site.stations, thing.value) };
    case 'parking':
      return { ...site, parking: thing.value.at };
  }
}

function put<T extends { readonly id: string }>(list: readonly T[], value: T): readonly T[] {
  return list.some(({ id }) => id === value.id)
    ? list.map((one) => (one.id === value.id ? value : one))
    : [...list, value];
}

export function takeThing(site: Site, id: string): Site {
  const others = (one: { readonly id: string }) => one.id !== id;
  return {
    ...site,
    structures: site.structures.filter(others),
    hardSurfaces: site.hardSurfaces.filter(others),
    keepOuts: site.keepOuts.filter(others),
    plantings: site.plantings.filter(others),
    concerns: site.concerns.filter(others),
    fences: site.fences.filter(others),
    gates: site.gates.filter(others),
    stations: site.stations.filter(others),
    parking: id === PARKING_ID ? undefined : site.parking,
  };
}

/** The outline first, then the courtyards. */
export function ringsOf(thing: Thing): readonly Ring[] {
  switch (thing.layer) {
    case 'structures':
      return [thing.value.outline, ...thing.value.holes].map(closed);
    case 'hardSurfaces':
    case 'plantings':
      return [closed(thing.value.outline)];
    case 'fences':
      return [open(thing.value.path)];
    case 'concerns':
    case 'gates':
    case 'stations':
    case 'parking':
      return [open([thing.value.at])];
    case 'keepOuts':
      switch (thing.value.kind) {
        case 'utility_line':
          return [open(thing.value.path)];
        case 'well':
        case 'drain':
          return [open([thing.value.at])];
        case 'treated_soil':
          return [closed(thing.value.outline)];
      }
  }
}

function closed(points: readonly Point[]): Ring {
  return { points, isClosed: true };
}

function open(points: readonly Point[]): Ring {
  return { points, isClosed: false };
}

/** The thing with other corners, as many rings as it had; a place takes the first corner. A ring left out empties it. */
export function withRings(thing: Thing, rings: readonly Path[]): Thing {
  const [first = [], ...others] = rings;
  const at = first[0];
  switch (thing.layer) {
    case 'structures':
      return { ...thing, value: { ...thing.value, outline: first, holes: others } };
    case 'hardSurfaces':
      return { ...thing, value: { ...thing.value, outline: first } };
    case 'plantings':
      return { ...thing, value: { ...thing.value, outline: first } };
    case 'fences':
      return { ...thing, value: { ...thing.value, path: first } };
    case 'concerns':
      return { ...thing, value: { ...thing.value, at: at ?? thing.value.at } };
    case 'gates':
      return { ...thing, value: { ...thing.value, at: at ?? thing.value.at } };
    case 'stations':
      return { ...thing, value: { ...thing.value, at: at ?? thing.value.at } };
    case 'parking':
      return { ...thing, value: { ...thing.value, at: at ?? thing.value.at } };
    case 'keepOuts':
      switch (thing.value.kind) {
        case 'utility_line':
          return { ...thing, value: { ...thing.value, path: first } };
        case 'well':
        case 'drain':
          return { ...thing, value: { ...thing.value, at: at ?? thing.value.at } };
        case 'treated_soil':
          return { ...thing, value: { ...thing.value, outline: first } };
      }
  }
}

export function mapPoints(thing: Thing, move: (at: Point) => Point): Thing {
  return withRings(
    thing,
    ringsOf(thing).map(({ points }) => points.map(move)),
  );
}

/** Every corner and place of the site moved by one rule: another plane, a turn, a shift. Its georeference stays as it is. */
export function movedSite(site: Site, move: (at: Point) => Point): Site {
  return listThings(site).reduce((moved, thing) => putThing(moved, mapPoints(thing, move)), site);
}
