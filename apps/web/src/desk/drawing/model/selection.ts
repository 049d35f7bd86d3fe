import { type Corner, endsOf, findThing, listThings, type Point, ringsOf, type Site } from '@sillwatch/ring';

/** One thing, or one corner of it. */
export interface Selection {
  readonly id: string;
  readonly corner: { readonly ring: number; readonly index: number } | null;
}

export function wholeOf(id: string): Selection {
  return { id, corner: null };
}

export function cornerOf({ id, ring, index }: Corner): Selection {
  return { id, corner: { ring, index } };
}

/** What is still there of a selection after an edit. */
export function stillThere(site: Site, selection: Selection | null): Selection | null {
  if (selection === null) return null;
  const thing = findThing(site, selection.id);
  if (thing === undefined) return null;
  const { corner } = selection;
  if (corner === null || ringsOf(thing)[corner.ring]?.points[corner.index] !== undefined) return selection;
  return wholeOf(selection.id);
}

/** Where the handles of what is selected sit: its corners and the middles of its walls. */
export function handlesOf(site: Site, selection: Selection | null): readonly Point[] {
  const thing = selection === null ? undefined : findThing(site, selection.id);
  return (thing === undefined ? [] : ringsOf(thing)).flatMap((ring) => [
    ...ring.points,
    ...[...ring.points.keys()].flatMap((index) => {
      const ends = endsOf(ring, index);
      return ends === undefined ? [] : [middleOf(ends)];
    }),
  ]);
}

/** What lies under a finger. `middle`: the handle halfway along a wall of what is selected. */
export type Hit =
  | { readonly kind: 'corner'; readonly corner: Corner }
  | { readonly kind: 'middle'; readonly corner: Corner }
  | { readonly kind: 'thing'; readonly id: string };

/**
 * What was meant by a press: a corner of what is selected, else a place, else a wall's middle of what is selected, else the
 * nearest line, else the smallest ground round it. `reach` in metres.
 */
export function hitAt(site: Site, at: Point, reach: number, selection: Selection | null): Hit | undefined {
  const away = (point: Point) => Math.hypot(point.x - at.x, point.y - at.y);
  const things = listThings(site);
  const own = things.find(({ value }) => value.id === selection?.id);
  const ownRings = own === undefined ? [] : ringsOf(own);
  const corners = ownRings.flatMap(({ points }, ring) =>
    points.map((point, index) => ({ corner: { id: own?.value.id ?? '', ring, index }, away: away(point) })),
  );
  const corner = nearest(corners, reach);
  if (corner !== undefined && ownRings.some(({ points }) => points.length > 1))
    return { kind: 'corner', corner: corner.corner };
  const places = things.flatMap((thing) => {
    const [ring] = ringsOf(thing);
    const [point] = ring?.points ?? [];
    return ring?.points.length === 1 && !ring.isClosed && point !== undefined
      ? [{ id: thing.value.id, away: away(point) }]
      : [];
  });
  const place = nearest(places, reach);
  if (place !== undefined) return { kind: 'thing', id: place.id };
  const middles = ownRings.flatMap((ring, number) =>
    [...ring.points.keys()].flatMap((index) => {
      const ends = endsOf(ring, index);
      if (ends === undefined) return [];
      return [{ corner: { id: own?.value.id ?? '', ring: number, index }, away: away(middleOf(ends)) }];
    }),
  );
  const middle = nearest(middles, reach);
  if (middle !== undefined) return { kind: 'middle', corner: middle.corner };
  const lines = things.flatMap((thing) =>
    ringsOf(thing).flatMap((ring) =>
      [...ring.points.keys()].flatMap((index) => {
        const ends = endsOf(ring, index);
        return ends === undefined ? [] : [{ id: thing.value.id, away: awayFromWall(at, ends) }];
      }),
    ),
  );
  const line = nearest(lines, reach);
  if (line !== undefined) return { kind: 'thing', id: line.id };
  const grounds = things.flatMap((thing) => {
    const rings = ringsOf(thing).filter(({ isClosed }) => isClosed);
    const inside = rings.filter(({ points }) => isWithin(at, points)).length % 2 === 1;
    return inside ? [{ id: thing.value.id, away: areaOf(rings[0]?.points ?? []) }] : [];
  });
  const ground = nearest(grounds, Number.POSITIVE_INFINITY);
  return ground === undefined ? undefined : { kind: 'thing', id: ground.id };
}

function middleOf([a, b]: readonly [Point, Point]): Point {
  return { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 };
}

function nearest<T extends { readonly away: number }>(list: readonly T[], reach: number): T | undefined {
  let best: T | undefined;
  for (const one of list) if (one.away <= reach && (best === undefined || one.away < best.away)) best = one;
  return best;
}

function awayFromWall(at: Point, [a, b]: readonly [Point, Point]): number {
  const dx = b.x - a.x;
  const dy = b.y - a.y;
  const squared = dx * dx + dy * dy;
  const share =
    squared === 0 ? 0 : Math.min(1, Math.max(0, ((at.x - a.x) * dx + (at.y - a.y) * dy) / squared));
  return Math.hypot(at.x - a.x - dx * share, at.y - a.y - dy * share);
}

/** Even-odd. */
function isWithin(at: Point, points: readonly Point[]): boolean {
  let inside = false;
  let b = points.at(-1);
  for (const a of points) {
    if (b !== undefined && a.y > at.y !== b.y > at.y)
      if (at.x < ((b.x - a.x) * (at.y - a.y)) / (b.y - a.y) + a.x) inside = !inside;
    b = a;
  }
  return inside;
}

function areaOf(points: readonly Point[]): number {
  let doubled = 0;
  let b = points.at(-1);
  for (const a of points) {
    if (b !== undefined) doubled += b.x * a.y - a.x * b.y;
    b = a;
  }
  return Math.abs(doubled) / 2;
}
