import type { Place, TravelSource } from '@sillwatch/trade';

/** How long and how far it is between the places of one plan, by their numbers. The same question has the same answer. */
export interface PlaceTravel {
  readonly source: TravelSource;
  /** Whole seconds. */
  readonly seconds: (from: number, to: number) => number;
  readonly metres: (from: number, to: number) => number;
  /** No leg takes more seconds, and none is longer. */
  readonly mostSeconds: number;
  readonly mostMetres: number;
}

/** Travel between these places: what a plan asks for before it is built (`listPlanPlaces` gives them beforehand). */
export type TravelOf = (places: readonly Place[]) => PlaceTravel;

export interface GreatCircleSettings {
  /** Roads are longer than the straight line by this factor. Common practice for towns: 1.2 to 1.4. */
  readonly detour: number;
  readonly metresPerSecond: number;
  /** Parking, opening the gate: added to every leg between two places. */
  readonly stopSeconds: number;
}

export const GREAT_CIRCLE: GreatCircleSettings = { detour: 1.3, metresPerSecond: 12, stopSeconds: 60 };

/** Mean radius of the Earth, IUGG (Moritz 2000, Geodetic Reference System 1980). */
const EARTH_RADIUS_METRES = 6_371_008.8;
const RADIANS = Math.PI / 180;

/** Metres along the great circle by the haversine formula (Sinnott 1984), which stays exact for near places. */
export function greatCircleMetres(a: Place, b: Place): number {
  const north = Math.sin(((b.latitude - a.latitude) * RADIANS) / 2);
  const east = Math.sin(((b.longitude - a.longitude) * RADIANS) / 2);
  const h = north * north + Math.cos(a.latitude * RADIANS) * Math.cos(b.latitude * RADIANS) * east * east;
  return 2 * EARTH_RADIUS_METRES * Math.asin(Math.min(1, Math.sqrt(h)));
}

/** Travel without any map: great circle x detour at one speed. Offline, the same both ways. */
export function greatCircleTravel(settings: GreatCircleSettings = GREAT_CIRCLE): TravelOf {
  const { detour, metresPerSecond, stopSeconds } = settings;
  return (places) => {
    const metres = createMetres(places, detour);
    const secondsFor = (length: number): number =>
      length === 0 ? 0 : stopSeconds + Math.round(length / metresPerSecond);
    const mostMetres = Math.ceil(detour * spanMetres(places));
    return {
      source: 'great circle',
      metres,
      seconds: (from, to) => secondsFor(metres(from, to)),
      mostMetres,
      mostSeconds: secondsFor(mostMetres) + 1,
    };
  };
}

/**
 * Flat metres east and north of the middle of the places (equirectangular): only to find which places are near each
 * other, so that its small error far from the middle does not matter.
 */
export function flatten(places: readonly Place[]): { readonly x: Float64Array; readonly y: Float64Array } {
  const middle = places.reduce((sum, { latitude }) => sum + latitude, 0) / Math.max(1, places.length);
  const metresPerDegree = EARTH_RADIUS_METRES * RADIANS;
  const shrink = Math.cos(middle * RADIANS);
  return {
    x: Float64Array.from(places, ({ longitude }) => longitude * metresPerDegree * shrink),
    y: Float64Array.from(places, ({ latitude }) => latitude * metresPerDegree),
  };
}

/** A length that no pair of places exceeds: along the corners of the box round them, never more than half the Earth. */
function spanMetres(places: readonly Place[]): number {
  let south = 90;
  let north = -90;
  let west = 180;
  let east = -180;
  for (const { latitude, longitude } of places) {
    south = Math.min(south, latitude);
    north = Math.max(north, latitude);
    west = Math.min(west, longitude);
    east = Math.max(east, longitude);
  }
  if (north < south) return 0;
  const widest = south <= 0 && north >= 0 ? 0 : Math.min(Math.abs(south), Math.abs(north));
  const alongNorth = (north - south) * RADIANS * EARTH_RADIUS_METRES;
  const alongEast = (east - west) * RADIANS * EARTH_RADIUS_METRES * Math.cos(widest * RADIANS);
  return Math.min(Math.PI * EARTH_RADIUS_METRES, alongNorth + alongEast);
}

/** As greatCircleMetres, by the chord between points on the sphere: three times as fast where millions of pairs are asked. */
function createMetres(places: readonly Place[], detour: number): (from: number, to: number) => number {
  const points = new Float64Array(3 * places.length);
  places.forEach(({ latitude, longitude }, p) => {
    const shrink = Math.cos(latitude * RADIANS);
    points[3 * p] = shrink * Math.cos(longitude * RADIANS);
    points[3 * p + 1] = shrink * Math.sin(longitude * RADIANS);
    points[3 * p + 2] = Math.sin(latitude * RADIANS);
  });
  const away = 2 * EARTH_RADIUS_METRES * detour;
  return (from, to) => {
    if (!(from >= 0 && from < places.length && to >= 0 && to < places.length))
      throw new RangeError(`place ${from} or ${to} is not 0 to ${places.length - 1}`);
    const x = (points[3 * from] ?? 0) - (points[3 * to] ?? 0);
    const y = (points[3 * from + 1] ?? 0) - (points[3 * to + 1] ?? 0);
    const z = (points[3 * from + 2] ?? 0) - (points[3 * to + 2] ?? 0);
    return Math.round(away * Math.asin(Math.min(1, Math.sqrt(x * x + y * y + z * z) / 2)));
  };
}
