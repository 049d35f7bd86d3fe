import type { Outline, Point, Site } from '../site/model.ts';
import { distanceToSegment, edgesOf, isInside } from '../site/plane.ts';
import { accept, type EditResult, refuse } from './edit.ts';
import { faultOfPlace } from './reshape.ts';
import { findThing, listThings, ringsOf, type Thing } from './things.ts';

/** A thing that was not on the drawing; the parking may be drawn again, there is one. */
export function drawThing(site: Site, thing: Thing): EditResult {
  const fault = faultOf(thing);
  if (fault !== undefined) return refuse(fault);
  if (thing.layer !== 'parking' && findThing(site, thing.value.id) !== undefined)
    return refuse('same id twice');
  return accept({ deed: 'drawn', put: [thing] });
}

/** What is written of a thing: its name, kind, number, width, clearance, note. Its list stays. */
export function describeThing(site: Site, thing: Thing): EditResult {
  const before = findThing(site, thing.value.id);
  if (before === undefined || before.layer !== thing.layer) return refuse('no such thing');
  const length = lengthOf(thing);
  if (length !== undefined && !(length > 0 && length <= GREATEST_LENGTH_METRES))
    return refuse('length out of range');
  return accept({ deed: 'described', put: [thing] });
}

/** A station in the ground is taken out by whoever takes it out, and a structure stays while stations stand round it. */
export function removeThing(site: Site, id: string, inTheGround: ReadonlySet<string>): EditResult {
  const thing = findThing(site, id);
  if (thing === undefined) return refuse('no such thing');
  if (thing.layer === 'stations' && inTheGround.has(id)) return refuse('in the ground');
  const ring = site.stations.filter(({ structureId }) => structureId === id);
  if (ring.some((station) => inTheGround.has(station.id))) return refuse('stations round it');
  return accept({ deed: 'removed', put: [], take: [id, ...ring.map((station) => station.id)] });
}

export function addCourtyard(site: Site, id: string, outline: Outline): EditResult {
  const thing = findThing(site, id);
  if (thing?.layer !== 'structures') return refuse('no such thing');
  if (outline.length < 3) return refuse('too few corners');
  if (!outline.every((at) => isInside(at, [thing.value.outline]))) return refuse('does not fit');
  const value = { ...thing.value, holes: [...thing.value.holes, outline] };
  return accept({ deed: 'reshaped', put: [{ layer: 'structures', value }] });
}

export interface StationPlace {
  readonly id: string;
  readonly at: Point;
}

/**
 * Stations at these places, numbered on from the last of the ring of the nearest structure. Those that stand are not touched.
 * `numbered`: by structure, the last number of stations that have no place on the drawing.
 */
export function takeOverStations(
  site: Site,
  places: readonly StationPlace[],
  numbered: ReadonlyMap<string, number> = new Map(),
): EditResult {
  if (places.length === 0) return refuse('nothing changes');
  const put: Thing[] = [];
  const last = new Map<string, number>();
  for (const { id, at } of places) {
    const fault = faultOfPlace(at);
    if (fault !== undefined) return refuse(fault);
    const structureId = nearestStructure(site, at)?.id;
    if (structureId === undefined) return refuse('no such thing');
    if (findThing(site, id) !== undefined) return refuse('same id twice');
    const number =
      (last.get(structureId) ?? Math.max(lastNumber(site, structureId), numbered.get(structureId) ?? 0)) + 1;
    last.set(structureId, number);
    put.push({ layer: 'stations', value: { id, number, at, structureId } });
  }
  return accept({ deed: 'stations taken over', put });
}

/** The things of another drawing beside those that are here; whose id is taken here gets one from `newId`. Its stations are left. */
export function bringIn(site: Site, other: Site, newId: () => string): EditResult {
  const taken = new Set(listThings(site).map(({ value }) => value.id));
  const put = listThings(other).flatMap((thing): readonly Thing[] => {
    if (thing.layer === 'stations') return [];
    const isTaken = thing.layer !== 'parking' && taken.has(thing.value.id);
    taken.add(thing.value.id);
    return [isTaken ? withId(thing, newId()) : thing];
  });
  if (put.length === 0) return refuse('nothing changes');
  const fault = put.map(faultOf).find((found) => found !== undefined);
  if (fault !== undefined) return refuse(fault);
  return accept({
    deed: 'brought in',
    put,
    ...(site.georeference === undefined && other.georeference !== undefined
      ? { georeference: other.georeference }
      : {}),
  });
}

/** Of the structure whose wall is nearest; undefined on a site without structures. */
export function nearestStructure(site: Site, at: Point): Site['structures'][number] | undefined {
  let nearest: Site['structures'][number] | undefined;
  let least = Number.POSITIVE_INFINITY;
  for (const structure of site.structures) {
    for (const [a, b] of [structure.outline, ...structure.holes].flatMap(edgesOf)) {
      const away = distanceToSegment(at, a, b);
      if (away >= least) continue;
      least = away;
      nearest = structure;
    }
  }
  return nearest;
}

/** 0 where the ring has no station. */
export function lastNumber(site: Site, structureId: string): number {
  return site.stations
    .filter((station) => station.structureId === undefined || station.structureId === structureId)
    .reduce((most, { number }) => Math.max(most, number), 0);
}

/** No gate is wider, and nothing asks for more clearance: as checkSite holds it. */
const GREATEST_LENGTH_METRES = 100;

function lengthOf(thing: Thing): number | undefined {
  if (thing.layer === 'gates') return thing.value.widthMetres;
  if (thing.layer !== 'keepOuts' || thing.value.kind === 'treated_soil') return undefined;
  return thing.value.clearanceMetres;
}

function faultOf(thing: Thing) {
  const rings = ringsOf(thing);
  const isPath = rings.some(({ isClosed, points }) => isClosed || points.length !== 1);
  const few = rings.some(({ isClosed, points }) => points.length < (isClosed ? 3 : isPath ? 2 : 1));
  if (few) return 'too few corners';
  return rings.flatMap(({ points }) => points.map(faultOfPlace)).find((fault) => fault !== undefined);
}

function withId(thing: Thing, id: string): Thing {
  switch (thing.layer) {
    case 'structures':
      return { ...thing, value: { ...thing.value, id } };
    case 'hardSurfaces':
      return { ...thing, value: { ...thing.value, id } };
    case 'keepOuts':
      return { ...thing, value: { ...thing.value, id } };
    case 'plantings':
      return { ...thing, value: { ...thing.value, id } };
    case 'concerns':
      return { ...thing, value: { ...thing.value, id } };
    case 'fences':
      return { ...thing, value: { ...thing.value, id } };
    case 'gates':
      return { ...thing, value: { ...thing.value, id } };
    case 'stations':
      return { ...thing, value: { ...thing.value, id } };
    case 'parking':
      return thing;
  }
}
