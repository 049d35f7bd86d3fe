import type { MessagePort } from 'node:worker_threads';
import type { Problem } from '@sillwatch/planner';
import type { BranchPlan, MoveOutcome, PlanComparison, TravelTable, WantedMove } from '@sillwatch/rounds';
import type { AnyFact, Day, FirmState, Place, PropertyState, RoundBody } from '@sillwatch/trade';

/** All that a plan's thread needs; it opens no database and asks no clock but the one on its wall. */
export interface PlanTask {
  readonly plan: string;
  readonly branch: string;
  readonly from: Day;
  readonly days: number;
  /** In the zone of the branch. */
  readonly today: Day;
  readonly properties: readonly PropertyState[];
  readonly firm: FirmState;
  /** As sent out so far, of any branch. */
  readonly published: readonly RoundBody[];
  /** Account id of who was there last, by property. */
  readonly lastPerson: Readonly<Record<string, string>>;
  readonly travel: TravelTable;
  /** Facts of some properties, to learn minutes of service from. */
  readonly records: readonly (readonly AnyFact[])[];
  /** Rounds of this plan made so far: a search starts from them; null = none yet. */
  readonly draft: readonly RoundBody[] | null;
}

export interface SearchBudget {
  readonly seconds: number;
  /** Ends after so many iterations of one thread, however long they take: then the same seed gives the same rounds. */
  readonly iterations: number | null;
  readonly seed: number;
  readonly threads: number;
}

export interface PlanProgress {
  readonly elapsedSeconds: number;
  /** of the budget, 0 to 1 */
  readonly share: number;
  /** of all threads */
  readonly iterations: number;
  /** Technician's minutes, and what stands for them; falls as the search goes on. */
  readonly costMinutes: number;
  readonly rounds: number;
  readonly visits: number;
  readonly unplannedVisits: number;
  readonly driveMinutes: number;
}

/** A plan with all that is said about it. */
export interface PlanResult {
  readonly plan: BranchPlan;
  readonly comparison: PlanComparison;
  /** How travel fell back, in words. */
  readonly notes: readonly string[];
}

/** The large lists of a task follow in pieces, because handing over one large thing would hold up the server. */
export type TaskHead = Omit<PlanTask, 'properties' | 'records'>;
export type TaskPiece = Pick<PlanTask, 'properties' | 'records'>;

/** What the plan's thread is asked, one after the other; each answer carries the number of its question. */
export type DeskQuestion =
  | { readonly kind: 'search'; readonly budget: SearchBudget; readonly stop: Int32Array }
  | { readonly kind: 'show' }
  | { readonly kind: 'try'; readonly visit: string; readonly to: WantedMove }
  | { readonly kind: 'apply'; readonly visit: string; readonly to: WantedMove };

export type DeskAnswer =
  | { readonly kind: 'plan'; readonly result: PlanResult }
  | { readonly kind: 'tried'; readonly outcome: MoveOutcome }
  | { readonly kind: 'applied'; readonly outcome: MoveOutcome; readonly result: PlanResult | null }
  /** The task cannot be planned as it is; words for a person. */
  | { readonly kind: 'refused'; readonly why: string };

export type DeskMessage =
  | { readonly number: number; readonly answer: DeskAnswer }
  | { readonly progress: PlanProgress }
  /** The best so far, now and then. */
  | { readonly rounds: readonly RoundBody[] };

/** What a further search thread starts from: the problem without its functions, which it makes again. */
export interface SearchStart {
  readonly port: MessagePort;
  readonly problem: Omit<Problem, 'travel'>;
  readonly places: readonly Place[];
  readonly travel: TravelTable;
  readonly kilometreSeconds: number;
  readonly seed: number;
  readonly seconds: number;
  readonly stop: Int32Array;
  /** The first thread's plan. */
  readonly snapshot: Int32Array;
}

/** Between search threads: a best plan, and how many iterations were made for it. */
export interface SearchNews {
  readonly total: number;
  readonly snapshot: Int32Array | null;
  readonly iterations: number;
}
