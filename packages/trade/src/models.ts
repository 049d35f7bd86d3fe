import type { InsertKind } from './words.ts';

/** A place for one insert, from the bottom up. */
export interface Slot {
  readonly id: string;
  readonly label: string;
  /** What may stand in it. */
  readonly holds: readonly InsertKind[];
  /** True when lifting it means pulling what termites may be feeding through: the base monitor. */
  readonly isBase: boolean;
}

export type ModelLayout = 'two-part monitor' | 'one-part monitor' | 'always baited';

/** A kind of station: its slots and the parts it takes. Models are data, so that a firm can describe what it has in the ground. */
export interface StationModel {
  readonly id: string;
  readonly name: string;
  readonly layout: ModelLayout;
  readonly slots: readonly Slot[];
  /** Part ids used when renewing; see PARTS. */
  readonly parts: {
    readonly baseMonitor: string | null;
    readonly topMonitor: string | null;
    readonly bait: string | null;
    readonly cap: string;
    readonly housing: string;
  };
}

const base = { id: 'base', label: 'base monitor', holds: ['monitor'], isBase: true } as const;
const top = { id: 'top', label: 'top monitor', holds: ['monitor', 'bait'], isBase: false } as const;

/** Two monitors one above the other; bait takes the top slot, so that the base stays undisturbed. */
export const TWO_PART: StationModel = {
  id: 'two-part',
  name: 'Two-part monitor station',
  layout: 'two-part monitor',
  slots: [base, top],
  parts: {
    baseMonitor: 'base-monitor',
    topMonitor: 'top-monitor',
    bait: 'bait-insert',
    cap: 'cap-two-part',
    housing: 'housing-two-part',
  },
};

/** One slot, monitor or bait. A hit here is baited beside the monitor (an upper cup), never by pulling it. */
export const ONE_PART: StationModel = {
  id: 'one-part',
  name: 'One-part monitor station',
  layout: 'one-part monitor',
  slots: [
    { id: 'base', label: 'monitor', holds: ['monitor'], isBase: true },
    { id: 'cup', label: 'bait cup', holds: ['bait'], isBase: false },
  ],
  parts: {
    baseMonitor: 'single-monitor',
    topMonitor: null,
    bait: 'bait-cup',
    cap: 'cap-one-part',
    housing: 'housing-one-part',
  },
};

/** Bait from the first day, no monitor. */
export const ALWAYS_BAITED: StationModel = {
  id: 'always-baited',
  name: 'Always-baited station',
  layout: 'always baited',
  slots: [{ id: 'bait', label: 'bait', holds: ['bait'], isBase: false }],
  parts: {
    baseMonitor: null,
    topMonitor: null,
    bait: 'bait-insert',
    cap: 'cap-one-part',
    housing: 'housing-one-part',
  },
};

export const STATION_MODELS: readonly StationModel[] = [TWO_PART, ONE_PART, ALWAYS_BAITED];

/** Generic names only; a firm maps them to the stock numbers it buys. */
export const PARTS: Readonly<Record<string, string>> = {
  'base-monitor': 'base monitor',
  'top-monitor': 'top monitor',
  'single-monitor': 'single monitor',
  'bait-insert': 'bait insert',
  'bait-cup': 'bait cup',
  'cap-two-part': 'cap, two-part station',
  'cap-one-part': 'cap, one-part station',
  'housing-two-part': 'housing, two-part station',
  'housing-one-part': 'housing, one-part station',
};
