import type { Day } from '../units/index.ts';

export const WORKS = [
  'first check',
  'check',
  'baited check',
  'yearly service',
  'carried-over service',
  'missed station',
  'replacement',
] as const;
export type WorkKind = (typeof WORKS)[number];

/** Work owed at one station. earliest <= target <= latest. Done on any day from earliest to latest it is on time. */
export interface DueItem {
  readonly property: string;
  readonly structure: string;
  readonly station: string;
  readonly work: WorkKind;
  readonly earliest: Day;
  readonly target: Day;
  readonly latest: Day;
  /** The row of the due table that fired, and the day it counts from. */
  readonly row: string;
  readonly countedFrom: Day;
}

/** A yearly service that waits because termites are feeding: shown, never due, never lost. */
export interface HeldService {
  readonly property: string;
  readonly structure: string;
  readonly station: string;
  /** when it would have been due */
  readonly latest: Day;
  readonly feedingSince: Day;
}

export type Timeliness = 'not yet' | 'open' | 'past target' | 'late';

export interface DueWork {
  readonly items: readonly DueItem[];
  readonly held: readonly HeldService[];
  /** Structures whose every hit station is clear, with the day of the last to become so. */
  readonly clearStructures: readonly {
    readonly property: string;
    readonly structure: string;
    readonly clearedOn: Day;
  }[];
}

/** How an item stands on a day. */
export function timelinessOn(
  item: { readonly earliest: Day; readonly target: Day; readonly latest: Day },
  asOf: Day,
): Timeliness {
  if (asOf > item.latest) return 'late';
  if (asOf > item.target) return 'past target';
  return asOf >= item.earliest ? 'open' : 'not yet';
}
