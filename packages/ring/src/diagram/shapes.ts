import type { Box } from './frame.ts';
import type { StationMark } from './marks.ts';

/**
 * The drawing as a list of shapes, in the unit of its sheet, x right, y down, from the back to the front. Every renderer (SVG text, web
 * page, PDF) draws this list and nothing else, so that all of them look the same.
 */
export type Shape = GroupShape | PathShape | HatchShape | TextShape;

export interface GroupShape {
  readonly kind: 'group';
  /** What it holds, for those who restyle it. */
  readonly name?: string;
  /** What it shows, in words. */
  readonly title?: string;
  readonly station?: { readonly id: string; readonly number: number; readonly mark: StationMark };
  /** Nothing is drawn outside this box. */
  readonly clip?: Box;
  /** Its shapes are scaled, then turned clockwise, then moved. */
  readonly place?: {
    readonly x: number;
    readonly y: number;
    readonly scale: number;
    readonly turnDegrees: number;
  };
  readonly shapes: readonly Shape[];
}

/** Colours are `#rrggbb`, or whatever the palette of the view holds. */
export interface PathShape {
  readonly kind: 'path';
  /** SVG 1.1 path data */
  readonly d: string;
  readonly fill: string | null;
  /** Rings inside rings are holes. */
  readonly isEvenOdd?: true;
  readonly stroke: Stroke | null;
}

export interface Stroke {
  readonly colour: string;
  readonly width: number;
  readonly dash?: readonly number[];
  /** Ends and corners are round; otherwise ends are cut off and corners are sharp. */
  readonly isRound?: true;
}

/** A region filled with a hatching that tells the ground without colour. The marks run over: clip them to the region. */
export interface HatchShape {
  readonly kind: 'hatch';
  /** SVG path data; where its parts overlap they are one (nonzero rule) */
  readonly region: string;
  readonly ground: string;
  readonly marks: Omit<PathShape, 'kind'>;
  readonly outline: Stroke | null;
}

export interface TextShape {
  readonly kind: 'text';
  readonly x: number;
  /** Of the baseline. */
  readonly y: number;
  readonly size: number;
  readonly text: string;
  readonly anchor: 'start' | 'middle' | 'end';
  readonly fill: string;
  readonly isBold?: true;
  readonly isItalic?: true;
  /** A stroke under the letters, so that they read on a hatching. */
  readonly halo?: { readonly colour: string; readonly width: number };
}

/** A station on the sheet: what a screen lays its button over. */
export interface StationTarget {
  readonly id: string;
  readonly number: number;
  readonly mark: StationMark;
  readonly x: number;
  readonly y: number;
  /** Of what is drawn: a finger needs more. */
  readonly radius: number;
}

export interface SiteDrawing {
  readonly width: number;
  readonly height: number;
  readonly unit: 'px' | 'mm';
  readonly title: string;
  /** What it shows, for those who cannot see it. */
  readonly description: string;
  readonly paper: string;
  readonly shapes: readonly Shape[];
  readonly stations: readonly StationTarget[];
  /** Sheet x = a x + c y + e, sheet y = b x + d y + f, of metres east (x) and north (y). */
  readonly metresToSheet: {
    readonly a: number;
    readonly b: number;
    readonly c: number;
    readonly d: number;
    readonly e: number;
    readonly f: number;
  };
  readonly unitsPerMetre: number;
  /** The N of 1:N on paper; null on a screen. */
  readonly scale: number | null;
}

export function group(shapes: readonly Shape[], more: Omit<GroupShape, 'kind' | 'shapes'> = {}): GroupShape {
  return { kind: 'group', ...more, shapes };
}

/** Nothing where there is nothing in it. */
export function named(name: string, shapes: readonly Shape[], title?: string): readonly GroupShape[] {
  return shapes.length === 0 ? [] : [group(shapes, { name, ...(title === undefined ? {} : { title }) })];
}

export function path(
  d: string,
  fill: string | null,
  stroke: Stroke | null,
  more: { readonly isEvenOdd?: true } = {},
): PathShape {
  return { kind: 'path', d, fill, stroke, ...more };
}
