import type { Point, Site } from '../site/model.ts';
import { distance } from '../site/plane.ts';
import { placeAt } from './ground.ts';
import type { RingRules } from './model.ts';
import { checkRules, survey } from './proposeStations.ts';
import { nearestOn } from './stationLine.ts';

/** Stations closer together than this stand in one another's way, metres (common practice, no source). */
const ELBOW_ROOM_METRES = 0.3;

export interface AuxiliaryRequest {
  readonly stationId: string;
  /** Stations wanted on each side of the hit, from the label profile; 0 or more. */
  readonly perSide: number;
  /** From the hit to the first, and from one to the next, along the station line; more than 0. */
  readonly apartMetres: number;
}

export type AuxiliaryResult =
  | {
      readonly ok: true;
      readonly places: readonly Point[] /** Wanted, but the ground takes none. */;
      readonly missing: number;
    }
  | { readonly ok: false; readonly fault: 'no_such_station' | 'far_from_every_line' };

/**
 * Where auxiliary stations go beside a hit: on the station line, `perSide` on either side, at the wanted distance or as
 * near to it as free ground lets them, clear of the stations that stand. Throws a RangeError for a request out of range.
 */
export function placeAuxiliaries(site: Site, rules: RingRules, request: AuxiliaryRequest): AuxiliaryResult {
  checkRules(rules);
  const { perSide, apartMetres } = request;
  if (!Number.isInteger(perSide) || perSide < 0 || !(apartMetres > ELBOW_ROOM_METRES)) {
    throw new RangeError(`${perSide} auxiliary stations ${apartMetres} m apart: whole numbers, over 0.3 m`);
  }
  const hit = site.stations.find(({ id }) => id === request.stationId);
  if (hit === undefined) return { ok: false, fault: 'no_such_station' };
  const around = survey(site, rules);
  const home = around.lines
    .map((line, index) => ({ line, ground: around.grounds[index], ...nearestOn(line, hit.at) }))
    .toSorted((a, b) => a.distanceMetres - b.distanceMetres)[0];
  if (home?.ground === undefined || home.distanceMetres > rules.greatestSpacingMetres / 2) {
    return { ok: false, fault: 'far_from_every_line' };
  }
  const { line, ground, alongMetres } = home;
  const places: Point[] = [];
  let missing = 0;
  for (let step = 1; step <= perSide; step++) {
    for (const side of [-1, 1]) {
      const wanted = alongMetres + side * step * apartMetres;
      const nearest = ground.free
        .flatMap(({ from, to }) =>
          [-line.lengthMetres, 0, line.lengthMetres].map((turn) =>
            Math.min(to + turn, Math.max(from + turn, wanted)),
          ),
        )
        .filter((at) => Math.abs(at - wanted) < apartMetres / 2)
        .toSorted((a, b) => Math.abs(a - wanted) - Math.abs(b - wanted))
        .map((at) => placeAt(line, ground, at).at)
        .find((at) =>
          [...places, ...site.stations.map((station) => station.at)].every(
            (other) => distance(other, at) >= ELBOW_ROOM_METRES,
          ),
        );
      if (nearest === undefined) missing++;
      else places.push(nearest);
    }
  }
  return { ok: true, places, missing };
}
