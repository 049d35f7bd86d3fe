import { dueWork, type PropertyState, timelinessOn } from '@sillwatch/trade';
import { type Day, dayToText, findDay } from '@sillwatch/trade/units';
import { compareKeys } from './compareKeys.ts';
import type { FigureSubject } from './riskColumns.ts';
import { type Sentence, sentence } from './sentences.ts';

/** A count with the properties behind it, the worst first. */
export interface PropertyList {
  readonly count: number;
  readonly items: readonly {
    readonly property: string;
    readonly count: number;
    /** the day that it is about (latest day kept, first day missed, renewal), `YYYY-MM-DD`; null = none */
    readonly day: string | null;
  }[];
  readonly says: Sentence;
}

/** Works whose window is over, by property, the longest overdue first. */
export function lateWork(subjects: readonly FigureSubject[], asOf: Day): PropertyList {
  return listOf(
    subjects.map(({ history, state, profile }) => {
      const { items } = dueWork(state.stations, profile, asOf);
      const late = items.filter((item) => timelinessOn(item, asOf) === 'late');
      return {
        property: history.property,
        count: late.length,
        day: earliest(late.map(({ latest }) => latest)),
      };
    }),
  );
}

/** Stations that could not be opened at two looks in a row or more. */
export function stationsUnseenTwice(states: readonly PropertyState[]): PropertyList {
  return listOf(
    states.map(({ property, stations }) => {
      const unseen = stations.filter((one) => one.inService && one.missesInARow >= 2);
      return { property, count: unseen.length, day: earliest(unseen.map(({ missedSince }) => missedSince)) };
    }),
  );
}

/** Yearly services that were skipped because of live termites and are still owed. */
export function stationsCarriedOver(states: readonly PropertyState[]): PropertyList {
  return listOf(
    states.map(({ property, stations }) => {
      const carried = stations.filter((one) => one.inService && one.carriedOverOn !== null);
      return {
        property,
        count: carried.length,
        day: earliest(carried.map(({ carriedOverOn }) => carriedOverOn)),
      };
    }),
  );
}

const RENEWAL_DAYS = 90;

/** Agreements that have run out, or renew within 90 days; one a property. */
export function renewals(states: readonly PropertyState[], asOf: Day): PropertyList {
  return listOf(
    states.map(({ property, body }) => {
      const renewsOn = findDay(body?.agreement?.renewsOn ?? '');
      const isNear = renewsOn !== undefined && renewsOn <= asOf + RENEWAL_DAYS;
      return { property, count: isNear ? 1 : 0, day: isNear ? renewsOn : null };
    }),
  );
}

function listOf(
  found: readonly { readonly property: string; readonly count: number; readonly day: Day | null }[],
): PropertyList {
  const own = found.filter(({ count }) => count > 0);
  own.sort((a, b) => (a.day ?? 0) - (b.day ?? 0) || compareKeys(a.property, b.property));
  const count = own.reduce((sum, one) => sum + one.count, 0);
  return {
    count,
    items: own.map(({ property, count: many, day }) => ({
      property,
      count: many,
      day: day === null ? null : dayToText(day),
    })),
    says: count === 0 ? sentence('none') : sentence('count', { count, properties: own.length }),
  };
}

function earliest(days: readonly (Day | null)[]): Day | null {
  return days.reduce((first, day) => (first === null || (day !== null && day < first) ? day : first), null);
}
