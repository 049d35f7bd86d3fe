import type { Problem } from '@sillwatch/planner';
import {
  buildPlanProblem,
  estimateServiceMinutes,
  historyOf,
  type PlanProblem,
  soilPreferenceOf,
  tableTravel,
  type ZoneClock,
} from '@sillwatch/rounds';
import { dayToText } from '@sillwatch/trade';
import type { PlanTask, SearchStart } from './planTask.ts';

/** Minutes east of UTC by the tables of this machine. */
export const zoneClock: ZoneClock = (timeZone, day, secondsOfDay) =>
  Temporal.PlainDate.from(dayToText(day)).toZonedDateTime({
    timeZone,
    plainTime: Temporal.PlainTime.from({ hour: 0 }).add({ seconds: secondsOfDay }),
  }).offsetNanoseconds / 60e9;

/** The problem of a task. Throws a RangeError with words for a person. */
export function planProblemOf(task: PlanTask): PlanProblem {
  const input = {
    properties: task.properties,
    firm: task.firm,
    branch: task.branch,
    from: task.from,
    days: task.days,
    today: task.today,
    rounds: task.published,
    travel: tableTravel(task.travel),
    clock: zoneClock,
    minutes: estimateServiceMinutes(task.records.map((facts) => historyOf(facts[0]?.property ?? '', facts))),
    lastPerson: task.lastPerson,
  };
  return buildPlanProblem(input, soilPreferenceOf(task.firm, task.branch));
}

/** The same numbers as `buildPlanProblem` gives its problem, from data that can cross a thread. */
export function problemOfStart({ problem, places, travel, kilometreSeconds }: SearchStart): Problem {
  const { seconds, metres, mostSeconds, mostMetres } = tableTravel(travel)(places);
  const flat = flatPlaces(places);
  return {
    ...problem,
    travel: {
      kind: 'function',
      places: places.length,
      seconds,
      most: mostSeconds + Math.ceil((mostMetres * kilometreSeconds) / 1000),
      ...flat,
      ...(kilometreSeconds === 0
        ? {}
        : {
            cost: (from: number, to: number) =>
              seconds(from, to) + Math.round((metres(from, to) * kilometreSeconds) / 1000),
          }),
    },
  };
}

/** Only to find which places are near each other. */
function flatPlaces(places: SearchStart['places']): { readonly x: Float64Array; readonly y: Float64Array } {
  const middle = places.reduce((sum, { latitude }) => sum + latitude, 0) / Math.max(1, places.length);
  const shrink = Math.cos((middle * Math.PI) / 180);
  return {
    x: Float64Array.from(places, ({ longitude }) => longitude * 111_195 * shrink),
    y: Float64Array.from(places, ({ latitude }) => latitude * 111_195),
  };
}
