import type { WorkKind } from '@sillwatch/trade';

/** Work at one station, as a round lists it. */
export interface StationWork {
  readonly station: string;
  readonly work: WorkKind;
}

/** One visit that must be made in the horizon: a job of the planner's problem, at the same index. Days are `YYYY-MM-DD`. */
export interface VisitNeed {
  readonly job: number;
  readonly property: string;
  /** Position among the visits to this property in the horizon, from 0; they are never on the same day or out of order. */
  readonly order: number;
  readonly works: readonly StationWork[];
  /** Customer requests served besides. */
  readonly asks: readonly string[];
  readonly urgent: boolean;
  readonly minutes: number;
  /** Every day from `earliest` to `latest` keeps each window of it and of the other visits to the property. */
  readonly earliest: string;
  readonly target: string;
  readonly latest: string;
  /** What the customer was told; the day is the only one allowed, unless it cannot be kept (see `released`). */
  readonly promise: { readonly day: string; readonly from: string; readonly to: string } | null;
  /** Where it was published; null = new. */
  readonly published: PublishedVisit | null;
  /** The account id of who was there last; null = nobody known. */
  readonly lastPerson: string | null;
}

/** Stands for a visit that is in no round, as long as the plan is made from the same facts: `tryMove` takes it like the id of a visit. */
export function unplacedKey({ property, order, published }: VisitNeed): string {
  return published?.visit ?? `unplaced ${property} ${order}`;
}

export interface PublishedVisit {
  readonly visit: string;
  readonly person: string;
  readonly day: string;
  readonly startsAt: string;
  readonly frozen: boolean;
}

/** Something that was fixed and cannot be: it is planned anew, and the customer must be told. */
export interface Released {
  readonly property: string;
  /** null for a promise that no published visit stands behind */
  readonly visit: string | null;
  readonly what: 'frozen visit' | 'promise';
  readonly day: string;
  readonly person: string | null;
  readonly why: ReleaseReason;
}

export const RELEASE_REASONS = [
  'technician away',
  'technician has left',
  'technician does not work that day',
  'branch closed',
  'nobody works that day',
] as const;
export type ReleaseReason = (typeof RELEASE_REASONS)[number];

/** Why a piece of owed work is in no round. */
export const UNPLANNED_REASONS = [
  'no position',
  'no label profile',
  'no day left',
  'nobody works on its days',
  'nobody has the skills',
  'its person is away',
  'too far or too long for a day',
  'no room',
] as const;
export type UnplannedReason = (typeof UNPLANNED_REASONS)[number];
