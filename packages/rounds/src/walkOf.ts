import { type Point, planWalk, type Site, siteToGround, type Walk, type WalkLeg } from '@sillwatch/ring';
import type { PropertyState } from '@sillwatch/trade';
import { siteOf } from './siteOf.ts';

/** Where a walk begins: where the truck stands, a gate, a station, or a place of one's own (local metres). */
export type WalkStart =
  | { readonly kind: 'parking' }
  | { readonly kind: 'gate'; readonly id: string }
  | { readonly kind: 'station'; readonly id: string }
  | { readonly kind: 'place'; readonly at: Point };

export interface WalkOptions {
  /** Absent = where the truck stands; else the gate with the shortest walk; else the station of the lowest number. */
  readonly from?: WalkStart;
  /** True: back to where it began; false: it ends at the last station. */
  readonly closed: boolean;
}

/** `not drawn`: the station has no place yet, is out of service or unknown here. `no way`: no way leads there on foot. */
export type OffWalkReason = 'not drawn' | 'no way';

export interface PropertyWalk {
  /** Station ids in walking order. */
  readonly order: readonly string[];
  /** From the start on, every bend; local metres. A closed walk has one more leg, back to the start. */
  readonly legs: readonly WalkLeg[];
  readonly lengthMetres: number;
  /** True when no shorter walk exists (up to 15 stations). */
  readonly isExact: boolean;
  /** What it began at, and where that is; null when there was no station to walk to. */
  readonly start: { readonly from: WalkStart; readonly at: Point } | null;
  /** Stations asked for that are not on the walk, by number: look for these by hand. */
  readonly offWalk: readonly { readonly station: string; readonly why: OffWalkReason }[];
}

/** `start` names what the drawing does not hold. */
export class NoSuchStart extends RangeError {
  readonly start: WalkStart;
  constructor(start: WalkStart) {
    super(`the drawing has no such start: ${JSON.stringify(start)}`);
    this.name = 'NoSuchStart';
    this.start = start;
  }
}

/** The same walk for the same drawing, on every machine. */
const SEED = 1;

/**
 * The shortest walk through the stations, round walls, pools and fences and through gates of the property's own drawing.
 * Throws NoSuchStart for a start that the drawing does not hold.
 */
export function walkOf(
  property: PropertyState,
  stations: readonly string[],
  { from, closed }: WalkOptions,
): PropertyWalk {
  const site = siteOf(property);
  const wanted = new Set(stations);
  const stops = site.stations.filter(({ id }) => wanted.has(id));
  const drawn = new Set(stops.map(({ id }) => id));
  const notDrawn = [...wanted].filter((id) => !drawn.has(id));
  const ground = siteToGround(site);
  const walks = listStarts(site, stops, from).map((start) => ({
    start,
    walk: planWalk({ ground, start: start.at, end: closed ? 'start' : 'anywhere', stops, seed: SEED }),
  }));
  const best = walks.reduce<(typeof walks)[number] | undefined>(
    (least, one) => (least === undefined || isShorter(one.walk, least.walk) ? one : least),
    undefined,
  );
  const numbers = new Map(property.stations.map(({ station, number }) => [station, number]));
  const numberOf = (id: string): number => numbers.get(id) ?? Number.POSITIVE_INFINITY;
  const offWalk = [
    ...notDrawn.map((station) => ({ station, why: 'not drawn' }) as const),
    ...(best?.walk.unreachable ?? []).map((station) => ({ station, why: 'no way' }) as const),
  ].toSorted((a, b) => compare(numberOf(a.station), numberOf(b.station)) || compare(a.station, b.station));
  return {
    order: best?.walk.order ?? [],
    legs: best?.walk.legs ?? [],
    lengthMetres: best?.walk.lengthMetres ?? 0,
    isExact: best?.walk.isExact ?? true,
    start: best?.start ?? null,
    offWalk,
  };
}

type Start = NonNullable<PropertyWalk['start']>;

/** More than one only where the walk may begin at any gate: the shortest is taken. */
function listStarts(site: Site, stops: Site['stations'], from: WalkStart | undefined): readonly Start[] {
  if (from !== undefined) return [{ from, at: findStart(site, from) }];
  if (stops.length === 0) return [];
  if (site.parking !== undefined) return [{ from: { kind: 'parking' }, at: site.parking }];
  if (site.gates.length > 0)
    return site.gates.map(({ id, at }): Start => ({ from: { kind: 'gate', id }, at }));
  const first = stops.reduce((least, one) => (one.number < least.number ? one : least));
  return [{ from: { kind: 'station', id: first.id }, at: first.at }];
}

function findStart(site: Site, from: WalkStart): Point {
  switch (from.kind) {
    case 'parking':
      if (site.parking !== undefined) return site.parking;
      break;
    case 'gate': {
      const gate = site.gates.find(({ id }) => id === from.id);
      if (gate !== undefined) return gate.at;
      break;
    }
    case 'station': {
      const station = site.stations.find(({ id }) => id === from.id);
      if (station !== undefined) return station.at;
      break;
    }
    case 'place':
      return from.at;
  }
  throw new NoSuchStart(from);
}

/** A walk that reaches more stations comes first. */
function isShorter(one: Walk, other: Walk): boolean {
  return (
    compare(one.unreachable.length, other.unreachable.length) < 0 ||
    (one.unreachable.length === other.unreachable.length && one.lengthMetres < other.lengthMetres - 1e-9)
  );
}

/** Sorts with infinities: their difference is not a number. */
function compare<T extends number | string>(a: T, b: T): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
