import { addDays, addMonths, civilFromDay, type Day, dayFromCivil } from '@sillwatch/trade/units';
import { expectedVisits } from '../load/expectedVisits.ts';
import { compareKeys } from './compareKeys.ts';
import type { FigureSubject } from './riskColumns.ts';
import { type Sentence, sentence } from './sentences.ts';
import type { ServiceMinutes } from './serviceMinutes.ts';

export interface Workload {
  /** by month (`YYYY-MM`), then by branch */
  readonly months: readonly WorkloadMonth[];
  readonly says: Sentence;
}

export interface WorkloadMonth {
  readonly month: string;
  readonly branch: string;
  readonly visits: number;
  readonly works: number;
  /** minutes at properties, without driving; nine months in ten lie between */
  readonly minutes: number;
  readonly interval: { readonly lower: number; readonly upper: number };
}

/**
 * Visits and minutes of the coming months by branch: the fewest visits that keep every window, from today's states. What will be found at those
 * visits is not foreseen.
 */
export function workload(
  subjects: readonly FigureSubject[],
  minutes: ServiceMinutes,
  asOf: Day,
  months: number,
): Workload {
  const { year, month } = civilFromDay(asOf);
  const to = addDays(addMonths(dayFromCivil(year, month, 1), months), -1);
  const branchOf = new Map(subjects.map(({ history, branch }) => [history.property, branch]));
  const profiles = Object.fromEntries(subjects.map(({ profile }) => [profile.id, profile]));
  const states = subjects.map(({ state }) => state);
  const drafts = new Map<
    string,
    { month: string; branch: string; visits: number; works: number; minutes: number; variance: number }
  >();
  for (const { property, day, works } of expectedVisits(states, profiles, asOf, to < asOf ? asOf : to)) {
    const civil = civilFromDay(day);
    const name = `${civil.year}-${String(civil.month).padStart(2, '0')}`;
    const branch = branchOf.get(property) ?? '';
    const key = `${name}\u0000${branch}`;
    const draft = drafts.get(key) ?? { month: name, branch, visits: 0, works: 0, minutes: 0, variance: 0 };
    drafts.set(key, draft);
    const { mean, interval } = minutes.minutesFor(
      works.map(({ work }) => work),
      property,
    );
    draft.visits += 1;
    draft.works += works.length;
    draft.minutes += mean;
    draft.variance += ((interval.upper - mean) / NINE_IN_TEN) ** 2;
  }
  const found = [...drafts].sort(([a], [b]) => compareKeys(a, b)).map(([, draft]) => draft);
  return {
    months: found.map(({ variance, ...draft }) => {
      const reach = NINE_IN_TEN * Math.sqrt(variance);
      return {
        ...draft,
        interval: { lower: Math.max(0, draft.minutes - reach), upper: draft.minutes + reach },
      };
    }),
    says: sentence('workload', {
      visits: found.reduce((sum, one) => sum + one.visits, 0),
      minutes: Math.round(found.reduce((sum, one) => sum + one.minutes, 0)),
    }),
  };
}

/** Normal quantile at 0.95. */
const NINE_IN_TEN = 1.644_854;
