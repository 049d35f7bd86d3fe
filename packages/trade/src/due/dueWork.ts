import type { LabelProfile } from '../profile/labelProfile.ts';
import { decide } from '../rules/table.ts';
import { assessClearance } from '../state/clearance.ts';
import type { StationState } from '../state/state.ts';
import type { Day } from '../units/index.ts';
import type { DueItem, DueWork, HeldService, WorkKind } from './due.ts';
import { NEXT_LOOK, YEARLY_OWED } from './tables.ts';
import { createWindowBook, type DueWindow } from './window.ts';

/**
 * What is owed at these stations under one label profile: at most one look and one yearly service each, with the row
 * that asked for it. Windows do not depend on `asOf`; a station that was set after that day owes nothing yet.
 * Stations out of service owe nothing.
 */
export function dueWork(states: Iterable<StationState>, profile: LabelProfile, asOf: Day): DueWork {
  const windows = openWindows(profile);
  const items: DueItem[] = [];
  const held: HeldService[] = [];
  const structures = new Map<string, Clearing>();
  for (const folded of states) {
    if (!folded.inService || folded.installedOn > asOf) continue;
    const state = assessClearance(folded, profile);
    noteClearance(structures, state);
    items.push(nextLook(state, profile, windows));
    const yearly = yearlyOwed(state, windows);
    if ('feedingSince' in yearly) held.push(yearly);
    else items.push(yearly);
  }
  return { items, held, clearStructures: clearStructures(structures) };
}

type Windows = Readonly<Record<Exclude<WorkKind, 'replacement'>, (from: Day) => DueWindow>>;

function openWindows(profile: LabelProfile): Windows {
  return {
    'first check': createWindowBook(profile.firstCheck.value),
    check: createWindowBook(profile.check.value),
    'baited check': createWindowBook(profile.baitedCheck.value),
    'yearly service': createWindowBook(profile.yearlyService.value),
    'carried-over service': createWindowBook(profile.carriedOverService.value),
    'missed station': createWindowBook(profile.missedStation.value),
  };
}

function nextLook(state: StationState, profile: LabelProfile, windows: Windows): DueItem {
  const { missesInARow } = state;
  const { answer, id } = decide(NEXT_LOOK, {
    standing:
      missesInARow === 0
        ? 'seen at the last visit'
        : missesInARow >= profile.missesBeforeReplacement.value
          ? 'missed too often'
          : 'missed',
    everOpened: state.lastOpenedOn === null ? 'no' : 'yes',
    holdsBait: state.baitedOn === null ? 'no' : 'yes',
    hitOpen: state.openHitOn === null ? 'no' : 'yes',
  });
  switch (answer) {
    case 'replacement':
      return toItem(state, answer, id, windows['missed station'], state.missedSince ?? state.installedOn);
    case 'missed station':
      return toItem(state, answer, id, windows[answer], state.missedSince ?? state.installedOn);
    case 'check':
    case 'baited check':
      return toItem(state, answer, id, windows[answer], state.lastOpenedOn ?? state.installedOn);
    case 'first check':
      return toItem(state, answer, id, windows[answer], state.installedOn);
  }
}

function yearlyOwed(state: StationState, windows: Windows): DueItem | HeldService {
  const liveAtLastLook = state.openHitOn !== null && state.termiteFreeLooks === 0;
  const { answer, id } = decide(YEARLY_OWED, {
    carriedOver: state.carriedOverOn === null ? 'no' : 'yes',
    liveAtLastLook: liveAtLastLook ? 'yes' : 'no',
  });
  const lastYearly = state.lastYearlyOn ?? state.installedOn;
  switch (answer) {
    case 'held':
      return {
        property: state.property,
        structure: state.structure,
        station: state.station,
        latest: windows['yearly service'](lastYearly).latest,
        feedingSince: state.feedingSince ?? state.openHitOn ?? lastYearly,
      };
    case 'carried-over service': {
      // The first look without live termites; after a hit that never fed on bait there is no day on which feeding ended.
      const ended = state.termiteFreeOn[0] ?? state.feedingEndedOn ?? state.lastOpenedOn ?? lastYearly;
      return toItem(state, answer, id, windows[answer], ended);
    }
    case 'yearly service':
      return toItem(state, answer, id, windows[answer], lastYearly);
  }
}

function toItem(
  state: StationState,
  work: WorkKind,
  row: string,
  windowOf: (from: Day) => DueWindow,
  countedFrom: Day,
): DueItem {
  const { earliest, target, latest } = windowOf(countedFrom);
  const { property, structure, station } = state;
  return { property, structure, station, work, earliest, target, latest, row, countedFrom };
}

interface Clearing {
  readonly property: string;
  readonly structure: string;
  /** null while a hit of this structure is open */
  readonly clearedOn: Day | null;
}

/** A structure is clear when all its hit stations are, on the day of the last to become so. */
function noteClearance(structures: Map<string, Clearing>, state: StationState): void {
  if (state.firstHitOn === null) return;
  if (state.openHitOn === null && state.clearedOn === null) return;
  const { property, structure } = state;
  const key = `${property}\u0000${structure}`;
  const known = structures.get(key);
  const isOpen = state.openHitOn !== null || (known !== undefined && known.clearedOn === null);
  const later = known?.clearedOn ?? null;
  const own = state.clearedOn;
  const clearedOn = isOpen || own === null ? null : later !== null && later > own ? later : own;
  structures.set(key, { property, structure, clearedOn });
}

function clearStructures(structures: ReadonlyMap<string, Clearing>): DueWork['clearStructures'] {
  const clear: { property: string; structure: string; clearedOn: Day }[] = [];
  for (const { property, structure, clearedOn } of structures.values()) {
    if (clearedOn !== null) clear.push({ property, structure, clearedOn });
  }
  return clear;
}
