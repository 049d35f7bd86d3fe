import type { StationModel } from '../models.ts';
import type { LabelProfile } from '../profile/labelProfile.ts';
import type { Finding, Foundation, HousingRepair, InsertKind, Task } from '../words.ts';
import type {
  AskBody,
  AwayBody,
  ClosedDaysBody,
  LinkBody,
  PaperSentBody,
  PartBody,
  PartsOrderedBody,
  PromiseBody,
  RoundBody,
  SoilSeasonBody,
  StockBody,
  StockMovedBody,
  StockReceivedBody,
  TechnicianBody,
} from './officeBodies.ts';
import type { SiteBody } from './siteBody.ts';

/**
 * What every fact carries. Facts are past tense, appended, and never changed.
 * `at` says when it happened (device time with offset); `clock` says when it was recorded, in an order all devices agree on.
 */
export interface FactHead {
  /** UUIDv7, RFC 9562. */
  readonly id: string;
  readonly firm: string;
  /** null for facts of the firm itself (profile, model, branch, person). */
  readonly property: string | null;
  readonly station: string | null;
  /** Account id of who recorded it. */
  readonly by: string;
  readonly device: string;
  /** Counts up by one for each fact of a device, from 1. */
  readonly seq: number;
  /** RFC 3339 with offset: when it was seen or done. */
  readonly at: string;
  /** Hybrid logical clock: 15 digits of milliseconds, `.`, 5 digits of count. Sorts as text. See facts/clock.ts. */
  readonly clock: string;
  /** Added by the server; absent on a device until it has been acknowledged. */
  readonly receipt?: Receipt;
}

export interface Receipt {
  /** Position in the firm's ledger, from 1, without gaps. */
  readonly seq: number;
  /** RFC 3339, UTC. */
  readonly receivedAt: string;
}

export interface Address {
  readonly street: string;
  readonly town: string;
  readonly state: string;
  readonly postcode: string;
}

export interface PropertyBody {
  readonly name: string;
  readonly branch: string;
  readonly address: Address;
  readonly customer: { readonly name: string; readonly email: string | null; readonly phone: string | null };
  /** IANA zone, used to find today's day there. */
  readonly timeZone: string;
  readonly profile: string;
  readonly agreement: { readonly startsOn: string; readonly renewsOn: string } | null;
  readonly accessNotes: string;
  readonly hazards: string;
  /** degrees, WGS 84 */
  readonly position: { readonly latitude: number; readonly longitude: number } | null;
  /** When one can come, on the property's clock; absent or null = on any working hour. Weekday 1 is Monday. */
  readonly visitHours?: {
    readonly weekdays: readonly number[];
    readonly from: string;
    readonly to: string;
  } | null;
  /** What the technician must be able to do, in the firm's own words (see `TechnicianBody.skills`); absent = nothing. */
  readonly skills?: readonly string[];
  /** BCP 47, of the papers for the customer; absent = en-US. */
  readonly language?: string;
}

export interface StructureBody {
  readonly structure: string;
  readonly name: string;
  readonly foundation: Foundation;
  /** Closed ring, first point not repeated, local metres, x east, y north; null when not drawn yet. */
  readonly outline: readonly (readonly [number, number])[] | null;
  /** Courtyards that one can stand in, drawn as the outline is; absent = none. */
  readonly holes?: readonly (readonly (readonly [number, number])[])[];
}

export interface InstallBody {
  readonly structure: string;
  /** Number on the ring, from 1. */
  readonly number: number;
  readonly tag: string | null;
  readonly model: string;
  /** Local metres, x east, y north; null when not drawn yet. */
  readonly position: readonly [number, number] | null;
  /** True when set beside a hit. */
  readonly auxiliary: boolean;
  readonly visit: string | null;
  readonly inserts: readonly FittedInsert[];
  /** Present when bait was put in at installation. */
  readonly application: Application | null;
  /** Imported stations only: where the use record of that bait is kept, in words. */
  readonly recordKeptElsewhere?: string;
}

export interface FittedInsert {
  readonly slot: string;
  readonly insert: InsertKind;
}

/**
 * One application of pesticide, with every field that 7 CFR 110.3(a) asks for; the day is the fact's `at`,
 * the location its property and station.
 */
export interface Application {
  readonly productName: string;
  readonly epaRegistrationNumber: string;
  /** total product applied, grams, more than 0 */
  readonly grams: number;
  /** 7 CFR 110.3(a): location of the application, in words */
  readonly location: string;
  /** size of area treated, in words with unit ("1 station", "42 m of wall") */
  readonly areaTreated: string;
  /** crop, commodity, stored product or site */
  readonly site: string;
  readonly applicatorName: string;
  readonly certificationNumber: string;
  /** Who put it in under the certified applicator's supervision; null when the applicator did. */
  readonly appliedUnderSupervisionBy: string | null;
}

