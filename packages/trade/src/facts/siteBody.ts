import type { ConcernKind, HardSurfaceKind, PlantingKind } from '../words.ts';

/** Local metres, x east and y north of the property's own origin. */
export type SitePoint = readonly [number, number];

/** Ground in which nobody may set a station, with the distance in metres to stay clear of it. */
export type KeepOutBody =
  | {
      readonly id: string;
      readonly kind: 'utility_line';
      readonly path: readonly SitePoint[];
      readonly clearanceMetres: number;
    }
  | {
      readonly id: string;
      readonly kind: 'well' | 'drain';
      readonly at: SitePoint;
      readonly clearanceMetres: number;
    }
  /** The clearance from treated soil comes from the label profile. */
  | { readonly id: string; readonly kind: 'treated_soil'; readonly outline: readonly SitePoint[] };

/**
 * What stands and lies round the structures: the latest drawing replaces the one before, whole. Outlines are closed, the
 * first point is not repeated; paths are open. Structures are facts of their own (`structure added`), and so are stations.
 */
export interface SiteBody {
  readonly hardSurfaces: readonly {
    readonly id: string;
    readonly kind: HardSurfaceKind;
    readonly outline: readonly SitePoint[];
  }[];
  readonly keepOuts: readonly KeepOutBody[];
  readonly plantings: readonly {
    readonly id: string;
    readonly kind: PlantingKind;
    readonly outline: readonly SitePoint[];
  }[];
  readonly concerns: readonly {
    readonly id: string;
    readonly kind: ConcernKind;
    readonly at: SitePoint;
    readonly note: string;
  }[];
  readonly fences: readonly { readonly id: string; readonly path: readonly SitePoint[] }[];
  readonly gates: readonly { readonly id: string; readonly at: SitePoint; readonly widthMetres: number }[];
  /** Where the truck stands and a walk begins; null = at the nearest gate, or anywhere. */
  readonly parking: SitePoint | null;
}
