import type { Slot, StationModel } from '../models.ts';
import type { StationState } from '../state/state.ts';
import type { BaitLeft } from '../words.ts';
import type { StepsInput } from './steps.ts';
import type { BAIT_PLACES, BaitAmount, MONITOR_SLOTS } from './tables/inputs.ts';

/** Fraction of the bait left, 0 to 1. */
const FRACTION_LEFT: Readonly<Record<Exclude<BaitLeft, 'no bait'>, number>> = {
  full: 1,
  'three quarters': 0.75,
  half: 0.5,
  'a quarter': 0.25,
  gone: 0,
};

/** Today's bait against the threshold (a fraction, 0 to 1). What was seen counts; the ledger only says what should be there. */
export function baitAmountOf(baitLeft: BaitLeft, state: StationState, addAtOrUnder: number): BaitAmount {
  if (baitLeft === 'gone') return 'gone';
  if (baitLeft === 'no bait') return ledgerHoldsBait(state) ? 'gone' : 'none';
  return FRACTION_LEFT[baitLeft] <= addAtOrUnder ? 'at or under the threshold' : 'enough';
}

/** Whether the ledger says that a slot of this station holds bait. */
export function ledgerHoldsBait(state: StationState): boolean {
  return state.slots.some((slot) => slot.insert === 'bait');
}

export interface ModelShape {
  readonly base: Slot | undefined;
  readonly top: Slot | undefined;
  /** Where bait goes: a place of its own before a shared one, and the base only when there is no other. */
  readonly bait: Slot | undefined;
  readonly monitorSlots: (typeof MONITOR_SLOTS)[number];
  readonly baitPlace: (typeof BAIT_PLACES)[number];
}

export function shapeOf(model: StationModel): ModelShape {
  const { slots } = model;
  const base = slots.find((slot) => slot.isBase && slot.holds.includes('monitor'));
  const top = slots.find((slot) => !slot.isBase && slot.holds.includes('monitor'));
  const beside = slots.filter((slot) => !slot.isBase && slot.holds.includes('bait'));
  const bait =
    beside.find((slot) => !slot.holds.includes('monitor')) ??
    beside[0] ??
    slots.find((slot) => slot.holds.includes('bait'));
  const monitors = (base === undefined ? 0 : 1) + (top === undefined ? 0 : 1);
  return {
    base,
    top,
    bait,
    monitorSlots: monitors === 0 ? 'none' : monitors === 1 ? 'one' : 'two',
    baitPlace: bait === undefined ? 'none' : bait.isBase ? 'in place of the base' : 'beside the base',
  };
}

export interface HitStanding {
  /** Live termites were found before and the station has not become clear since. */
  readonly known: boolean;
  /** With a look without live termites today the run that the profile asks for is complete. */
  readonly becomesClear: boolean;
  /** Clear after a hit, with such a look today or from before. */
  readonly clear: boolean;
  /** Still not clear after such a look. */
  readonly openAfter: boolean;
}

/** How the hit stands if today's look finds no live termites; the state may come with or without its clearance assessed. */
export function hitStandingOf({ state, profile }: StepsInput): HitStanding {
  const run = profile.clearAfterChecks.value;
  const open = state.openHitOn !== null && state.termiteFreeLooks < run;
  const clearBefore = !open && (state.openHitOn !== null || state.clearedOn !== null);
  const becomesClear = open && state.termiteFreeLooks + 1 >= run;
  return {
    known: open || state.phase === 'feeding',
    becomesClear,
    clear: clearBefore || becomesClear,
    openAfter: open && !becomesClear,
  };
}
