/**
 * The closed lists of the trade's words that facts are written in (docs/dictionary.md).
 * Each is data, so that tests and screens can walk the whole list.
 */
export const TASKS = ['check', 'yearly service'] as const;
export type Task = (typeof TASKS)[number];

/** Could the station be opened? */
export const REACHES = ['opened', 'not found', 'blocked'] as const;
export type Reach = (typeof REACHES)[number];

/** `signs only`: mud, galleries or damage without a live termite. Live on bait is what the trade calls feeding. */
export const TERMITE_FINDINGS = ['none', 'signs only', 'live on monitor', 'live on bait'] as const;
export type TermiteFinding = (typeof TERMITE_FINDINGS)[number];

/** Estimated fraction of the bait left, in the steps one can judge by eye; `no bait` where the station holds none. */
export const BAIT_LEFT = ['no bait', 'full', 'three quarters', 'half', 'a quarter', 'gone'] as const;
export type BaitLeft = (typeof BAIT_LEFT)[number];

/** Of the worst monitor in the station. `no monitor`: the model has none (always-baited) or none is fitted. */
export const MONITOR_CONDITIONS = ['sound', 'eaten', 'rotten', 'swollen', 'missing', 'no monitor'] as const;
export type MonitorCondition = (typeof MONITOR_CONDITIONS)[number];

export const HOUSING_CONDITIONS = [
  'sound',
  'cap damaged',
  'loose',
  'flooded',
  'filled with soil',
  'broken',
] as const;
export type HousingCondition = (typeof HOUSING_CONDITIONS)[number];

/** What mends a housing without a part. */
export const HOUSING_REPAIRS = ['bail out water', 'clear soil', 'firm the housing'] as const;
export type HousingRepair = (typeof HOUSING_REPAIRS)[number];

export const OCCUPANTS = ['none', 'ants', 'stinging insects', 'spiders or snakes', 'other'] as const;
export type Occupants = (typeof OCCUPANTS)[number];

export const INSERTS = ['monitor', 'bait'] as const;
export type InsertKind = (typeof INSERTS)[number];

export const FOUNDATIONS = ['slab', 'crawl space', 'basement', 'pier', 'unknown'] as const;
export type Foundation = (typeof FOUNDATIONS)[number];

/** What lies round a structure, as a diagram knows it. Ground that must be drilled before a station can stand in it. */
export const HARD_SURFACES = ['drive', 'walk', 'patio', 'pool', 'other_hard_surface'] as const;
export type HardSurfaceKind = (typeof HARD_SURFACES)[number];

export const PLANTINGS = ['planting', 'wood_to_soil'] as const;
export type PlantingKind = (typeof PLANTINGS)[number];

/** What draws termites or shows that they were here. */
export const CONCERNS = ['moisture', 'old_damage', 'mud_tube', 'stump', 'woodpile', 'other_concern'] as const;
export type ConcernKind = (typeof CONCERNS)[number];

/** What was seen at a station that was opened. */
export interface OpenedFinding {
  readonly reach: 'opened';
  readonly termites: TermiteFinding;
  readonly baitLeft: BaitLeft;
  readonly monitor: MonitorCondition;
  readonly housing: HousingCondition;
  readonly occupants: Occupants;
}
/** A station that nobody could open: it counts as not seen, whatever else is written. */
export interface UnopenedFinding {
  readonly reach: 'not found' | 'blocked';
  /** In the technician's own words. */
  readonly why: string;
}
export type Finding = OpenedFinding | UnopenedFinding;
