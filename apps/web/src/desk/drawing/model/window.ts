import { type Box, listThings, type Point, ringsOf, type Site } from '@sillwatch/ring';

/** Room round what is drawn, and the least that is shown: a small house with its yard. Metres. */
const ROOM_METRES = 2;
const LEAST_METRES = 16;
/** Closer than this nothing is to be seen, farther away nothing to be told apart. Metres across. */
const CLOSEST_METRES = 1;
const FARTHEST_METRES = 12_000;

/** All that is drawn, with room round it. `top` is the least y, as in the ring's frames. */
export function wholeWindow(site: Site, more: readonly Point[] = []): Box {
  const { left, right, top, bottom } = boundsOf(site, more) ?? { left: 0, right: 0, top: 0, bottom: 0 };
  const wide = Math.max(LEAST_METRES, right - left + 2 * ROOM_METRES) / 2;
  const deep = Math.max(LEAST_METRES * 0.6, bottom - top + 2 * ROOM_METRES) / 2;
  const middle = { x: (left + right) / 2, y: (top + bottom) / 2 };
  return { left: middle.x - wide, right: middle.x + wide, top: middle.y - deep, bottom: middle.y + deep };
}

/** Whether something that is drawn lies outside the view. */
export function isOutside(window: Box, site: Site, more: readonly Point[] = []): boolean {
  const bounds = boundsOf(site, more);
  if (bounds === undefined) return false;
  const { left, right, top, bottom } = bounds;
  return left < window.left || right > window.right || top < window.top || bottom > window.bottom;
}

function boundsOf(site: Site, more: readonly Point[]): Box | undefined {
  const points = [
    ...listThings(site).flatMap((thing) => ringsOf(thing).flatMap((ring) => ring.points)),
    ...more,
  ];
  if (points.length === 0) return undefined;
  const xs = points.map(({ x }) => x);
  const ys = points.map(({ y }) => y);
  return { left: Math.min(...xs), right: Math.max(...xs), top: Math.min(...ys), bottom: Math.max(...ys) };
}

/** Closer for a factor under 1; `about` stays where it is on the screen. */
export function zoomed({ left, right, top, bottom }: Box, factor: number, about?: Point): Box {
  const across = right - left;
  const within = Math.min(FARTHEST_METRES / across, Math.max(CLOSEST_METRES / across, factor));
  const at = about ?? { x: (left + right) / 2, y: (top + bottom) / 2 };
  return {
    left: at.x + (left - at.x) * within,
    right: at.x + (right - at.x) * within,
    top: at.y + (top - at.y) * within,
    bottom: at.y + (bottom - at.y) * within,
  };
}

export function shifted({ left, right, top, bottom }: Box, east: number, north: number): Box {
  return { left: left + east, right: right + east, top: top + north, bottom: bottom + north };
}
