import { type PropertyWalk, walkOf } from '@sillwatch/rounds';
import type { PropertyState } from '@sillwatch/trade';

export interface Way {
  /** Every station of the visit: those on the walk in its order, then those without a place, by number. */
  readonly order: readonly string[];
  readonly points: readonly (readonly [number, number])[];
  readonly lengthMetres: number;
  readonly offWalk: ReadonlySet<string>;
}

/** The walk of the last visit asked for: every screen of a visit asks for the same one, and finding it takes a while. */
let last: { readonly key: string; readonly way: Way } | undefined;

/** The shortest walk through these stations, from the truck or gate; the same for every screen of a visit. */
export function wayOf(state: PropertyState, stations: readonly string[]): Way {
  const key = JSON.stringify([
    state.property,
    stations,
    state.stations.map(({ station, position }) => [station, position]),
    state.structures.map(({ structure, outline }) => [structure, outline]),
    state.site,
  ]);
  if (last?.key === key) return last.way;
  const way = wayFrom(walkOf(state, stations, { closed: false }));
  last = { key, way };
  return way;
}

function wayFrom(walk: PropertyWalk): Way {
  const points = walk.legs.flatMap((leg) => leg.points.map(({ x, y }) => [x, y] as const));
  return {
    order: [...walk.order, ...walk.offWalk.map(({ station }) => station)],
    points,
    lengthMetres: walk.lengthMetres,
    offWalk: new Set(walk.offWalk.map(({ station }) => station)),
  };
}

/** The next one to go to: onward from here along the walk, then round to what was passed by; undefined = all done. */
export function nextOnWay(
  order: readonly string[],
  left: ReadonlySet<string>,
  here: string | undefined,
): string | undefined {
  const at = here === undefined ? -1 : order.indexOf(here);
  return [...order.slice(at + 1), ...order.slice(0, at + 1)].find(
    (station) => left.has(station) && station !== here,
  );
}
