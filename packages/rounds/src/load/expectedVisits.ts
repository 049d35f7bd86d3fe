import { type LabelProfile, listVisitStations, type PropertyState, visitDays } from '@sillwatch/trade';
import { addDays, type Day } from '@sillwatch/trade/units';
import type { LoadVisit } from './loadFor.ts';

/**
 * The visits that keep every window of these properties from `from` to `to`, inclusive, as few as can be; properties without a label profile
 * are left out. Work that is late already is visited on the first day. Windows that close after `to` are planned too, so that
 * the last weeks are not empty only because nothing must be done in them.
 */
export function expectedVisits(
  states: Iterable<PropertyState>,
  profiles: Readonly<Record<string, LabelProfile>>,
  from: Day,
  to: Day,
): readonly LoadVisit[] {
  const visits: LoadVisit[] = [];
  for (const { property, body, stations } of states) {
    const profile = profiles[body?.profile ?? ''];
    if (profile === undefined) continue;
    const plan = visitDays(listVisitStations(stations, profile, from), {
      from,
      to: addDays(to, BEYOND_DAYS),
    });
    const late = plan.impossible.filter(({ servedOn }) => servedOn === null);
    const within = plan.visits.filter(({ day }) => day <= to);
    for (const { day, served } of within) visits.push({ property, day, works: served });
    if (late.length > 0 && within.length === 0) visits.push({ property, day: from, works: late });
  }
  return visits;
}

/** The longest window between checks that is usual, and some. */
const BEYOND_DAYS = 130;
