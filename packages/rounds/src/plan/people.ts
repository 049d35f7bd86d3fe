import type { Shift, Vehicle } from '@sillwatch/planner';
import {
  addDays,
  type Day,
  type DayHours,
  findDay,
  type Place,
  type TechnicianBody,
  weekdayOf,
} from '@sillwatch/trade';
import { compareKeys } from '../figures/compareKeys.ts';
import { getSecondsOfDay } from './clock.ts';
import type { PlanInput } from './input.ts';
import type { ReleaseReason } from './need.ts';
import type { PlanWeights } from './weights.ts';

/** A technician of the branch with the days of the horizon (numbered from 0) on which he works. */
export interface Person {
  readonly body: TechnicianBody;
  readonly hoursByDay: ReadonlyMap<number, DayHours>;
}

/** Who works when: active technicians with hours, without absences and closed days, by account id. */
export function listPeople(input: PlanInput): readonly Person[] {
  return Object.values(input.firm.technicians)
    .filter(({ branch, active }) => active && branch === input.branch)
    .map((body) => ({ body, hoursByDay: workingDays(input, body) }))
    .filter(({ hoursByDay }) => hoursByDay.size > 0)
    .sort((a, b) => compareKeys(a.body.person, b.body.person));
}

/** Why this account does not drive on that day; undefined when it does. */
export function whyOff(input: PlanInput, person: string, day: Day): ReleaseReason | undefined {
  if (isClosed(input, day)) return 'branch closed';
  const body = input.firm.technicians[person];
  if (body === undefined || !body.active || body.branch !== input.branch) return 'technician has left';
  if (isAway(input, person, day)) return 'technician away';
  return hoursOn(body, day) === undefined ? 'technician does not work that day' : undefined;
}

export function isClosed({ firm, branch }: PlanInput, day: Day): boolean {
  return firm.closed.some((closed) => closed.branch === branch && isWithin(day, closed));
}

/** The vehicles of a problem, in the order of `people`. `placeOf` numbers start and end places. */
export function toVehicles(
  people: readonly Person[],
  placeOf: (place: Place) => number,
  skillBits: (skills: readonly string[]) => number,
  weights: PlanWeights,
): readonly Vehicle[] {
  return people.map(({ body, hoursByDay }) => ({
    name: body.name,
    skills: skillBits(body.skills),
    capacity: 0,
    shifts: [...hoursByDay].map(([day, hours]) => toShift(body, day, hours, placeOf, weights)),
  }));
}

/** Rounds longer than this hold a break (`TechnicianBody.breakMinutes`); it begins in their second half at the earliest. */
const BREAK_AFTER_SECONDS = 6 * 3600;
const BREAK_NOT_BEFORE_SECONDS = 3 * 3600;

function toShift(
  body: TechnicianBody,
  day: number,
  hours: DayHours,
  placeOf: (place: Place) => number,
  weights: PlanWeights,
): Shift {
  const startSeconds = getSecondsOfDay(hours.from);
  const regularEndSeconds = getSecondsOfDay(hours.to);
  return withBreak(
    {
      day,
      startPlace: placeOf(body.start),
      endPlace: placeOf(body.end),
      startSeconds,
      regularEndSeconds,
      latestEndSeconds: regularEndSeconds + body.mostOvertimeMinutes * 60,
      useCost: weights.roundSeconds,
      secondCost: weights.awaySecondCost,
      overtimeSecondCost: weights.overtimeSecondCost,
    },
    body.breakMinutes,
  );
}

/** The shift with its break; without one where even its latest end comes before a break is due. */
export function withBreak(shift: Shift, breakMinutes: number): Shift {
  const { break: _, ...bare } = shift;
  const latestSeconds = shift.startSeconds + BREAK_AFTER_SECONDS;
  const seconds = breakMinutes * 60;
  if (seconds === 0 || shift.latestEndSeconds <= latestSeconds) return bare;
  const notBefore = shift.startSeconds + BREAK_NOT_BEFORE_SECONDS;
  return {
    ...bare,
    break: {
      earliestSeconds: Math.min(notBefore, shift.latestEndSeconds - seconds),
      latestSeconds,
      seconds,
      paid: false,
    },
  };
}

function workingDays(input: PlanInput, body: TechnicianBody): ReadonlyMap<number, DayHours> {
  const found = new Map<number, DayHours>();
  for (let index = 0; index < input.days; index += 1) {
    const day = addDays(input.from, index);
    const hours = hoursOn(body, day);
    if (hours === undefined || isClosed(input, day) || isAway(input, body.person, day)) continue;
    found.set(index, hours);
  }
  return found;
}

/** The longest of the hours given for that weekday; undefined when there are none. */
function hoursOn(body: TechnicianBody, day: Day): DayHours | undefined {
  const weekday = weekdayOf(day);
  let longest: DayHours | undefined;
  for (const hours of body.hours)
    if (hours.weekday === weekday && lengthOf(hours) > (longest === undefined ? 0 : lengthOf(longest)))
      longest = hours;
  return longest;
}

function lengthOf({ from, to }: DayHours): number {
  return getSecondsOfDay(to) - getSecondsOfDay(from);
}

function isAway({ firm }: PlanInput, person: string, day: Day): boolean {
  return firm.away.some((away) => away.person === person && isWithin(day, away));
}

function isWithin(day: Day, span: { readonly from: string; readonly to: string }): boolean {
  const from = findDay(span.from);
  const to = findDay(span.to);
  return from !== undefined && to !== undefined && from <= day && day <= to;
}
