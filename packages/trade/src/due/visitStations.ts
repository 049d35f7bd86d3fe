import type { LabelProfile } from '../profile/labelProfile.ts';
import { assessClearance } from '../state/clearance.ts';
import type { StationState } from '../state/state.ts';
import type { Day } from '../units/index.ts';
import { dueWork } from './dueWork.ts';
import type { VisitChain, VisitStation } from './visitDays.ts';

/**
 * What `visitDays` plans for these stations: what each owes now, and what follows if it stays as it is (bait or an open
 * hit keeps the interval for baited stations). A held yearly service is left out: nobody knows when it can be done.
 */
export function listVisitStations(
  states: Iterable<StationState>,
  profile: LabelProfile,
  asOf: Day,
): readonly VisitStation[] {
  const stations: VisitStation[] = [];
  for (const state of states) {
    let look: VisitChain | null = null;
    let yearly: VisitChain | null = null;
    for (const { work, earliest, target, latest } of dueWork([state], profile, asOf).items) {
      const window = { earliest, target, latest };
      switch (work) {
        case 'yearly service':
        case 'carried-over service':
          yearly = { work, window, next: { work: 'yearly service', rule: profile.yearlyService.value } };
          break;
        case 'replacement':
          look = { work, window, next: { work: 'first check', rule: profile.firstCheck.value } };
          break;
        case 'first check':
        case 'check':
        case 'baited check':
        case 'missed station':
          look = { work, window, next: lookAgain(state, profile) };
          break;
      }
    }
    if (look !== null || yearly !== null) stations.push({ station: state.station, look, yearly });
  }
  return stations;
}

function lookAgain(folded: StationState, profile: LabelProfile): VisitChain['next'] {
  const { baitedOn, openHitOn } = assessClearance(folded, profile);
  return baitedOn !== null || openHitOn !== null
    ? { work: 'baited check', rule: profile.baitedCheck.value }
    : { work: 'check', rule: profile.check.value };
}
