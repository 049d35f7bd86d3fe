import type { Concern, Point, Site } from '../site/model.ts';
import { distance, isInside } from '../site/plane.ts';
import { type Cover, coverExactly } from './cover.ts';
import { type Forbidden, isForbiddenAt } from './forbidden.ts';
import { type Ground, placeAt } from './ground.ts';
import type { RingRules } from './model.ts';
import { type ClosedPath, nearestOn, pointAt, wallDistance } from './stationLine.ts';

/** Places for extra stations are looked for this far apart along the lines, metres. */
const STEP_METRES = 0.1;
/** Where a place begins and ends to be near enough to a point is found to within this, metres. */
const END_METRES = 1e-4;
const DIRECTIONS = 16;
const SHARES = [0.25, 0.5, 0.75, 1] as const;

export interface ExtraPlace {
  readonly at: Point;
  readonly line: number | undefined;
  readonly alongMetres: number;
  readonly setbackMetres: number;
  readonly concernId: string;
}

/** Where a station could stand, not yet for any one point of concern. */
type Place = Omit<ExtraPlace, 'concernId' | 'setbackMetres'>;

/**
 * Extra stations so that every point of concern has a station within the profile's distance, the ring given: the fewest that
 * do, and of those the nearest (least sum of distances from each point to its nearest extra station). On a station line where
 * one comes near enough to the point, else on free ground beside it.
 *
 * On the lines the count is the least there is: which points a place serves changes only where it begins or ceases to be
 * within the distance of one, and every such end is among the places tried. Beside them it is the least over the places tried.
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
  const { places, open, outOfReach } = listExtraPlaces(
    site,
    rules,
    lines,
    grounds,
    walls,
    forbidden,
    setbackMetres,
    placed,
  );
  const chosen = coverExactly(open.length, toCovers(places, open, rules.concernDistanceMetres));
  const extras = chosen.flatMap((index): readonly ExtraPlace[] => {
    const place = places[index];
    if (place === undefined) return [];
    const nearest = open.reduce<Concern | undefined>(
      (best, one) =>
        best === undefined || distance(one.at, place.at) < distance(best.at, place.at) ? one : best,
      undefined,
    );
    return [{ ...place, setbackMetres: wallDistance(walls, place.at), concernId: nearest?.id ?? '' }];
  });
  return { extras, outOfReach };
}

/** The points of concern that the ring leaves without a station, and every place that could serve one of them. */
export function listExtraPlaces(
  site: Site,
  rules: RingRules,
  lines: readonly ClosedPath[],
  grounds: readonly Ground[],
  walls: readonly ClosedPath[],
  forbidden: readonly Forbidden[],
  setbackMetres: number,
  placed: readonly Point[],
): {
  readonly places: readonly Place[];
  readonly open: readonly Concern[];
  readonly outOfReach: readonly Concern[];
} {
  const reach = rules.concernDistanceMetres;
  const unserved = site.concerns.filter(
    (concern) => !placed.some((at) => distance(at, concern.at) <= reach + 1e-6),
  );
  const places: Place[] = [];
  const open: Concern[] = [];
  const outOfReach: Concern[] = [];
  for (const concern of unserved) {
    const onLines = listOnLines(concern, unserved, reach, lines, grounds, setbackMetres);
    const found =
      onLines.length > 0 ? onLines : listBeside(concern, unserved, reach, rules, walls, forbidden);
    if (found.length === 0) outOfReach.push(concern);
    else {
      open.push(concern);
      places.push(...found);
    }
  }
  return { places, open, outOfReach };
}

/** Which points each place serves, and how far away they are. */
export function toCovers(
  places: readonly Place[],
  open: readonly Concern[],
  reach: number,
): readonly Cover[] {
  return places.map(({ at }) => {
    const away = open.map((concern) => distance(at, concern.at));
    return {
      serves: away.flatMap((metres, index) => (metres <= reach + 1e-6 ? [index] : [])),
      costOf: away,
    };
  });
}

