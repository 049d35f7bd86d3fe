import type { Metres } from '@sillwatch/trade/units';

/** Metres east (x) and north (y) of the site's own origin. */
export interface Point {
  readonly x: number;
  readonly y: number;
}

/** Corners in order, either way round, at least three; the first is not repeated at the end. */
export type Outline = readonly Point[];

/** At least two points, open. */
export type Path = readonly Point[];

export const FOUNDATIONS = ['slab', 'crawl space', 'basement', 'pier', 'unknown'] as const;
export type Foundation = (typeof FOUNDATIONS)[number];

export const HARD_SURFACES = ['drive', 'walk', 'patio', 'pool', 'other_hard_surface'] as const;
export type HardSurfaceKind = (typeof HARD_SURFACES)[number];

export const PLANTINGS = ['planting', 'wood_to_soil'] as const;
export type PlantingKind = (typeof PLANTINGS)[number];

export const CONCERNS = ['moisture', 'old_damage', 'mud_tube', 'stump', 'woodpile', 'other_concern'] as const;
export type ConcernKind = (typeof CONCERNS)[number];

export interface Structure {
  readonly id: string;
  readonly name: string;
  readonly foundation: Foundation;
  readonly outline: Outline;
  /** Courtyards and light wells that a person can stand in. */
  readonly holes: readonly Outline[];
}

/** Ground that must be drilled before a station can stand in it. */
export interface HardSurface {
  readonly id: string;
  readonly kind: HardSurfaceKind;
  readonly outline: Outline;
}

/** Ground in which nobody may set a station, with the distance to stay clear of it. */
export type KeepOut =
  | {
      readonly id: string;
      readonly kind: 'utility_line';
      readonly path: Path;
      readonly clearanceMetres: Metres;
    }
  | { readonly id: string; readonly kind: 'well'; readonly at: Point; readonly clearanceMetres: Metres }
  | { readonly id: string; readonly kind: 'drain'; readonly at: Point; readonly clearanceMetres: Metres }
  /** The clearance from treated soil comes from the label profile. */
  | { readonly id: string; readonly kind: 'treated_soil'; readonly outline: Outline };

export interface Planting {
  readonly id: string;
  readonly kind: PlantingKind;
  readonly outline: Outline;
}

export interface Concern {
  readonly id: string;
  readonly kind: ConcernKind;
  readonly at: Point;
  /** What was seen there, in words. */
  readonly note?: string;
}

export interface Fence {
  readonly id: string;
  readonly path: Path;
}

export interface Gate {
  readonly id: string;
  readonly at: Point;
  readonly widthMetres: Metres;
}

export interface Station {
  readonly id: string;
  /** The number on the ring, 1 and up. */
  readonly number: number;
  readonly at: Point;
  /** The structure round which its ring runs; absent = one ring for the whole site. Each ring has numbers of its own. */
  readonly structureId?: string;
}

/** Where the site's origin lies; north of the site is true north. Degrees, WGS 84. */
export interface Georeference {
  readonly longitude: number;
  readonly latitude: number;
}

/** One property as drawn: every length in metres, every position from the site's own origin. */
export interface Site {
  readonly name: string;
  readonly georeference: Georeference | undefined;
  readonly structures: readonly Structure[];
  readonly hardSurfaces: readonly HardSurface[];
  readonly keepOuts: readonly KeepOut[];
  readonly plantings: readonly Planting[];
  readonly concerns: readonly Concern[];
  readonly fences: readonly Fence[];
  readonly gates: readonly Gate[];
  readonly stations: readonly Station[];
  /** Where the truck stands and a walk begins. */
  readonly parking: Point | undefined;
}

export const EMPTY_SITE: Site = {
  name: '',
  georeference: undefined,
  structures: [],
  hardSurfaces: [],
  keepOuts: [],
  plantings: [],
  concerns: [],
  fences: [],
  gates: [],
  stations: [],
  parking: undefined,
};
