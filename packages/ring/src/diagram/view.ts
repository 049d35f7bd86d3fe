import type { LengthUnit } from '../length/index.ts';
import type { ConcernKind, Foundation, HardSurfaceKind, PlantingKind, Point } from '../site/model.ts';
import type { StationMark } from './marks.ts';

/** What it is drawn for. Screens are measured in CSS pixels, paper in millimetres. */
export type Medium =
  | { readonly kind: 'screen'; readonly width: number; readonly height: number }
  | {
      readonly kind: 'print';
      readonly paper: 'letter' | 'letter landscape';
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
  /** The walk, drawn as a line with arrows. */
  readonly walk?: readonly Point[];
  /** Stretches of wall that no station guards. */
  readonly unguarded?: readonly (readonly Point[])[];
  /** Length of each wall written beside it. */
  readonly wallLengths?: boolean;
  /** The whole drawing turned clockwise, so that a long site fits the paper; the north arrow turns with it. */
  readonly turnDegrees?: number;
  readonly legend?: boolean;
  /** A line under the name: whose drawing, of which day. */
  readonly note?: string;
  /** Before every id in the SVG, so that two drawings on one page do not share patterns. */
  readonly idPrefix?: string;
  readonly words?: DiagramWords;
}

/** Every word on the drawing, so that another language is another table. */
export interface DiagramWords {
  readonly unnamed: string;
  readonly station: string;
  readonly marks: Readonly<Record<StationMark, string>>;
  readonly surfaces: Readonly<Record<HardSurfaceKind, string>>;
  readonly plantings: Readonly<Record<PlantingKind, string>>;
  readonly concerns: Readonly<Record<ConcernKind, string>>;
  readonly foundations: Readonly<Record<Foundation, string>>;
  readonly utilityLine: string;
  readonly well: string;
  readonly drain: string;
  readonly treatedSoil: string;
  readonly fence: string;
  readonly gate: string;
  readonly unguarded: string;
  readonly walk: string;
  readonly concern: string;
  readonly north: string;
  readonly tooLarge: (scale: number) => string;
  readonly summary: (stations: number, structures: number, states: string) => string;
}

export const ENGLISH: DiagramWords = {
  unnamed: 'Site diagram',
  station: 'Station',
  marks: {
    monitoring: 'monitoring',
    hit: 'hit',
    feeding: 'feeding: leave it',
    baited: 'baited',
    clear: 'clear',
    'carried over': 'service carried over',
    missed: 'not seen last time',
    removed: 'taken out',
  },
  surfaces: {
    drive: 'drive',
    walk: 'walk',
    patio: 'patio',
    pool: 'pool',
    other_hard_surface: 'hard surface',
  },
  plantings: { planting: 'planting', wood_to_soil: 'wood to soil' },
  concerns: {
    moisture: 'moisture',
    old_damage: 'old damage',
    mud_tube: 'mud tube',
    stump: 'stump',
    woodpile: 'woodpile',
    other_concern: 'concern',
  },
  foundations: {
    slab: 'slab',
    'crawl space': 'crawl space',
    pier: 'piers',
    basement: 'basement',
    unknown: 'foundation not known',
  },
  utilityLine: 'utility line: locate before digging',
  well: 'well',
  drain: 'drain',
  treatedSoil: 'treated soil',
  fence: 'fence',
  gate: 'gate',
  unguarded: 'wall not guarded',
  walk: 'walk',
  concern: 'point of concern',
  north: 'N',
  tooLarge: (scale) => `Not all of the site fits on this sheet: print at 1:${scale}.`,
  summary: (stations, structures, states) =>
    `${stations} ${stations === 1 ? 'station' : 'stations'} round ${structures} ${structures === 1 ? 'structure' : 'structures'}${states === '' ? '' : `: ${states}`}.`,
};

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
