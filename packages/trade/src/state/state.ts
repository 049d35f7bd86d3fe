import type { AnyFact, PropertyBody, StructureBody } from '../facts/fact.ts';
import type {
  AskBody,
  AwayBody,
  ClosedDaysBody,
  LinkBody,
  PaperSentBody,
  PartBody,
  PromiseBody,
  SoilNumbers,
  TechnicianBody,
} from '../facts/officeBodies.ts';
import type { SiteBody } from '../facts/siteBody.ts';
import type { StationModel } from '../models.ts';
import type { LabelProfile } from '../profile/labelProfile.ts';
import type { Day } from '../units/index.ts';
import type { BaitLeft, InsertKind } from '../words.ts';

/**
 * Where the station stands between visits:
 * `monitoring` no bait, no hit that is still open; `hit` live termites were found and no bait is in yet;
 * `feeding` live termites on bait at the last look; `baited` bait in place, none on it at the last look.
 */
export const PHASES = ['monitoring', 'hit', 'feeding', 'baited'] as const;
export type Phase = (typeof PHASES)[number];

export interface SlotState {
  readonly slot: string;
  /** null = empty */
  readonly insert: InsertKind | null;
  readonly fittedOn: Day | null;
}

/** Pure function of the facts of one station; can be thrown away and rebuilt. */
export interface StationState {
  readonly station: string;
  readonly property: string;
  readonly structure: string;
  readonly number: number;
  readonly tag: string | null;
  readonly model: string;
  readonly position: readonly [number, number] | null;
  readonly auxiliary: boolean;
  readonly inService: boolean;
  readonly installedOn: Day;
  readonly slots: readonly SlotState[];
  /** Last day the station was opened and looked at; null = never since it was installed. */
  readonly lastOpenedOn: Day | null;
  /** Last completed yearly service; null = none yet (the window then counts from installation). */
  readonly lastYearlyOn: Day | null;
  readonly phase: Phase;
  /** Day of the first hit ever and of the latest hit whose clearance is open; null = none. */
  readonly firstHitOn: Day | null;
  readonly openHitOn: Day | null;
  /** First and last look of the current or latest run of feeding. */
  readonly feedingSince: Day | null;
  readonly feedingLastSeenOn: Day | null;
  /** First look without live termites after feeding; null while feeding or when there was none. */
  readonly feedingEndedOn: Day | null;
  readonly baitedOn: Day | null;
  readonly baitLeft: BaitLeft;
  /** Looks in a row without live termites since the last live ones, and their days; 0 and none when never hit. */
  readonly termiteFreeLooks: number;
  readonly termiteFreeOn: readonly Day[];
  /** Filled by `assessClearance`, which needs the label profile; null as folded. */
  readonly clearedOn: Day | null;
  /** Set when a yearly service was skipped because termites were feeding; cleared by the yearly service. */
  readonly carriedOverOn: Day | null;
  /** Looks in a row at which it could not be opened, and the day of the first of them. */
  readonly missesInARow: number;
  readonly missedSince: Day | null;
  /** True when the facts of this station disagree with the rule "never disturb a station that is feeding". */
  readonly disturbedWhileFeeding: boolean;
  /** Ids of facts whose device clock is doubtful. */
  readonly doubtfulClocks: readonly string[];
}

export interface StructureState extends StructureBody {
  readonly property: string;
}

export interface VisitSummary {
  readonly visit: string;
  readonly day: Day;
  readonly opened: number;
  readonly unopened: number;
  /** Account id of who made its first record. */
  readonly by: string;
}

/** All that the facts of one property say. Unknown kinds and facts about unknown stations are counted, kept, and passed over. */
export interface PropertyState {
  readonly property: string;
  readonly body: PropertyBody | null;
  readonly structures: readonly StructureState[];
  readonly stations: readonly StationState[];
  readonly visits: readonly VisitSummary[];
  /** The surroundings as last drawn; null = never drawn. */
  readonly site: SiteBody | null;
  /** Customer requests that no visit has settled and nobody took back, by their latest day. */
  readonly asks: readonly AskBody[];
  /** What the customer was told last; null = nothing, or taken back. */
  readonly promise: PromiseBody | null;
  readonly papersSent: readonly (PaperSentBody & { readonly at: string })[];
  /** Secret addresses that nobody withdrew; the reader compares `expiresAt`. */
  readonly links: readonly LinkBody[];
  readonly passedOver: readonly AnyFact[];
}

/** What the firm's own facts say, by id, the latest of each. */
export interface FirmState {
  readonly profiles: Readonly<Record<string, LabelProfile>>;
  readonly models: Readonly<Record<string, StationModel>>;
  readonly branches: Readonly<
    Record<string, { readonly branch: string; readonly name: string; readonly timeZone: string }>
  >;
  /** By account id. */
  readonly technicians: Readonly<Record<string, TechnicianBody>>;
  /** By first day, then by person. */
  readonly away: readonly AwayBody[];
  readonly closed: readonly ClosedDaysBody[];
  readonly parts: Readonly<Record<string, PartBody>>;
  /** By branch; those without one have it off. */
  readonly soilSeasons: Readonly<Record<string, SoilNumbers>>;
  readonly links: readonly LinkBody[];
}
