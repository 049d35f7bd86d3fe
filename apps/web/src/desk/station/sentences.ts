import type { Day, StationState } from '@sillwatch/trade';
import { markOf } from '../../marks/stationMark.tsx';
import type { Words } from '../../words/index.ts';

/** How the station stands, in one to three plain sentences. */
export function sentencesOf(state: StationState, w: Words, day: (day: Day) => string): readonly string[] {
  const s = w.station.sentences;
  const sentences: string[] = [];
  if (!state.inService) return [s.removed];
  if (state.missesInARow > 0 && state.missedSince !== null)
    sentences.push(s.missed(state.missesInARow, day(state.missedSince)));
  sentences.push(phaseSentence(state, w, day));
  if (state.carriedOverOn !== null) sentences.push(s.carriedOver(day(state.carriedOverOn)));
  return sentences;
}

function phaseSentence(state: StationState, w: Words, day: (day: Day) => string): string {
  const s = w.station.sentences;
  if (markOf({ ...state, missesInARow: 0 }) === 'clear' && state.clearedOn !== null)
    return s.clear(day(state.clearedOn), state.termiteFreeLooks);
  switch (state.phase) {
    case 'monitoring':
      return state.lastOpenedOn === null ? s.neverOpened : s.monitoring;
    case 'hit':
      return state.openHitOn === null ? s.hitNoDay : s.hit(day(state.openHitOn));
    case 'feeding':
      return state.feedingSince === null || state.feedingLastSeenOn === null
        ? s.feedingNoDay
        : s.feeding(day(state.feedingSince), day(state.feedingLastSeenOn));
    case 'baited':
      return state.baitedOn === null ? s.baitedNoDay : s.baited(day(state.baitedOn));
  }
}
