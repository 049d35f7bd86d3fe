/** A mark on the map that nothing may be written over. Pixels. */
export interface Mark {
  readonly x: number;
  readonly y: number;
  readonly radius: number;
}

export interface WantedLabel extends Mark {
  readonly id: string;
  readonly text: string;
  /** It is written over a leg rather than not at all: somebody asks for it. */
  readonly isAsked?: boolean;
}

export interface Label {
  readonly id: string;
  readonly text: string;
  /** Of the middle of the left edge of its room. */
  readonly x: number;
  readonly y: number;
  /** Which end of the room the text keeps to, so that it stands right beside its mark. */
  readonly anchor: 'start' | 'middle' | 'end';
}

interface Box {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

interface Place {
  readonly x: number;
  readonly y: number;
}
/** A straight leg of a round. */
export interface Leg {
  readonly from: Place;
  readonly to: Place;
}

const LINE = 18;
/** Of an average letter; wider than most, so that what is said to fit does. */
export const LETTER = 7.25;
const GAP = 4;

/**
 * Writes names beside their marks where there is room: to the right, the left, below, above or aslant; never over a mark, another
 * name, a leg or the edge. A name that finds no room is left out (the lists say it), the first ones get theirs first.
 */
export function placeLabels(
  wanted: readonly WantedLabel[],
  marks: readonly Mark[],
  size: { readonly width: number; readonly height: number },
  legs: readonly Leg[] = [],
): readonly Label[] {
  const taken: Box[] = marks.map(({ x, y, radius }) => ({
    left: x - radius,
    right: x + radius,
    top: y - radius,
    bottom: y + radius,
  }));
  return wanted.flatMap(({ id, text, x, y, radius, isAsked }) => {
    const wide = text.length * LETTER;
    const right = x + radius + GAP;
    const left = x - radius - GAP - wide;
    const below = y + radius + GAP + LINE / 2;
    const above = y - radius - GAP - LINE / 2;
    const aslant = radius * 0.7;
    const free = (
      [
        { x: right, y, anchor: 'start' },
        { x: left, y, anchor: 'end' },
        { x: x - wide / 2, y: below, anchor: 'middle' },
        { x: x - wide / 2, y: above, anchor: 'middle' },
        { x: x + aslant, y: below, anchor: 'start' },
        { x: x - aslant - wide, y: below, anchor: 'end' },
        { x: x + aslant, y: above, anchor: 'start' },
        { x: x - aslant - wide, y: above, anchor: 'end' },
      ] as const
    ).filter((place) => {
      const box = boxOf(place, wide);
      const isInside = box.left >= 0 && box.top >= 0 && box.right <= size.width && box.bottom <= size.height;
      return isInside && !taken.some((other) => meets(box, other));
    });
    const isClear = (place: Place) => !legs.some((leg) => isCrossed(boxOf(place, wide), leg));
    const best = free.find(isClear) ?? (isAsked === true ? free[0] : undefined);
    if (best === undefined) return [];
    taken.push(boxOf(best, wide));
    return [{ id, text, ...best }];
  });
}

/** Where the text is written from. */
export function writtenFrom({ x, text, anchor }: Label): number {
  const wide = text.length * LETTER;
  return anchor === 'start' ? x : anchor === 'end' ? x + wide : x + wide / 2;
}

export function boxOf({ x, y }: { readonly x: number; readonly y: number }, wide: number): Box {
  return { left: x, right: x + wide, top: y - LINE / 2, bottom: y + LINE / 2 };
}

export function meets(a: Box, b: Box): boolean {
  return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}

/** Whether some of the leg lies in the box (Liang and Barsky's clipping, 1984). */
export function isCrossed({ left, top, right, bottom }: Box, { from, to }: Leg): boolean {
  let enters = 0;
  let leaves = 1;
  const along = { x: to.x - from.x, y: to.y - from.y };
  for (const [step, room] of [
    [-along.x, from.x - left],
    [along.x, right - from.x],
    [-along.y, from.y - top],
    [along.y, bottom - from.y],
  ] as const) {
    if (step === 0) {
      if (room < 0) return false;
    } else if (step < 0) enters = Math.max(enters, room / step);
    else leaves = Math.min(leaves, room / step);
  }
  return enters < leaves;
}
