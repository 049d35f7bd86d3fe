import type { Metres } from '@sillwatch/trade/units';
import type { Point } from '../site/model.ts';

/** What a ring must obey; taken from the label profile of the product in use. */
export interface RingRules {
  /** Neighbours on the station line stand at most this far apart; more than 0. */
  readonly greatestSpacingMetres: Metres;
  /** Nearest and farthest that a station may stand from the wall; 0 <= nearest <= farthest, farthest more than 0. */
  readonly setbackMetres: { readonly nearest: Metres; readonly farthest: Metres };
  readonly treatedSoilClearanceMetres: Metres;
  /** Every point of concern has a station within this distance. */
  readonly concernDistanceMetres: Metres;
}

/** Why no station can stand on a stretch of the line, or why the line does not reach a wall. */
export type BlockedBy =
  | { readonly kind: 'hard_surface'; readonly id: string }
  | { readonly kind: 'keep_out'; readonly id: string }
  | { readonly kind: 'treated_soil'; readonly id: string }
  /** Less than twice the setback between walls: no station line passes there. */
  | { readonly kind: 'too_narrow' }
  /** Only in an audit: a station could stand here, and none does. */
  | { readonly kind: 'no_station' };

export type Remedy =
  | { readonly kind: 'drill_hard_surface'; readonly id: string }
  | { readonly kind: 'other_side'; readonly id: string }
  | { readonly kind: 'beyond_treated_soil'; readonly id: string }
  | { readonly kind: 'smaller_setback' }
  | { readonly kind: 'add_station' };

/** A stretch of wall farther from a station than half the greatest spacing. */
export interface UnguardedStretch {
  readonly structureId: string;
  readonly from: Point;
  readonly to: Point;
  /** The wall along the stretch, corners included; two points at least. */
  readonly wall: readonly Point[];
  readonly lengthMetres: number;
  readonly why: readonly BlockedBy[];
  readonly remedies: readonly Remedy[];
}

export type StationReason =
  | { readonly kind: 'ring' }
  | { readonly kind: 'concern'; readonly concernId: string };

export interface ProposedStation {
  /** 1 and up, along each line with the structure on the left hand. */
  readonly number: number;
  readonly at: Point;
  /** Index of the station line in `Proposal.lines`; undefined for an extra station away from every line. */
  readonly line: number | undefined;
  /** Metres along that line from its first point; 0 for an extra station away from every line. */
  readonly alongMetres: number;
  readonly setbackMetres: number;
  readonly reason: StationReason;
}

export interface ConcernOutOfReach {
  readonly concernId: string;
  readonly at: Point;
}

export interface LineSummary {
  /** Closed; the first point is not repeated. */
  readonly path: readonly Point[];
  readonly lengthMetres: number;
  readonly stationCount: number;
  /** Over neighbours that are meant to guard the line between them; 0 where there are none. */
  readonly greatestGapMetres: number;
}

export interface Proposal {
  readonly lines: readonly LineSummary[];
  readonly stations: readonly ProposedStation[];
  readonly wallMetres: number;
  readonly unguardedMetres: number;
  readonly unguarded: readonly UnguardedStretch[];
  /** Points of concern near which no ground can take a station. */
  readonly concernsOutOfReach: readonly ConcernOutOfReach[];
}
