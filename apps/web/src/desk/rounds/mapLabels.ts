/** A mark on the map that nothing may be written over. Pixels. */
export interface Mark {
  readonly x: number;
  readonly y: number;
  readonly radius: number;
}

export interface WantedLabel extends Mark {
  readonly id: string;
  readonly text: string;
}

export interface Label {
  readonly id: string;
  readonly text: string;
  /** Of the middle of the text's left edge. */
  readonly x: number;
  readonly y: number;
}

interface Box {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

const LINE = 18;
/** Of an average letter; wider than most, so that what is said to fit does. */
const LETTER = 8;
const GAP = 4;

/**
 * Writes names beside their marks where there is room: to the right, the left, below or above; never over a mark, another
 * name or the edge. A name that finds no room is left out, the first ones get theirs first.
 */
export function placeLabels(
  wanted: readonly WantedLabel[],
  marks: readonly Mark[],
  size: { readonly width: number; readonly height: number },
): readonly Label[] {
  const taken: Box[] = marks.map(({ x, y, radius }) => ({
    left: x - radius,
    right: x + radius,
    top: y - radius,
    bottom: y + radius,
  }));
  return wanted.flatMap(({ id, text, x, y, radius }) => {
    const wide = text.length * LETTER;
    const places = [
      { x: x + radius + GAP, y },
      { x: x - radius - GAP - wide, y },
      { x: x - wide / 2, y: y + radius + GAP + LINE / 2 },
      { x: x - wide / 2, y: y - radius - GAP - LINE / 2 },
    ];
    for (const place of places) {
      const box = boxOf(place, wide);
      const isInside = box.left >= 0 && box.top >= 0 && box.right <= size.width && box.bottom <= size.height;
      if (!isInside || taken.some((other) => meets(box, other))) continue;
      taken.push(box);
      return [{ id, text, ...place }];
    }
    return [];
  });
}

export function boxOf({ x, y }: { readonly x: number; readonly y: number }, wide: number): Box {
  return { left: x, right: x + wide, top: y - LINE / 2, bottom: y + LINE / 2 };
}

export function meets(a: Box, b: Box): boolean {
  return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}
