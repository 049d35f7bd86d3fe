import type { LengthUnit } from '../length/index.ts';
import type { Point } from '../site/model.ts';
import type { Box } from './frame.ts';
import type { StationMark } from './marks.ts';
import type { DiagramWords } from './words.ts';

export type { DiagramWords };

/** What it is drawn for. Screens are measured in CSS pixels, paper in millimetres. */
export type Medium =
  | {
      readonly kind: 'screen';
      readonly width: number;
      readonly height: number;
      /** `height` is the most it may take; a wide site takes less. */
      readonly isSnug?: boolean;
      /** Metres that are shown, `top` the least y; absent = the whole site with room round it. */
      readonly window?: Box;
    }
  | {
      readonly kind: 'print';
      /** A whole sheet with its margins, or the room that a page leaves for the drawing. */
      readonly paper:
        | 'letter'
        | 'letter landscape'
        | {
            readonly widthMillimetres: number;
            readonly heightMillimetres: number;
            /** The height is the most it may take; a wide site takes less. */
            readonly isSnug?: boolean;
          };
      /** The N of 1:N, or the first of 50, 100, 200, 250, 500, 1000 and 2000 at which the site fits. */
      readonly scale: number | 'fit';
    };

export interface SiteView {
  readonly medium: Medium;
  /** `high`: black on white, thicker lines, no tints. */
  readonly contrast: 'usual' | 'high';
  readonly units: LengthUnit;
  /** Marks by station id; a station without one is drawn as monitoring. */
  readonly marks: ReadonlyMap<string, StationMark>;
  /** The station to go to next stands out by a ring round its mark. */
  readonly nextStationId?: string;
  /** Stations that this visit has seen: their numbers carry a tick. */
  readonly doneStationIds?: ReadonlySet<string>;
  /** The walk, drawn as a line with arrows. */
  readonly walk?: readonly Point[];
  /** Stretches of wall that no station guards. */
  readonly unguarded?: readonly (readonly Point[])[];
  /** Length of each wall written beside it. */
  readonly wallLengths?: boolean;
  /** Places that labels keep off by half a mark, metres: the handles of what is selected. */
  readonly handles?: readonly Point[];
  /** The whole drawing turned clockwise, so that a long site fits the paper; the north arrow turns with it. */
  readonly turnDegrees?: number;
  readonly legend?: boolean;
  /** False while something moves under a hand: places for labels are found by search, which takes longer than all the rest. */
  readonly labels?: boolean;
  /** False where nothing was measured: then nothing may look as if it had been. */
  readonly scaleBars?: boolean;
  /** Name, note and scale above it; left out where the page says them already. */
  readonly heading?: boolean;
  /** Instead of that of the contrast: for a page that has colours of its own. */
  readonly palette?: Palette;
  /** A line under the name: whose drawing, of which day. */
  readonly note?: string;
  /** Before every id in the SVG, so that two drawings on one page do not share patterns. */
  readonly idPrefix?: string;
  readonly words?: DiagramWords;
}

export interface Palette {
  readonly paper: string;
  readonly ink: string;
  readonly soft: string;
  readonly building: string;
  readonly hard: string;
  readonly water: string;
  readonly plant: string;
  readonly treated: string;
  readonly alarm: string;
  readonly walk: string;
  readonly marks: Readonly<Record<StationMark, string>>;
}

/** Text and marks hold 4.5 to 1 and more against the paper (WCAG 2.2, 1.4.3 and 1.4.11). */
export const USUAL: Palette = {
  paper: '#ffffff',
  ink: '#1d2320',
  soft: '#59625d',
  building: '#eceae4',
  hard: '#f4f3ef',
  water: '#e2eef6',
  plant: '#e9f3e4',
  treated: '#f6ece0',
  alarm: '#a3221b',
  walk: '#2f5d8a',
  marks: {
    monitoring: '#31566b',
    hit: '#a3221b',
    feeding: '#a3221b',
    baited: '#7a4a00',
    clear: '#20653a',
    'carried over': '#a3221b',
    missed: '#5b3f86',
    removed: '#59625d',
  },
};

const BLACK = '#000000';
const WHITE = '#ffffff';
export const HIGH: Palette = {
  paper: WHITE,
  ink: BLACK,
  soft: BLACK,
  building: WHITE,
  hard: WHITE,
  water: WHITE,
  plant: WHITE,
  treated: WHITE,
  alarm: BLACK,
  walk: BLACK,
  marks: {
    monitoring: BLACK,
    hit: BLACK,
    feeding: BLACK,
    baited: BLACK,
    clear: BLACK,
    'carried over': BLACK,
    missed: BLACK,
    removed: BLACK,
  },
};
