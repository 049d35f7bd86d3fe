import type { WorkKind } from '../due/due.ts';

/** Degrees, WGS 84. */
export interface Place {
  readonly latitude: number;
  readonly longitude: number;
}

/** Hours of one weekday, on the clock of the branch: `HH:MM` to `HH:MM`. Weekday 1 is Monday, 7 is Sunday (ISO 8601). */
export interface DayHours {
  readonly weekday: number;
  readonly from: string;
  readonly to: string;
}

/** A person who drives rounds: where, when, with what licence. The latest of each person counts. */
export interface TechnicianBody {
  /** Account id. */
  readonly person: string;
  readonly name: string;
  readonly branch: string;
  /** Certified applicator's number; null for who applies under supervision only. */
  readonly licenceNumber: string | null;
  readonly start: Place;
  readonly end: Place;
  readonly hours: readonly DayHours[];
  /** Minutes of a break that belongs to every round longer than six hours; 0 = none. */
  readonly breakMinutes: number;
  /** Most minutes a day beyond the hours. */
  readonly mostOvertimeMinutes: number;
  /** What a property may ask for, in the firm's own words. */
  readonly skills: readonly string[];
  /** False once he has left: kept, and given no work. */
  readonly active: boolean;
}

/** Nobody of a branch drives on these days (a holiday, rain): both days count. */
export interface ClosedDaysBody {
  readonly branch: string;
  readonly from: string;
  readonly to: string;
  readonly why: string;
}

/** Sick, on leave, in training: both days count. */
export interface AwayBody {
  readonly person: string;
  readonly from: string;
  readonly to: string;
  readonly why: string;
}

export interface RoundVisit {
  /** The id that the records of this visit will carry. */
  readonly visit: string;
  readonly property: string;
  /** RFC 3339 with offset: planned arrival and departure. */
  readonly startsAt: string;
  readonly endsAt: string;
  readonly driveMinutes: number;
  readonly driveMetres: number;
  readonly works: readonly { readonly station: string; readonly work: WorkKind }[];
  /** Customer requests served besides (`visit asked`). */
  readonly asks: readonly string[];
  /** True = a plan made later leaves it where it is. */
  readonly frozen: boolean;
}

/** How travel times were had: offline from distances, or from a road network. */
export const TRAVEL_SOURCES = ['great circle', 'road network in process', 'road service'] as const;
export type TravelSource = (typeof TRAVEL_SOURCES)[number];

/** One technician's round of one day as it was sent out; the latest of person and day counts, and may hold no visit. */
export interface RoundBody {
  readonly plan: string;
  readonly branch: string;
  readonly person: string;
  readonly day: string;
  /** RFC 3339 with offset: leaving the start place, back at the end place. */
  readonly startsAt: string;
  readonly endsAt: string;
  readonly breakMinutes: number;
  readonly travel: TravelSource;
  readonly visits: readonly RoundVisit[];
}

/** A customer's request beside the due work: the office takes it, a visit serves it. */
export interface AskBody {
  readonly ask: string;
  readonly earliest: string;
  readonly latest: string;
  readonly minutes: number;
  readonly why: string;
  readonly urgent: boolean;
}

/** What the customer was told; the latest of a property counts, `day` null takes it back. */
export interface PromiseBody {
  readonly day: string | null;
  /** `HH:MM`, on the property's clock. */
  readonly from: string;
  readonly to: string;
  readonly how: string;
}

/** What one carries and counts. The latest of each part counts. */
export interface PartBody {
  readonly part: string;
  readonly name: string;
  /** Sold in packs of so many. */
  readonly packSize: number;
  readonly leadDays: number;
  /** Grams of product in one, for bait; null for what holds no pesticide. */
  readonly baitGrams: number | null;
}

/** A place that holds stock: a branch, or a technician's truck (the account id of who drives it). */
export interface StockBody {
  readonly place: string;
  readonly part: string;
  readonly count: number;
  /** The lot as printed on the pack; null where there is none. */
  readonly lot: string | null;
  /** Last day of use; null = does not expire. */
  readonly usableUntil: string | null;
}

export interface StockReceivedBody extends StockBody {
  /** The order that it answers, wholly or in part (`parts ordered`); absent = none, or nobody knows which. */
  readonly order?: string;
}

/** Parts of one kind that were ordered. What comes of them are `stock received` that name the order. */
export interface PartsOrderedBody {
  readonly order: string;
  /** Where they are to come: a branch. */
  readonly place: string;
  readonly part: string;
  readonly count: number;
  readonly orderedOn: string;
  readonly expectedOn: string;
  /** The supplier's number or the firm's own, in free words; '' = none. */
  readonly reference: string;
}

export interface StockMovedBody {
  readonly from: string;
  readonly to: string;
  readonly part: string;
  readonly count: number;
  readonly lot: string | null;
}

/**
 * When the soil at a branch is warm enough for termites to forage, by its own weather records: the planner may like those days better, inside the
 * windows. null = off, as it is until somebody enters it.
 */
export interface SoilSeasonBody {
  readonly branch: string;
  readonly season: SoilNumbers | null;
}

export interface SoilNumbers {
  /** of the year at the soil's surface, degrees Celsius */
  readonly meanCelsius: number;
  /** half of warmest less coldest, degrees Celsius */
  readonly amplitudeCelsius: number;
  /** `MM-DD`: the day on which the surface is coldest */
  readonly coldestOn: string;
  readonly depthMetres: number;
  /** thermal diffusivity of the soil, square millimetres a second */
  readonly diffusivityMm2PerSecond: number;
  /** degrees Celsius from which the firm takes termites to forage at this depth: its own judgement */
  readonly forageFromCelsius: number;
  /** where the numbers were taken from, in words */
  readonly source: string;
}

/** A secret address that was handed out; only the SHA-256 of the secret is kept. */
export interface LinkBody {
  readonly link: string;
  readonly secretHash: string;
  /** `property page`: one customer sees one property; `property calendar`, `round calendar`: iCalendar feeds. */
  readonly purpose: 'property page' | 'property calendar' | 'round calendar';
  /** Of a round calendar; null otherwise. */
  readonly person: string | null;
  /** RFC 3339; null = until it is withdrawn. */
  readonly expiresAt: string | null;
}

/** A paper that left by e-mail, or could not. */
export interface PaperSentBody {
  readonly paper: string;
  readonly visit: string | null;
  readonly to: string;
  /** sha256 hex of what was attached; null when nothing was. */
  readonly contentHash: string | null;
  readonly outcome: 'sent' | 'refused';
  readonly detail: string;
}
