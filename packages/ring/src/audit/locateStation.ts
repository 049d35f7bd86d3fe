import { listFeet } from '../placement/feet.ts';
import { placeAt } from '../placement/ground.ts';
import type { Interval } from '../placement/intervals.ts';
import type { RingRules } from '../placement/model.ts';
import type { Survey } from '../placement/proposeStations.ts';
import { nearestOn, wallDistance } from '../placement/stationLine.ts';
import type { Point, Station } from '../site/model.ts';
import { distance } from '../site/plane.ts';

/** A station may stray by this much from the setback band or from its place before the audit speaks, metres (a tape's slack). */
export const BAND_TOLERANCE_METRES = 0.05;

const SAME_METRES = 1e-6;

export interface LinePosition {
  readonly line: number;
  readonly alongMetres: number;
}

export interface Located {
  readonly stationId: string;
  readonly wallMetres: number;
  readonly setback: 'in_band' | 'too_close' | 'too_far';
  /** What the station guards from, the best first; none where it stands too far from the wall to guard any line. */
  readonly positions: readonly LinePosition[];
}

/**
 * How far a station stands from the wall, and before which positions on the lines. Off a line, past a patio in a notch, two
 * parts of it may be about as near: a station guards from the free position nearest to it and from each whose place, as
 * a proposal sets it, it stands on. Where there is none, the nearest point of the lines counts.
 */
export function locateStation(station: Station, around: Survey, rules: RingRules): Located {
  const { nearest, farthest } = rules.setbackMetres;
  const wallMetres = wallDistance(around.walls, station.at);
  const setback =
    wallMetres < nearest - BAND_TOLERANCE_METRES
      ? 'too_close'
      : wallMetres > farthest + BAND_TOLERANCE_METRES
        ? 'too_far'
        : 'in_band';
  const reach = (farthest - nearest) / 2 + 2 * BAND_TOLERANCE_METRES;
  return { stationId: station.id, wallMetres, setback, positions: listPositions(station.at, around, reach) };
}

function listPositions(at: Point, { lines, grounds }: Survey, reach: number): readonly LinePosition[] {
  const beside = lines
    .map((path, line) => ({ line, path, ground: grounds[line], ...nearestOn(path, at) }))
    .filter(({ distanceMetres }) => distanceMetres <= reach)
    .toSorted((a, b) => a.distanceMetres - b.distanceMetres);
  const [nearest] = beside;
  if (nearest === undefined) return [];
  const guarding = beside.flatMap(({ line, path, ground }) => {
    if (ground === undefined) return [];
    return listFeet(path, at, reach).flatMap(({ alongMetres, shiftMetres }) => {
      const [place] = listFreeBy(ground.free, alongMetres, path.lengthMetres)
        .map(({ free, offMetres }) => ({ away: distance(placeAt(path, ground, free).at, at), offMetres }))
        .toSorted((a, b) => a.away - b.away);
      if (place === undefined) return [];
      const isNearest = Math.abs(shiftMetres) <= nearest.distanceMetres + SAME_METRES;
      if (!isNearest && place.away > BAND_TOLERANCE_METRES) return [];
      return [{ line, alongMetres, away: place.away + place.offMetres }];
    });
  });
  const positions = guarding.length > 0 ? guarding.toSorted((a, b) => a.away - b.away) : [nearest];
  return positions.map(({ line, alongMetres }) => ({ line, alongMetres }));
}

/**
 * The position itself where the ground is free within the slack, and the ends of free ground within the slack: beside
 * ground whose edge runs square to the line a station's place moves far within a hair of the end.
 */
function listFreeBy(
  free: readonly Interval[],
  alongMetres: number,
  turn: number,
): readonly { readonly free: number; readonly offMetres: number }[] {
  return [0, -turn, turn].flatMap((shift) =>
    free.flatMap(({ from, to }) => {
      const at = alongMetres + shift;
      if (at < from - BAND_TOLERANCE_METRES || at > to + BAND_TOLERANCE_METRES) return [];
      return [at, from, to]
        .map((position) => ({ free: position, offMetres: Math.abs(position - at) }))
        .filter(({ offMetres }) => offMetres <= BAND_TOLERANCE_METRES);
    }),
  );
}
