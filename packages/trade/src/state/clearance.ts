import type { LabelProfile } from '../profile/labelProfile.ts';
import type { StationState } from './state.ts';

/**
 * The state with the profile's test for "no more termites" applied: after the profile's run of looks without live
 * termites the hit is closed, on the day of the look that completed the run. Applying it twice changes nothing.
 */
export function assessClearance(state: StationState, profile: LabelProfile): StationState {
  if (state.openHitOn === null) return state;
  const clearedOn = state.termiteFreeOn[profile.clearAfterChecks.value - 1];
  if (clearedOn === undefined) return state;
  const phase = state.phase === 'hit' ? 'monitoring' : state.phase;
  return { ...state, phase, openHitOn: null, clearedOn };
}
