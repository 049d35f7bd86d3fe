import type { RoundBody, TravelSource, WorkKind } from '@sillwatch/trade';
import type { Released, StationWork, UnplannedReason } from './need.ts';

/** A plan as people read it: JSON through and through, days `YYYY-MM-DD`, moments RFC 3339 on the clock of the branch. */
export interface BranchPlan {
  readonly plan: string;
  readonly branch: string;
  readonly timeZone: string;
  readonly from: string;
  /** inclusive */
  readonly to: string;
  readonly travel: TravelSource;
  /** Ready to be sent out (`round published`), by day and then by person; only rounds with visits. */
  readonly rounds: readonly RoundBody[];
  readonly people: readonly { readonly person: string; readonly name: string }[];
  readonly unplanned: readonly UnplannedWork[];
  readonly late: readonly LateWorkItem[];
  /** Promises and frozen visits that could not be kept where they were: the customer must be told. */
  readonly released: readonly Released[];
  /** Rules that the rounds break: none after a search, some after a lead's own moves. */
  readonly broken: readonly BrokenRule[];
  readonly totals: PlanTotals;
}

/** Owed within the horizon and in no round. */
export interface UnplannedWork {
  readonly property: string;
  readonly works: readonly StationWork[];
  readonly asks: readonly string[];
  readonly reason: UnplannedReason;
  /** null where no visit could even be asked for (no position, no profile). */
  readonly earliest: string | null;
  readonly latest: string | null;
  /** The visit that was published for it; null = none was. */
  readonly visit: string | null;
  /** What `tryMove` takes to pull it into a round; absent where no visit could even be asked for. */
  readonly key?: string;
  /** Each made and measured, cheapest first; null = not sought (see `findRemedies`). */
  readonly remedies: readonly Remedy[] | null;
}

/** What would make room for a visit, each shown to work by evaluation. `costMinutes`: technician's time and what stands for it. */
export type Remedy =
  | {
      readonly kind: 'overtime';
      readonly person: string;
      readonly day: string;
      /** beyond the overtime that this person may be asked for already */
      readonly minutes: number;
      readonly costMinutes: number;
    }
  | {
      readonly kind: 'another day';
      readonly person: string;
      readonly day: string;
      /** days before the window opens (negative) or after it closes */
      readonly daysOutside: number;
      readonly costMinutes: number;
    }
  | {
      readonly kind: 'a day more';
      readonly person: string;
      readonly day: string;
      readonly costMinutes: number;
    }
  | {
      readonly kind: 'give up the hours';
      readonly person: string;
      readonly day: string;
      readonly startsAt: string;
      readonly costMinutes: number;
    }
  | {
      readonly kind: 'another technician';
      readonly person: string;
      readonly day: string;
      readonly costMinutes: number;
    }
  | {
      readonly kind: 'a skill';
      readonly person: string;
      readonly day: string;
      readonly skills: readonly string[];
      readonly costMinutes: number;
    }
  | { readonly kind: 'one technician more'; readonly day: string; readonly costMinutes: number }
  | { readonly kind: 'enter its position' }
  | { readonly kind: 'enter its label profile' };

/** Work whose window this plan does not keep. */
export interface LateWorkItem {
  readonly property: string;
  readonly station: string;
  readonly work: WorkKind;
  readonly latest: string;
  /** null = not within the horizon */
  readonly plannedOn: string | null;
  /** Its window had closed before the plan begins. */
  readonly wasLate: boolean;
  /** Absent in plans made before reasons were sought. */
  readonly why?: LateReason;
  /** Each would have it in time, made and measured, cheapest first; null = not sought. */
  readonly remedies?: readonly Remedy[] | null;
}

/** Why a window is not kept. Where there was room, the search was cut short or the lead moved the visit. */
export const LATE_REASONS = [
  'late before the plan begins',
  'in no round',
  'no day of its window can be used',
  'no room on the days of its window',
  'there is room that was not used',
] as const;
export type LateReason = (typeof LATE_REASONS)[number];

export const BROKEN_RULES = [
  'past the hours of the property',
  'past the working hours',
  'no room for the break',
  'outside the due window',
  'not a visiting day of the property',
  'promised for another day',
  'frozen with another technician',
  'skill missing',
] as const;
export type BrokenRuleCode = (typeof BROKEN_RULES)[number];

export interface BrokenRule {
  readonly rule: BrokenRuleCode;
  readonly person: string;
  readonly day: string;
  /** null for a rule of the whole round */
  readonly property: string | null;
  /** By so many minutes; null where that has no measure. */
  readonly minutes: number | null;
}

export interface PlanTotals {
  readonly rounds: number;
  readonly visits: number;
  readonly unplannedVisits: number;
  readonly driveMetres: number;
  readonly driveMinutes: number;
  readonly workMinutes: number;
  readonly waitMinutes: number;
  readonly breakMinutes: number;
  readonly overtimeMinutes: number;
  /** Station works whose window closes before they are planned, and those of them late before the plan begins. */
  readonly lateWorks: number;
  readonly lateBefore: number;
  /** Visits with another technician than last time. */
  readonly otherPerson: number;
}
