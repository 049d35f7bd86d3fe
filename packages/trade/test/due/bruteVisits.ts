import type { VisitChain, VisitStation } from '../../src/index.ts';
import { addDays, addMonths, type Day } from '../../src/units/index.ts';

/**
 * The slow, independent answer: every subset of the usable days, and for each station every way to serve it on them.
 * Shares nothing with the search but the calendar.
 */
export function fewestByBruteForce(stations: readonly VisitStation[], days: readonly Day[], to: Day): number {
  const least = stations.map((station) => leastLate(station, days, days, to));
  let fewest = Number.POSITIVE_INFINITY;
  for (let mask = 0; mask < 2 ** days.length; mask += 1) {
    const chosen = days.filter((_, place) => (mask >> place) & 1);
    if (chosen.length >= fewest) continue;
    if (stations.every((station, s) => leastLate(station, chosen, days, to) === least[s]))
      fewest = chosen.length;
  }
  return fewest;
}

interface Open {
  readonly earliest: number;
  readonly latest: number;
  /** the one day on which a window without a usable day may be kept; undefined = the window is kept in time */
  readonly lateOn: number | undefined;
  readonly hasDay: boolean;
}

/** Least days late over all ways to serve a station on the chosen days; Infinity when a window is left unkept. */
export function leastLate(
  { look, yearly }: VisitStation,
  chosen: readonly Day[],
  days: readonly Day[],
  to: Day,
): number {
  const open = (chain: VisitChain | null, after: Day | undefined): Open | undefined => {
    if (chain === null) return undefined;
    if (after === undefined) return toOpen(chain.window.earliest, chain.window.latest, -Infinity);
    if (chain.next === null) return undefined;
    const { earliest, latest } = chain.next.rule;
    return toOpen(
      addDays(addMonths(after, earliest.months), earliest.days),
      addDays(addMonths(after, latest.months), latest.days),
      after,
    );
  };
  const toOpen = (earliest: number, latest: number, after: number): Open => {
    const later = days.filter((day) => day > after && day >= earliest);
    const hasDay = latest > to || later.some((day) => day <= latest);
    return { earliest, latest, lateOn: hasDay ? undefined : later.find((day) => day > latest), hasDay };
  };
  /** Days late when served on this day; undefined when it may not be. */
  const serve = (window: Open | undefined, day: Day): number | undefined => {
    if (window === undefined || day < window.earliest) return undefined;
    if (day <= window.latest) return 0;
    return window.lateOn === day ? day - window.latest : undefined;
  };
  const isOverrun = (window: Open | undefined, day: number): boolean =>
    window !== undefined && day > window.latest && (window.hasDay || (window.lateOn ?? Infinity) < day);
  const atEnd = (window: Open | undefined): number => {
    if (window === undefined || window.latest > to) return 0;
    return window.hasDay || window.lateOn !== undefined ? Infinity : to + 1 - window.latest;
  };
  const walk = (visit: number, nowLook: Open | undefined, nowYear: Open | undefined): number => {
    const day = chosen[visit];
    if (day === undefined) return atEnd(nowLook) + atEnd(nowYear);
    if (isOverrun(nowLook, day) || isOverrun(nowYear, day)) return Infinity;
    let best = walk(visit + 1, nowLook, nowYear);
    const lookLate = serve(nowLook, day);
    if (lookLate !== undefined) best = Math.min(best, lookLate + walk(visit + 1, open(look, day), nowYear));
    const yearLate = serve(nowYear, day);
    if (yearLate !== undefined) {
      best = Math.min(best, yearLate + (lookLate ?? 0) + walk(visit + 1, open(look, day), open(yearly, day)));
    }
    return best;
  };
  return walk(0, open(look, undefined), open(yearly, undefined));
}
