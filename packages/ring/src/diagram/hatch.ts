import type { Point } from '../site/model.ts';
import type { Box, Frame } from './frame.ts';
import { circlePath, short } from './pathData.ts';
import type { HatchShape, PathShape, Stroke } from './shapes.ts';
import type { Palette } from './view.ts';

export const PATTERN_NAMES = ['hard', 'water', 'plant', 'wood', 'treated', 'utility'] as const;
export type PatternName = (typeof PATTERN_NAMES)[number];

/** A region of the sheet: where it lies, and its path data. */
export interface Region {
  readonly d: string;
  readonly box: Box;
}

/** The region in its hatching. Hatchings of one drawing share one grid, so that neighbours of one kind run on. */
export function hatch(
  region: Region,
  name: PatternName,
  { frame, palette }: { readonly frame: Frame; readonly palette: Palette },
  outline: Stroke | null,
): HatchShape {
  return {
    kind: 'hatch',
    region: region.d,
    ground: groundOf(name, palette),
    marks: marksOf(name, within(region.box, frame), frame, palette),
    outline,
  };
}

function groundOf(name: PatternName, palette: Palette): string {
  switch (name) {
    case 'hard':
      return palette.hard;
    case 'water':
      return palette.water;
    case 'plant':
      return palette.plant;
    case 'wood':
    case 'treated':
      return palette.treated;
    case 'utility':
      return palette.paper;
  }
}

/** What lies off the sheet needs no hatching, however large it is. */
function within(box: Box, { width, height }: Frame): Box {
  return {
    left: Math.max(0, box.left),
    right: Math.min(width, box.right),
    top: Math.max(0, box.top),
    bottom: Math.min(height, box.bottom),
  };
}

function marksOf(name: PatternName, box: Box, frame: Frame, palette: Palette): Omit<PathShape, 'kind'> {
  const cell = frame.textSize * 0.8;
  const thin = frame.line * 0.5;
  const half = cell / 2;
  const lines = (colour: string, d: string) => ({ d, fill: null, stroke: { colour, width: thin } });
  switch (name) {
    case 'hard': {
      const dots = corners(box, cell).map(({ x, y }) => circlePath({ x: x + half, y: y + half }, thin * 1.2));
      return { d: dots.join(''), fill: palette.soft, stroke: null };
    }
    case 'water':
      return lines(
        palette.walk,
        stepsOf(box.top, box.bottom, cell)
          .map((y) => {
            const columns = stepsOf(box.left, box.right, cell);
            const [first = 0] = columns;
            const wave = `q${short(half / 2)} ${short(-half / 2)} ${short(half)} 0t${short(half)} 0`;
            return `M${short(first)} ${short(y + half)}${wave}${`t${short(half)} 0t${short(half)} 0`.repeat(Math.max(0, columns.length - 1))}`;
          })
          .join(''),
      );
    case 'plant':
      return lines(
        palette.soft,
        corners(box, cell)
          .map(
            ({ x, y }) =>
              `M${short(x + half)} ${short(y + cell * 0.8)}v${short(-cell * 0.5)}M${short(x + cell * 0.3)} ${short(y + cell * 0.4)}l${short(cell * 0.2)} ${short(cell * 0.3)}l${short(cell * 0.2)} ${short(-cell * 0.3)}`,
          )
          .join(''),
      );
    case 'wood':
      return lines(
        palette.alarm,
        stepsOf(box.top, box.bottom, cell)
          .flatMap((y) => [y + cell * 0.3, y + cell * 0.7])
          .map((y) => `M${short(box.left)} ${short(y)}H${short(box.right)}`)
          .join(''),
      );
    case 'treated':
      return lines(palette.soft, slanted(box, cell, 1) + slanted(box, cell, -1));
    case 'utility':
      return lines(palette.alarm, slanted(box, cell, -1));
  }
}

/** Multiples of the cell from the one at or before `from` up to `to`. */
function stepsOf(from: number, to: number, cell: number): readonly number[] {
  const first = Math.floor(from / cell);
  const count = Math.max(0, Math.ceil(to / cell) - first);
  return Array.from({ length: count }, (_, index) => (first + index) * cell);
}

function corners(box: Box, cell: number): readonly Point[] {
  const columns = stepsOf(box.left, box.right, cell);
  return stepsOf(box.top, box.bottom, cell).flatMap((y) => columns.map((x) => ({ x, y })));
}

/** Lines at 45 degrees over the box: falling to the right (1), or rising (-1). */
function slanted({ left, right, top, bottom }: Box, cell: number, fall: 1 | -1): string {
  if (right <= left || bottom <= top) return '';
  // Where the line crosses y = 0: x - fall * y.
  const from = fall === 1 ? left - bottom : left + top;
  const to = fall === 1 ? right - top : right + bottom;
  return stepsOf(from, to, cell)
    .flatMap((foot) => {
      const start = Math.max(left, foot + Math.min(fall * top, fall * bottom));
      const end = Math.min(right, foot + Math.max(fall * top, fall * bottom));
      if (end <= start) return [];
      return [`M${short(start)} ${short((start - foot) * fall)}L${short(end)} ${short((end - foot) * fall)}`];
    })
    .join('');
}
