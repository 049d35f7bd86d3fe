import type { DayCost } from '@sillwatch/planner';
import { addDays, type Day, findDay } from '@sillwatch/trade';
import type { WantedVisit } from './propertyVisits.ts';
import type { PlanWeights } from './weights.ts';

/**
 * What the least liked day costs more than the best liked one: less than a single day away from the target (30), so that it decides only
 * between days that are otherwise alike.
 */
const LIKED_DAY_SECONDS = 10;

/** How gladly a visit is planned on a day, 0 to 1 (`soilPreference`); it never opens a day that a window closes. */
export type DayPreference = (day: Day) => number;

/**
 * The days on which a visit may be made, as numbers from `from`, each with its cost: before and after what the works aim at,
 * after a window has closed, away from where it was published. The best day costs 0.
 */
export function listDayCosts(
  { span, asks, published, pinned }: WantedVisit,
  from: Day,
  isUsable: (day: Day) => boolean,
  weights: PlanWeights,
  preference?: DayPreference,
): readonly DayCost[] {
  if (pinned) return [{ day: span.nominal - from, cost: 0 }];
  const publishedDay = published === null ? undefined : findDay(published.day);
  const urgent = asks.filter((ask) => ask.urgent).length;
  const days: { day: number; cost: number }[] = [];
  for (let day = span.earliest; day <= span.lateUntil; day = addDays(day, 1))
    if (isUsable(day)) days.push({ day: day - from, cost: Math.round(costOf(day)) });
  const least = days.reduce((low, { cost }) => Math.min(low, cost), Number.POSITIVE_INFINITY);
  return days.map(({ day, cost }) => ({ day, cost: cost - least }));

  function costOf(day: Day): number {
    let all = 0;
    let off = 0;
    for (const { target, count } of span.aims) {
      all += count;
      off +=
        count *
        (day < target
          ? (target - day) * weights.earlyDaySeconds
          : (day - target) * weights.pastTargetDaySeconds);
    }
    let cost = all === 0 ? 0 : off / all;
    if (day >= span.firstLate) cost += weights.lateSeconds;
    cost += weights.lateDaySeconds * Math.max(0, day - Math.min(span.latest, span.firstLate - 1));
    cost += urgent * weights.urgentDaySeconds * (day - span.earliest);
    if (preference !== undefined)
      cost += LIKED_DAY_SECONDS * (1 - (day > span.latest ? 0 : Math.max(0, Math.min(1, preference(day)))));
    if (publishedDay !== undefined && publishedDay !== day)
      cost += (weights.movedDaySeconds * (1 + Math.abs(day - publishedDay))) / 2;
    return cost;
  }
}
