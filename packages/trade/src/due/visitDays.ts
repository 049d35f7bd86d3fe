import type { WindowRule } from '../profile/labelProfile.ts';
import { addDays, type Day, dayToText } from '../units/index.ts';
import type { WorkKind } from './due.ts';
import { assignClass, type Step, settleOnTargets } from './visitAssign.ts';
import { type ChainClass, type Follow, fitWindow, followRule } from './visitChains.ts';
import { type BoundClass, leastLate, searchVisits } from './visitSearch.ts';
import { type DueWindow, windowAfter } from './window.ts';

/** Work that comes again: the window open now, and what a service starts. */
export interface VisitChain {
  readonly work: WorkKind;
  readonly window: DueWindow;
  /** null = nothing follows */
  readonly next: { readonly work: WorkKind; readonly rule: WindowRule } | null;
}

/** A station's two chains, linked: a yearly service counts as a look, on any day, and starts both anew. */
export interface VisitStation {
  readonly station: string;
  readonly look: VisitChain | null;
  readonly yearly: VisitChain | null;
}

export interface VisitHorizon {
  readonly from: Day;
  /** inclusive */
  readonly to: Day;
  /** days on which nobody can come */
  readonly blocked?: ReadonlySet<Day>;
  /** nodes after which a number of visits is given up as too hard to refute; default 200,000 */
  readonly mostNodes?: number;
}

export interface ServedWork {
  readonly station: string;
  readonly work: WorkKind;
}

/** A window that no usable day of the horizon could keep. */
export interface LateWork extends ServedWork {
  readonly earliest: Day;
  readonly latest: Day;
  /** null = not before the horizon ends */
  readonly servedOn: Day | null;
}

export interface VisitPlan {
  readonly visits: readonly { readonly day: Day; readonly served: readonly ServedWork[] }[];
  readonly impossible: readonly LateWork[];
  /** True when fewer visits are proven not to do. */
  readonly proven: boolean;
}

/**
 * The fewest days of visits to one property that keep every window whose latest day lies in the horizon; one visit
 * serves any of its stations. First each station is as few days late in all as it can be (0 unless a window has no
 * usable day), then visits are fewest, then days are moved towards the targets. Throws a RangeError on a horizon or
 * window that ends before it begins. See docs/rules/fewest-visits.md.
 */
export function visitDays(stations: Iterable<VisitStation>, horizon: VisitHorizon): VisitPlan {
  const days = usableDays(horizon);
  const groups = groupEqual(stations, days, horizon.to);
  const classes = groups.map(({ bound }) => bound);
  const { places, proven } = searchVisits(classes, days.length, horizon.mostNodes ?? 200_000);
  const settled = settleOnTargets(classes, places, days);
  const servedByDay = new Map<Day, ServedWork[]>();
  const impossible: LateWork[] = [];
  for (const { bound, members } of groups) {
    const assigned = assignClass(bound, settled, days);
    if (assigned === undefined) throw new Error('the visits found keep every class');
    for (const member of members) replay(member, assigned.steps, days, horizon.to, servedByDay, impossible);
  }
  const visits = [...servedByDay].map(([day, served]) => ({ day, served })).sort((a, b) => a.day - b.day);
  return { visits, impossible, proven };
}

function usableDays({ from, to, blocked }: VisitHorizon): readonly Day[] {
  if (to < from)
    throw new RangeError(`the horizon ends ${dayToText(to)}, before it begins ${dayToText(from)}`);
  const days: Day[] = [];
  for (let day = from; day <= to; day = addDays(day, 1)) if (blocked?.has(day) !== true) days.push(day);
  return days;
}

interface Group {
  readonly bound: BoundClass;
  readonly members: VisitStation[];
}

/** Stations with equal windows and rules are planned once. */
function groupEqual(stations: Iterable<VisitStation>, days: readonly Day[], to: Day): readonly Group[] {
  const groups = new Map<string, Group>();
  const follows = new Map<string, Follow>();
  const followOf = (chain: VisitChain | null): Follow => {
    const rule = chain?.next?.rule ?? null;
    const key = JSON.stringify(rule);
    const known = follows.get(key);
    if (known !== undefined) return known;
    const follow = followRule(rule, days, to);
    follows.set(key, follow);
    return follow;
  };
  for (const station of stations) {
    const key = JSON.stringify([station.look, station.yearly]);
    const known = groups.get(key);
    if (known !== undefined) {
      known.members.push(station);
      continue;
    }
    const look = openWindow(station.station, station.look, days, to);
    const year = openWindow(station.station, station.yearly, days, to);
    const one: ChainClass = {
      start: {
        lookFirst: look.first,
        lookLast: look.last,
        lookLate: look.late,
        lookTarget: station.look?.window.target ?? 0,
        yearFirst: year.first,
        yearLast: year.last,
        yearTarget: station.yearly?.window.target ?? 0,
        late: year.late,
      },
      look: followOf(station.look),
      year: followOf(station.yearly),
    };
    groups.set(key, { bound: { ...one, lateAllowed: leastLate(one) }, members: [station] });
  }
  return [...groups.values()];
}

function openWindow(
  station: string,
  chain: VisitChain | null,
  days: readonly Day[],
  to: Day,
): { readonly first: number; readonly last: number; readonly late: number } {
  if (chain === null) return { first: days.length, last: days.length, late: 0 };
  const { earliest, latest } = chain.window;
  if (latest < earliest) {
    throw new RangeError(
      `${chain.work} of station ${station} ends ${dayToText(latest)}, before it begins ${dayToText(earliest)}`,
    );
  }
  return fitWindow(chain.window, days, to, -1);
}

/** Lives the steps of one station through by the calendar, and notes what is served and what is late. */
function replay(
  station: VisitStation,
  steps: readonly Step[],
  days: readonly Day[],
  to: Day,
  servedByDay: Map<Day, ServedWork[]>,
  impossible: LateWork[],
): void {
  let { look, yearly } = station;
  const noteLate = (chain: VisitChain | null, servedOn: Day | null): void => {
    if (chain === null || chain.window.latest >= (servedOn ?? addDays(to, 1))) return;
    const { earliest, latest } = chain.window;
    impossible.push({ station: station.station, work: chain.work, earliest, latest, servedOn });
  };
  for (const { place, service } of steps) {
    const day = days[place];
    const chain = service === 'look' ? look : yearly;
    if (day === undefined || chain === null) continue;
    noteLate(look, day);
    if (service === 'yearly') noteLate(yearly, day);
    const served = servedByDay.get(day);
    const one = { station: station.station, work: chain.work };
    if (served === undefined) servedByDay.set(day, [one]);
    else served.push(one);
    look = following(look, day);
    if (service === 'yearly') yearly = following(yearly, day);
  }
  noteLate(look, null);
  noteLate(yearly, null);
}

function following(chain: VisitChain | null, day: Day): VisitChain | null {
  if (chain === null || chain.next === null) return null;
  return { work: chain.next.work, window: windowAfter(chain.next.rule, day), next: chain.next };
}
