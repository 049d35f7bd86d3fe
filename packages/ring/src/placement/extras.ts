import type { Concern, Point, Site } from '../site/model.ts';
import { distance, isInside } from '../site/plane.ts';
import { type Forbidden, isForbiddenAt } from './forbidden.ts';
import { type Ground, placeAt } from './ground.ts';
import type { RingRules } from './model.ts';
import { type ClosedPath, nearestOn, pointAt, wallDistance } from './stationLine.ts';

/** Places for extra stations are looked for this far apart along the lines, metres. */
const STEP_METRES = 0.1;
const DIRECTIONS = 16;

export interface ExtraPlace {
  readonly at: Point;
  readonly line: number | undefined;
  readonly alongMetres: number;
  readonly setbackMetres: number;
  readonly concernId: string;
}

/**
 * Extra stations so that every point of concern has a station within the profile's distance: on a station line
 * where one comes near enough, else on free ground beside the point. Each place is the one that serves most
 * points still unserved, and of those the nearest.
 */
export function placeExtras(
  site: Site,
  rules: RingRules,
  lines: readonly ClosedPath[],
  grounds: readonly Ground[],
  walls: readonly ClosedPath[],
  forbidden: readonly Forbidden[],
  setbackMetres: number,
  placed: readonly Point[],
): { readonly extras: readonly ExtraPlace[]; readonly outOfReach: readonly Concern[] } {
  const reach = rules.concernDistanceMetres;
  const extras: ExtraPlace[] = [];
  const outOfReach: Concern[] = [];
  const isServed = (concern: Concern) =>
    [...placed, ...extras.map(({ at }) => at)].some((at) => distance(at, concern.at) <= reach + 1e-6);
  for (const concern of site.concerns) {
    if (isServed(concern)) continue;
    const unserved = site.concerns.filter((other) => !isServed(other));
    const onLines = listOnLines(concern, reach, lines, grounds, walls, setbackMetres);
    const places = onLines.length > 0 ? onLines : listBeside(concern, reach, rules, walls, forbidden);
    const serves = (at: Point) => unserved.filter((other) => distance(at, other.at) <= reach).length;
    const best = places
      .map((place) => ({ place, served: serves(place.at), away: distance(place.at, concern.at) }))
      .toSorted((a, b) => b.served - a.served || a.away - b.away)[0];
    if (best === undefined) outOfReach.push(concern);
    else extras.push(best.place);
  }
  return { extras, outOfReach };
}

function listOnLines(
  concern: Concern,
  reach: number,
  lines: readonly ClosedPath[],
  grounds: readonly Ground[],
  walls: readonly ClosedPath[],
  setbackMetres: number,
): readonly ExtraPlace[] {
  return lines.flatMap((line, index) => {
    const ground = grounds[index];
    const nearest = nearestOn(line, concern.at);
    if (ground === undefined || nearest.distanceMetres > reach + setbackMetres) return [];
    return ground.free.flatMap(({ from, to }) => {
      const count = Math.max(1, Math.ceil((to - from) / STEP_METRES));
      const along = Array.from({ length: count + 1 }, (_, step) => from + ((to - from) * step) / count);
      const turns = [0, -line.lengthMetres, line.lengthMetres].map((turn) => nearest.alongMetres + turn);
      along.push(...turns.filter((at) => at >= from && at <= to));
      return along.flatMap((alongMetres) => {
        if (distance(pointAt(line, alongMetres), concern.at) > reach + setbackMetres) return [];
        const { at } = placeAt(line, ground, alongMetres);
        const place = {
          at,
          line: index,
          alongMetres,
          setbackMetres: wallDistance(walls, at),
          concernId: concern.id,
        };
        return distance(at, concern.at) <= reach ? [place] : [];
      });
    });
  });
}

function listBeside(
  concern: Concern,
  reach: number,
  rules: RingRules,
  walls: readonly ClosedPath[],
  forbidden: readonly Forbidden[],
): readonly ExtraPlace[] {
  const rings = walls.map(({ points }) => points);
  const radii = [0.25, 0.5, 0.75, 1].map((share) => share * Math.min(reach, 2 * share));
  return radii.flatMap((radius) =>
    Array.from({ length: DIRECTIONS }, (_, direction) => {
      const angle = (2 * Math.PI * direction) / DIRECTIONS;
      return {
        x: concern.at.x + radius * Math.cos(angle),
        y: concern.at.y + radius * Math.sin(angle),
      };
    }).flatMap((at) => {
      const wallMetres = wallDistance(walls, at);
      const isFree =
        wallMetres >= rules.setbackMetres.nearest &&
        !isInside(at, rings) &&
        !forbidden.some((ground) => isForbiddenAt(at, ground));
      return isFree
        ? [{ at, line: undefined, alongMetres: 0, setbackMetres: wallMetres, concernId: concern.id }]
        : [];
    }),
  );
}
