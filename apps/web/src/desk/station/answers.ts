import {
  BAIT_LEFT,
  type BaitLeft,
  type Finding,
  type HousingCondition,
  MONITOR_CONDITIONS,
  type MonitorCondition,
  type Occupants,
  type Reach,
  type StationState,
  TERMITE_FINDINGS,
  type TermiteFinding,
} from '@sillwatch/trade';

/** What has been answered so far. Termites are never taken for granted: null until somebody has looked. */
export interface Answers {
  readonly reach: Reach;
  readonly why: string;
  readonly termites: TermiteFinding | null;
  readonly baitLeft: BaitLeft | null;
  readonly monitor: MonitorCondition;
  readonly housing: HousingCondition;
  readonly occupants: Occupants;
}

export function firstAnswers(state: StationState): Answers {
  return {
    reach: 'opened',
    why: '',
    termites: null,
    baitLeft: holdsInsert(state, 'bait') ? null : 'no bait',
    monitor: holdsInsert(state, 'monitor') ? 'sound' : hasMonitorSlot(state) ? 'missing' : 'no monitor',
    housing: 'sound',
    occupants: 'none',
  };
}

/** Only what this station can hold is asked for. */
export function termiteOptions(state: StationState): readonly TermiteFinding[] {
  return TERMITE_FINDINGS.filter(
    (finding) =>
      (finding !== 'live on bait' || holdsInsert(state, 'bait')) &&
      (finding !== 'live on monitor' || holdsInsert(state, 'monitor')),
  );
}

export function baitOptions(state: StationState): readonly BaitLeft[] {
  return holdsInsert(state, 'bait') ? BAIT_LEFT.filter((left) => left !== 'no bait') : [];
}

export function monitorOptions(state: StationState): readonly MonitorCondition[] {
  return hasMonitorSlot(state) ? MONITOR_CONDITIONS.filter((condition) => condition !== 'no monitor') : [];
}

/** undefined while something still has to be looked at. */
export function findingOf(answers: Answers): Finding | undefined {
  if (answers.reach !== 'opened') return { reach: answers.reach, why: answers.why };
  if (answers.termites === null || answers.baitLeft === null) return undefined;
  return {
    reach: 'opened',
    termites: answers.termites,
    baitLeft: answers.baitLeft,
    monitor: answers.monitor,
    housing: answers.housing,
    occupants: answers.occupants,
  };
}

function holdsInsert(state: StationState, insert: 'monitor' | 'bait'): boolean {
  return state.slots.some((slot) => slot.insert === insert);
}

/** A base slot is a monitor's place even when it is empty. */
function hasMonitorSlot(state: StationState): boolean {
  return state.slots.some(({ slot, insert }) => slot === 'base' || insert === 'monitor');
}
