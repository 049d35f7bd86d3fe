import type { StationModel } from '../models.ts';
import type { LabelProfile } from '../profile/labelProfile.ts';
import type { StationState } from '../state/state.ts';
import type { Finding, InsertKind, Task } from '../words.ts';
import type { CautionKey } from './cautions.ts';
import type { TellKey } from './tell.ts';

/** One thing to do, in order. Words live in the screens. */
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

/** The closed list, in the order of work: whichever tables ask for them, steps are done in this order. */
export const STEP_IDS = [
  'record why and take a photo',
  'ask for a replacement',
  'sweep and open',
  'let occupants settle or move them',
  'let occupants settle and move nothing',
  'look only',
  'record signs',
  'estimate bait left',
  'bail out water',
  'clear soil',
  'lift the bait and set it aside',
  'withdraw bait',
  'lift the top monitor',
  'lift the base monitor, every piece of it',
  'clear debris from the housing',
  'dig out and set a new housing',
  'firm the housing',
  'fit a new base monitor',
  'fit a new top monitor',
  'put the monitor back',
  'put the bait back',
  'insert bait without pulling the base monitor',
  'add bait without pulling the base monitor',
  'renew bait',
  'leave the housing as it is until the termites have gone',
  'mark the housing for replacement when feeding has ended',
  'fit a new cap',
  'ask for auxiliary stations',
  'tell the office',
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
  /** The steps set a new housing. `station seen` alone records it (decision 0013): a `station replaced` fact would forget an open hit. */
  readonly housingReplaced: boolean;
  readonly countsAsHit: boolean;
  readonly countsAsFeeding: boolean;
  /** Stations asked for beside this one, both sides together; 0 = none. */
  readonly auxiliaryStations: number;
  readonly replacementAsked: boolean;
  /** Which due rule counts from here. */
  readonly next: 'check' | 'baited check' | 'missed station' | 'replacement';
  /** Message keys for the customer, in order: keys of TELL_WORDS. */
  readonly tell: readonly TellKey[];
  /** Cautions that apply here, in order: keys of CAUTIONS. */
  readonly cautions: readonly CautionKey[];
  readonly fired: readonly { readonly table: string; readonly row: string; readonly reads: string }[];
}
