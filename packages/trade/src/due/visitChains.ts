import type { WindowRule } from '../profile/labelProfile.ts';
import type { Day } from '../units/index.ts';
import { type DueWindow, windowAfter } from './window.ts';

/**
 * The working form of a station's two chains for the search. Days are places in the list of usable days (0 to n - 1);
 * n stands for "never" as a first day and for "not before the horizon ends" as a last one.
 */
export interface ChainState {
  readonly lookFirst: number;
  readonly lookLast: number;
  /** days by which the open look must come late, counted when it is done; 0 = not late */
  readonly lookLate: number;
  readonly lookTarget: number;
  readonly yearFirst: number;
  readonly yearLast: number;
  readonly yearTarget: number;
  /** days late so far, the open yearly service included: nothing can rescue that one */
  readonly late: number;
}

/** Windows that a service on each usable day opens, by that day's place. */
export interface Follow {
  readonly first: Int32Array;
  readonly last: Int32Array;
  readonly late: Int32Array;
  readonly target: Int32Array;
  /** fewest further services that a window with this last place asks for before the horizon ends; n + 1 long */
  readonly fewest: Int32Array;
}

export interface ChainClass {
  readonly start: ChainState;
  readonly look: Follow;
  readonly year: Follow;
}

export interface Slot {
  readonly first: number;
  readonly last: number;
  readonly late: number;
}

/** Place of the first usable day on or after `day`; n when there is none. */
export function placeFrom(days: readonly Day[], day: number): number {
  let low = 0;
  let high = days.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((days[middle] ?? 0) < day) low = middle + 1;
    else high = middle;
  }
  return low;
}

/**
 * A window on the usable days after place `after`. One without a usable day becomes the first usable day behind it,
 * with the days that this is late; where the horizon has none, it is late to the day after the horizon.
 */
export function fitWindow(window: DueWindow, days: readonly Day[], to: Day, after: number): Slot {
  const n = days.length;
  const first = Math.max(after + 1, placeFrom(days, window.earliest));
  if (window.latest > to) return { first: Math.min(first, n), last: n, late: 0 };
  const last = placeFrom(days, window.latest + 1) - 1;
  if (first <= last) return { first, last, late: 0 };
  const day = days[first];
  return day === undefined
    ? { first: n, last: n, late: to + 1 - window.latest }
    : { first, last: first, late: day - window.latest };
}

export function followRule(rule: WindowRule | null, days: readonly Day[], to: Day): Follow {
  const n = days.length;
  const follow: Follow = {
    first: new Int32Array(n).fill(n),
    last: new Int32Array(n).fill(n),
    late: new Int32Array(n),
    target: new Int32Array(n),
    fewest: new Int32Array(n + 1),
  };
  for (let place = n - 1; place >= 0; place -= 1) {
    const day = days[place];
    if (rule !== null && day !== undefined) {
      const window = windowAfter(rule, day);
      const slot = fitWindow(window, days, to, place);
      follow.first[place] = slot.first;
      follow.last[place] = slot.last;
      follow.late[place] = slot.late;
      follow.target[place] = window.target;
    }
    // Last days never come earlier when the service is later, so going last each time needs the fewest services.
    follow.fewest[place] = 1 + at(follow.fewest, at(follow.last, place));
  }
  return follow;
}

export function at(values: Int32Array, place: number): number {
  const value = values[place];
  if (value === undefined) throw new RangeError(`place ${place} is outside the horizon`);
  return value;
}

/** Lower bound on the visits that this state still asks for. */
export function fewestFrom(state: ChainState, { look, year }: ChainClass): number {
  return Math.max(at(look.fewest, state.lookLast), at(year.fewest, state.yearLast));
}

/** True when nothing more falls due before the horizon ends; the look left open then counts as late. */
export function isDone(state: ChainState, one: ChainClass, lateAllowed: number): boolean {
  return fewestFrom(state, one) === 0 && state.late + state.lookLate <= lateAllowed;
}

/** After a visit on `place` that leaves this station alone; undefined when something falls due that day. */
export function passBy(state: ChainState, place: number): ChainState | undefined {
  if (state.lookLast <= place || state.yearLast <= place) return undefined;
  const lookFirst = Math.max(state.lookFirst, place + 1);
  const yearFirst = Math.max(state.yearFirst, place + 1);
  return { ...state, lookFirst, yearFirst };
}

export function serveLook(state: ChainState, { look }: ChainClass, place: number): ChainState | undefined {
  if (state.lookFirst > place || state.lookLast < place || state.yearLast <= place) return undefined;
  return {
    ...state,
    lookFirst: at(look.first, place),
    lookLast: at(look.last, place),
    lookLate: at(look.late, place),
    lookTarget: at(look.target, place),
    yearFirst: Math.max(state.yearFirst, place + 1),
    late: state.late + state.lookLate,
  };
}

/** A yearly service counts as a look on any day, also before the look's own window opens. */
export function serveYearly(
  state: ChainState,
  { look, year }: ChainClass,
  place: number,
): ChainState | undefined {
  if (state.yearFirst > place || state.yearLast < place || state.lookLast < place) return undefined;
  const lateLook = state.lookFirst <= place ? state.lookLate : 0;
  return {
    lookFirst: at(look.first, place),
    lookLast: at(look.last, place),
    lookLate: at(look.late, place),
    lookTarget: at(look.target, place),
    yearFirst: at(year.first, place),
    yearLast: at(year.last, place),
    yearTarget: at(year.target, place),
    late: state.late + lateLook + at(year.late, place),
  };
}
