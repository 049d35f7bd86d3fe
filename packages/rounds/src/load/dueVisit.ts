import { dueWork, type LabelProfile, type PropertyState, type RoundBody } from '@sillwatch/trade';
import { type Day, getDay } from '@sillwatch/trade/units';
import type { LoadVisit } from './loadFor.ts';

/** A visit on this day that does all work that is open or late by then; no works where nothing is. */
export function dueVisit({ property, stations }: PropertyState, profile: LabelProfile, day: Day): LoadVisit {
  const { items } = dueWork(stations, profile, day);
  return { property, day, works: items.filter(({ earliest }) => earliest <= day) };
}

/** The visits of a round as it was published. */
export function visitsOfRound({ day, visits }: RoundBody): readonly LoadVisit[] {
  return visits.map(({ property, works }) => ({ property, day: getDay(day), works }));
}
