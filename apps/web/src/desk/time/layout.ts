import type { Day } from '@sillwatch/trade';
import type { Column, RingInTime } from './ringInTime.ts';

/** Pixels of the drawing. */
export const LEFT = 104;
export const TOP = 74;
export const ROW = 30;
const RIGHT = 24;
const BOTTOM = 16;
/** Least distance between two columns, so that marks stay apart. */
const COLUMN = 26;

export interface Layout {
  readonly width: number;
  readonly height: number;
  /** centre of each station's column, by station */
  readonly x: ReadonlyMap<string, number>;
  /** centre of each day's row */
  readonly y: ReadonlyMap<Day, number>;
  /** where a share of the perimeter lies, in per cent */
  readonly at: (place: number) => number;
}

/** Columns keep their place along the wall as nearly as their marks have room; the drawing grows with their number. */
export function layOut(ring: RingInTime, roomPx: number): Layout {
  const width = Math.max(roomPx, LEFT + RIGHT + ring.columns.length * COLUMN);
  const span = width - LEFT - RIGHT;
  const at = (place: number): number => LEFT + (place / 100) * span;
  return {
    width,
    height: TOP + ring.days.length * ROW + BOTTOM,
    x: spread(ring.columns, at, LEFT + COLUMN / 2, width - RIGHT - COLUMN / 2),
    y: new Map(ring.days.map((day, index) => [day, TOP + (index + 0.5) * ROW])),
    at,
  };
}

/** Pushes columns that stand too close to the right, then what ran over the end back to the left. */
function spread(
  columns: readonly Column[],
  at: (place: number) => number,
  least: number,
  most: number,
): ReadonlyMap<string, number> {
  const wished = columns.map(({ place }) => Math.max(least, at(place)));
  for (let index = 1; index < wished.length; index += 1)
    wished[index] = Math.max(wished[index] ?? 0, (wished[index - 1] ?? 0) + COLUMN);
  let limit = most;
  for (let index = wished.length - 1; index >= 0; index -= 1) {
    wished[index] = Math.min(wished[index] ?? 0, limit);
    limit = (wished[index] ?? 0) - COLUMN;
  }
  return new Map(columns.map(({ station }, index) => [station, wished[index] ?? 0]));
}