function listOnLines(
  concern: Concern,
  unserved: readonly Concern[],
  reach: number,
  lines: readonly ClosedPath[],
  grounds: readonly Ground[],
  setbackMetres: number,
): readonly Place[] {
  // Of the others only those can be served together with this one.
  const others = unserved.filter(({ at }) => distance(at, concern.at) <= 2 * reach + 1e-6);
  return lines.flatMap((line, index) => {
    const ground = grounds[index];
    const nearest = nearestOn(line, concern.at);
    if (ground === undefined || nearest.distanceMetres > reach + setbackMetres) return [];
    const place = (alongMetres: number): Place => ({
      at: placeAt(line, ground, alongMetres).at,
      line: index,
      alongMetres,
    });
    return ground.free.flatMap(({ from, to }) => {
      const count = Math.max(1, Math.ceil((to - from) / STEP_METRES));
      const along = Array.from(
        { length: count + 1 },
        (_, step) => from + ((to - from) * step) / count,
      ).filter((at) => distance(pointAt(line, at), concern.at) <= reach + setbackMetres + STEP_METRES);
      for (const { at } of others) {
        const foot = nearestOn(line, at).alongMetres;
        along.push(
          ...[0, -line.lengthMetres, line.lengthMetres]
            .map((turn) => foot + turn)
            .filter((spot) => spot >= from && spot <= to),
        );
      }
      along.sort((a, b) => a - b);
      const tried = along.map(place);
      const ends = others.flatMap((other) => listEnds(tried, other.at, reach, place));
      return [...tried, ...ends].filter(({ at }) => distance(at, concern.at) <= reach + 1e-6);
    });
  });
}

/** The places at which the distance to a point passes the reach, between neighbours of which one is near enough. */
function listEnds(
  tried: readonly Place[],
  to: Point,
  reach: number,
  placeOf: (alongMetres: number) => Place,
): readonly Place[] {
  return tried.flatMap((after, index) => {
    const before = tried[index - 1];
    if (before === undefined || after.alongMetres - before.alongMetres > 2 * STEP_METRES) return [];
    const isNearBefore = distance(before.at, to) <= reach;
    if (isNearBefore === distance(after.at, to) <= reach) return [];
    let near = isNearBefore ? before : after;
    let far = isNearBefore ? after : before;
    while (Math.abs(far.alongMetres - near.alongMetres) > END_METRES) {
      const middle = placeOf((near.alongMetres + far.alongMetres) / 2);
      if (distance(middle.at, to) <= reach) near = middle;
      else far = middle;
    }
    return [near];
  });
}

/** Rings of places round the point, and where the reaches of two points cross: a disc that serves both touches one. */
function listBeside(
  concern: Concern,
  unserved: readonly Concern[],
  reach: number,
  rules: RingRules,
  walls: readonly ClosedPath[],
  forbidden: readonly Forbidden[],
): readonly Place[] {
  const rings = walls.map(({ points }) => points);
  const round = SHARES.map((share) => share * Math.min(reach, 2 * share)).flatMap((radius) =>
    Array.from({ length: DIRECTIONS }, (_, direction) => {
      const angle = (2 * Math.PI * direction) / DIRECTIONS;
      return {
        x: concern.at.x + radius * Math.cos(angle),
        y: concern.at.y + radius * Math.sin(angle),
      };
    }),
  );
  const near = unserved.filter(({ at }) => distance(at, concern.at) <= 2 * reach);
  const crossings = near.flatMap((one, index) =>
    near
      .slice(index + 1)
      .flatMap((other) => [
        { x: (one.at.x + other.at.x) / 2, y: (one.at.y + other.at.y) / 2 },
        ...circlesCross(one.at, other.at, reach),
      ]),
  );
  return [...round, ...crossings].flatMap((at) => {
    const isFree =
      distance(at, concern.at) <= reach + 1e-6 &&
      wallDistance(walls, at) >= rules.setbackMetres.nearest &&
      !isInside(at, rings) &&
      !forbidden.some((ground) => isForbiddenAt(at, ground));
    return isFree ? [{ at, line: undefined, alongMetres: 0 }] : [];
  });
}

/** A hair inside both reaches, so that rounding puts neither out of reach. */
function circlesCross(a: Point, b: Point, radius: number): readonly Point[] {
  const apart = distance(a, b);
  const own = radius * (1 - 1e-9);
  if (apart === 0 || apart > 2 * own) return [];
  const high = Math.sqrt(own * own - (apart * apart) / 4);
  const x = (b.x - a.x) / apart;
  const y = (b.y - a.y) / apart;
  return [1, -1].map((side) => ({
    x: (a.x + b.x) / 2 - side * y * high,
    y: (a.y + b.y) / 2 + side * x * high,
  }));
}
