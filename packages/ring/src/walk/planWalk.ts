import { buildCosts, type WalkEnd } from './costs.ts';
import { buildGround, type WalkGround } from './ground.ts';
import { findPaths } from './paths.ts';
import { distanceOf, type Point } from './plane.ts';
import { shortestWalk } from './shortestWalk.ts';

/** A place to go to: a station that is due. */
export interface WalkStop {
  readonly id: string;
  readonly at: Point;
}

export interface WalkRequest {
  readonly ground: WalkGround;
  /** gate, door or truck */
  readonly start: Point;
  /** Back at the start, at the last station, or at a place of its own. */
  readonly end: 'start' | 'anywhere' | Point;
  readonly stops: readonly WalkStop[];
  /** Same seed, same walk. */
  readonly seed: number;
}

export interface WalkLeg {
  /** null: the start or the end of the walk */
  readonly from: string | null;
  readonly to: string | null;
  readonly lengthMetres: number;
  /** Every bend on the way, both ends included. */
  readonly points: readonly Point[];
}

export interface Walk {
  /** Ids of the stops in walking order. */
  readonly order: readonly string[];
  readonly legs: readonly WalkLeg[];
  readonly lengthMetres: number;
  /** True when proven shortest. */
  readonly isExact: boolean;
  /** Stops that no way leads to from the start: inside a building, or behind a fence without a gate. */
  readonly unreachable: readonly string[];
  /** False when a separate end was asked for and no way leads to it; the walk then ends at the last stop. */
  readonly endIsReachable: boolean;
}

/**
 * The shortest walk from the start through all stops, round walls and fences and through gates.
 * Throws a RangeError for a point that is no number.
 */
export function planWalk(request: WalkRequest): Walk {
  const { ground, start, stops, end } = request;
  const ownEnd = typeof end === 'string' ? undefined : end;
  const terminals = [start, ...stops.map((stop) => stop.at), ...(ownEnd === undefined ? [] : [ownEnd])];
  for (const point of terminals)
    if (!Number.isFinite(point.x) || !Number.isFinite(point.y))
      throw new RangeError(`not a point in metres: ${point.x}, ${point.y}`);
  const paths = findPaths(buildGround(ground), terminals);
  const reached = terminals.flatMap((_, terminal) =>
    Number.isFinite(paths.lengthMetres(0, terminal)) ? [terminal] : [],
  );
  const endTerminal = ownEnd === undefined ? -1 : terminals.length - 1;
  const endPlace = reached.indexOf(endTerminal);
  const walkEnd: WalkEnd = typeof end === 'string' ? end : endPlace < 0 ? 'anywhere' : endPlace;

  const costs = buildCosts(reached.length, (from, to) =>
    paths.lengthMetres(reached[from] ?? 0, reached[to] ?? 0),
  );
  const walk = shortestWalk(costs, walkEnd, { seed: request.seed });
  const tour = walk.order.map((place) => reached[place] ?? 0);
  if (walkEnd === 'start' && tour.length > 1) tour.push(0);

  const idOf = (terminal: number): string | null =>
    terminal === 0 || terminal === endTerminal ? null : (stops[terminal - 1]?.id ?? null);
  const legs = tour.slice(1).map((to, index): WalkLeg => {
    const from = tour[index] ?? 0;
    const points = paths.listPoints(from, to);
    return { from: idOf(from), to: idOf(to), lengthMetres: lengthOf(points), points };
  });
  return {
    order: tour.flatMap((terminal) => idOf(terminal) ?? []),
    legs,
    lengthMetres: legs.reduce((sum, leg) => sum + leg.lengthMetres, 0),
    isExact: walk.isExact,
    unreachable: stops.flatMap((stop, index) => (reached.includes(index + 1) ? [] : [stop.id])),
    endIsReachable: ownEnd === undefined || endPlace >= 0,
  };
}

function lengthOf(points: readonly Point[]): number {
  let sum = 0;
  for (const [index, point] of points.entries()) {
    const before = points[index - 1];
    if (before !== undefined) sum += distanceOf(before, point);
  }
  return sum;
}
