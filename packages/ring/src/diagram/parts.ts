import type { Gate, Point } from '../site/model.ts';
import type { Frame } from './frame.ts';
import type { MarkPart } from './marks.ts';
import { type GroupShape, group, path } from './shapes.ts';
import type { Palette } from './view.ts';

/** What every drawing function needs. */
export interface Pen {
  readonly frame: Frame;
  readonly palette: Palette;
}

/** Half the width that a station's mark takes; the next one stands in a ring. */
export function markRadius(frame: Frame, isNext: boolean): number {
  return isNext ? frame.markSize * 0.72 + frame.line : frame.markSize / 2;
}

export function gateRadius(frame: Frame, gate: Gate): number {
  return Math.max((gate.widthMetres * frame.unitsPerMetre) / 2, frame.line * 3);
}

/** A mark from its parts, its middle at `at`, `size` wide. */
export function markShapes(
  parts: readonly MarkPart[],
  at: Point,
  size: number,
  colour: string,
  paper: string,
): GroupShape {
  return group(
    parts.map(({ d, paint, width, dash }) => {
      if (paint === 'ink') return path(d, colour, null);
      return path(d, paint === 'outlined' ? paper : null, {
        colour: paint === 'paper line' ? paper : colour,
        width,
        isRound: true,
        ...(dash === undefined ? {} : { dash }),
      });
    }),
    { place: { x: at.x - size / 2, y: at.y - size / 2, scale: size / 24, turnDegrees: 0 } },
  );
}
