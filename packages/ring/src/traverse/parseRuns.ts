import { type LengthUnit, parseLength } from '../length/index.ts';
import type { Point } from '../site/model.ts';
import { type Direction, takeDirection } from './direction.ts';

/** One straight wall: how far, which way, and the words it was given in. */
export interface WallRun {
  readonly text: string;
  readonly lengthMetres: number;
  readonly azimuthDegrees: number;
}

export type TraverseFault =
  | 'no runs'
  | 'no direction'
  | 'length'
  | 'zero length'
  | 'too long'
  | 'turn before any run'
  | 'too few runs'
  | 'does not close'
  | 'crosses itself';

/** Says which run (from 1; null for the whole) and how to mend it; `at` is a place on the drawing, local metres, where there is one. */
export interface TraverseRefusal {
  readonly fault: TraverseFault;
  readonly run: number | null;
  readonly message: string;
  readonly at: Point | null;
}

export type RunsResult =
  | { readonly ok: true; readonly runs: readonly WallRun[] }
  | { readonly ok: false; readonly refusal: TraverseRefusal };

/** No wall of a building that has a ring is longer; longer means that units were mixed up. */
export const LONGEST_RUN_METRES = 1000;

/**
 * Reads wall runs in order, parted by commas, semicolons, `then` (`luego`) or new lines:
 * `12.4 m east, 6 m south, left 10', N 45° 30' E 20 ft, right 45° 3 m, straight on 2 m`.
 * Spanish words and decimal commas do as well: `12,4 m este luego 6 m sur, izquierda 3 m`.
 * A turn alone means 90 degrees; lengths without a unit are read in `bareUnit`. `before` is the azimuth of a wall that the
 * first run goes on from, in degrees: then it may be a turn.
 */
export function parseRuns(text: string, bareUnit?: LengthUnit, before?: number): RunsResult {
  const pieces = text
    // A comma between two digits stands before decimals.
    .split(/[;\n]|(?<!\d),|,(?!\d)|\b(?:then|luego)\b/i)
    .map((piece) => piece.trim())
    .filter((piece) => piece !== '');
  if (pieces.length === 0)
    return refuse(
      'no runs',
      null,
      'No wall runs: write them like "12.4 m east, 6 m south, 12.4 m west, 6 m north".',
    );
  const runs: WallRun[] = [];
  for (const [index, piece] of pieces.entries()) {
    const number = index + 1;
    const taken = takeDirection(piece);
    if (taken === undefined)
      return refuse(
        'no direction',
        number,
        `Run ${number}, ${JSON.stringify(piece)}, has no direction: add north, east, south or west, a bearing such as N 45° E, or a left or right turn of less than 180°.`,
      );
    const length = parseLength(taken.rest, bareUnit);
    if (!length.ok)
      return refuse('length', number, `Run ${number}, ${JSON.stringify(piece)}: ${length.message}`);
    if (length.metres <= 0)
      return refuse(
        'zero length',
        number,
        `Run ${number}, ${JSON.stringify(piece)}, has no length: leave it out or give one above 0.`,
      );
    if (length.metres > LONGEST_RUN_METRES)
      return refuse(
        'too long',
        number,
        `Run ${number}, ${JSON.stringify(piece)}, is longer than ${LONGEST_RUN_METRES} m: check its unit.`,
      );
    const azimuthDegrees = resolve(taken.direction, runs.at(-1)?.azimuthDegrees ?? before);
    if (azimuthDegrees === undefined)
      return refuse(
        'turn before any run',
        number,
        `Run ${number}, ${JSON.stringify(piece)}, turns, but no run comes before it: start with a compass direction.`,
      );
    runs.push({ text: piece, lengthMetres: length.metres, azimuthDegrees });
  }
  return { ok: true, runs };
}

function resolve(direction: Direction, last: number | undefined): number | undefined {
  switch (direction.kind) {
    case 'azimuth':
      return direction.degrees;
    case 'turn':
      return last === undefined ? undefined : (((last + direction.degrees) % 360) + 360) % 360;
  }
}

function refuse(fault: TraverseFault, run: number | null, message: string): RunsResult {
  return { ok: false, refusal: { fault, run, message, at: null } };
}