/** What was done with the station's inside. Base monitor lifted or clean-out only ever with no feeding. */
export interface Work {
  /** True when the yearly service of this station was completed. */
  readonly yearlyServiceDone: boolean;
  readonly baseMonitorLifted: boolean;
  readonly cleanedOut: boolean;
  /** slots that received a new insert */
  readonly fitted: readonly FittedInsert[];
  /** slots emptied without a new insert */
  readonly withdrawn: readonly string[];
  /** part id -> count */
  readonly partsUsed: Readonly<Record<string, number>>;
  readonly minutes: number | null;
  /** What was mended on the housing; absent = nothing. */
  readonly repairs?: readonly HousingRepair[];
}

export interface StationSeenBody {
  readonly visit: string;
  readonly task: Task;
  readonly finding: Finding;
  readonly work: Work;
  readonly application: Application | null;
  readonly note: string;
  /** content hashes, sha256 hex */
  readonly photos: readonly string[];
  /** Imported visits only: where the pesticide use record of this visit is kept, in words. */
  readonly recordKeptElsewhere?: string;
}

export interface VisitClosedBody {
  readonly visit: string;
  readonly task: Task;
  readonly technician: string;
  readonly licenceNumber: string;
  /** RFC 3339 with offset */
  readonly startedAt: string;
  readonly note: string;
  /** Present when the customer signed: the name given, and the picture of the signature by content hash. */
  readonly signature?: { readonly name: string; readonly picture: string };
  /** Customer requests (`visit asked`) that this visit settled. */
  readonly asksSettled?: readonly string[];
}

/** kind -> body. A kind that a build does not know is kept and passed over. */
export interface FactBodies {
  readonly 'property added': PropertyBody;
  /** Only what changed. */
  readonly 'property changed': Partial<PropertyBody>;
  readonly 'structure added': StructureBody;
  readonly 'station installed': InstallBody;
  readonly 'station moved': { readonly position: readonly [number, number]; readonly why: string };
  readonly 'station tagged': { readonly tag: string };
  /** A station was given up (lost, or missed too often) and a new one set in its place: its history starts afresh. */
  readonly 'station replaced': {
    readonly model: string;
    readonly why: string;
    readonly inserts: readonly FittedInsert[];
    readonly application: Application | null;
  };
  readonly 'station removed': { readonly why: string };
  readonly 'station seen': StationSeenBody;
  readonly 'visit closed': VisitClosedBody;
  readonly 'note added': { readonly text: string };
  /** Names the fact it corrects; the old one stays readable. `body` null withdraws it. */
  readonly 'fact corrected': {
    readonly corrects: string;
    readonly why: string;
    readonly body: unknown;
    /** the corrected time of happening, when that was what was wrong */
    readonly at: string | null;
  };
  readonly 'profile set': LabelProfile;
  readonly 'model set': StationModel;
  /** The surroundings of the structures, whole; the latest drawing counts. */
  readonly 'site drawn': SiteBody;
  /** A structure that no longer stands, or was drawn by mistake; its stations are facts of their own. */
  readonly 'structure removed': { readonly structure: string; readonly why: string };
  readonly 'visit asked': AskBody;
  readonly 'ask withdrawn': { readonly ask: string; readonly why: string };
  readonly 'visit promised': PromiseBody;
  readonly 'paper sent': PaperSentBody;
  readonly 'link made': LinkBody;
  readonly 'link withdrawn': { readonly link: string };
  readonly 'technician set': TechnicianBody;
  readonly 'technician away': AwayBody;
  readonly 'branch closed': ClosedDaysBody;
  readonly 'round published': RoundBody;
  readonly 'part set': PartBody;
  readonly 'soil season set': SoilSeasonBody;
  readonly 'stock counted': StockBody;
  readonly 'parts ordered': PartsOrderedBody;
  /** What has not come of the order will not come. */
  readonly 'order cancelled': { readonly order: string; readonly why: string };
  readonly 'stock received': StockReceivedBody;
  readonly 'stock moved': StockMovedBody;
  readonly 'branch added': { readonly branch: string; readonly name: string; readonly timeZone: string };
}

export type FactKind = keyof FactBodies;

export type Fact = {
  readonly [K in FactKind]: FactHead & { readonly kind: K; readonly body: FactBodies[K] };
}[FactKind];

/** A fact as it travels and is stored: the kind may be one that this build does not know. */
export interface AnyFact extends FactHead {
  readonly kind: string;
  readonly body: unknown;
}
