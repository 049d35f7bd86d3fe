import type { Day, FirmState, PropertyState, RoundBody, WorkKind } from '@sillwatch/trade';
import type { ZoneClock } from './clock.ts';
import type { TravelOf } from './travel.ts';
import type { PlanWeights } from './weights.ts';

/** What a plan is made from: states folded from facts, and the few things that a pure room cannot know. */
export interface PlanInput {
  /** Of the branch; those of other branches are passed over. */
  readonly properties: readonly PropertyState[];
  /** Its profiles, branches, technicians, absences and closed days. */
  readonly firm: FirmState;
  readonly branch: string;
  /** First day to plan; usually tomorrow. */
  readonly from: Day;
  /** Length of the horizon, 1 to 91; a branch plans 28 to 91. */
  readonly days: number;
  /** The rounds sent out so far (`foldRounds`), of any time and branch. */
  readonly rounds: readonly RoundBody[];
  readonly travel: TravelOf;
  readonly clock: ZoneClock;
  /** Learned minutes (`estimateServiceMinutes`); absent = its priors, which stand in for records. */
  readonly minutes?: VisitMinutes;
  /** Who was there last, by property; absent = as the published rounds of the past say. */
  readonly lastPerson?: Readonly<Record<string, string>>;
  /** Published rounds from this day until `from` count as done, as nobody has recorded them yet; absent = `from`. */
  readonly today?: Day;
  readonly weights?: Partial<PlanWeights>;
  /**
   * Visits to hold where they stand although they are not frozen, by their ids (what the lead has put by hand); each keeps
   * its person, day and time as published.
   */
  readonly hold?: readonly string[];
}

/** Minutes of a visit that does these works, arriving and paperwork included. */
export interface VisitMinutes {
  readonly minutesFor: (works: readonly WorkKind[], property?: string) => { readonly mean: number };
}

/** The longest horizon, days: what is found at the next look changes what follows, so that more would be guesswork. */
export const MOST_DAYS = 91;
