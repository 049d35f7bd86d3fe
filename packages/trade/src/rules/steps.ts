import type { StationModel } from '../models.ts';
import type { LabelProfile } from '../profile/labelProfile.ts';
import type { StationState } from '../state/state.ts';
import type { Finding, InsertKind, Task } from '../words.ts';

/** One thing to do, in order. Words live in the screens; these ids are the closed list (filled by the tables). */
export interface Step {
  readonly id: StepId;
  /** Which table and row asked for it: the answer to "why?". */
  readonly table: string;
  readonly row: string;
  readonly reason: string;
  readonly slot: string | null;
  readonly insert: InsertKind | null;
  /** part id -> count */
  readonly parts: Readonly<Record<string, number>>;
}

export const STEP_IDS = [
  'record why and take a photo',
  'tell the office',
  'ask for a replacement',
  'let occupants settle or move them',
  'sweep and open',
  'look only',
  'estimate bait left',
  'insert bait without pulling the base monitor',
  'add bait without pulling the base monitor',
  'renew bait',
  'withdraw bait',
  'lift the top monitor',
  'lift the base monitor, every piece of it',
  'clear debris from the housing',
  'fit a new base monitor',
  'fit a new top monitor',
  'put the monitor back',
  'bail out water',
  'clear soil',
  'firm the housing',
  'fit a new cap',
  'dig out and set a new housing',
  'mark the housing for replacement when feeding has ended',
  'ask for auxiliary stations',
  'record signs',
  'close and lock the cap',
] as const;
export type StepId = (typeof STEP_IDS)[number];

export interface StepsInput {
  readonly state: StationState;
  readonly model: StationModel;
  readonly finding: Finding;
  readonly task: Task;
  readonly profile: LabelProfile;
}

export interface Steps {
  readonly steps: readonly Step[];
  /** Sum over steps, part id -> count. */
  readonly partsUsed: Readonly<Record<string, number>>;
  /** grams of product that the steps put in; 0 = none */
  readonly baitGrams: number;
  /** The yearly service owed here stays owed. */
  readonly carriedOver: boolean;
  readonly yearlyServiceDone: boolean;
  readonly countsAsHit: boolean;
  readonly countsAsFeeding: boolean;
  readonly auxiliaryStations: number;
  readonly replacementAsked: boolean;
  /** Which due rule counts from here. */
  readonly next: 'check' | 'baited check' | 'missed station' | 'replacement';
  /** Message keys for the customer, in order; words live in the papers. */
  readonly tell: readonly string[];
  /** Cautions that apply here, in order: keys of CAUTIONS. */
  readonly cautions: readonly string[];
  readonly fired: readonly { readonly table: string; readonly row: string; readonly reads: string }[];
}
