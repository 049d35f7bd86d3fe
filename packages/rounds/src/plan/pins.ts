import {
  type Day,
  findDay,
  type PropertyState,
  type RoundVisit,
  type VisitChain,
  type VisitStation,
} from '@sillwatch/trade';
import type { PublishedVisit, Released, ReleaseReason } from './need.ts';
import { isYearly, type WindowBooks } from './spans.ts';

/** A published visit of one property, with its round's person and day. */
export interface SentVisit {
  readonly person: string;
  readonly day: Day;
  readonly dayText: string;
  readonly visit: RoundVisit;
}

/** A day on which a property is to be visited: `hard` because somebody was told, else only because it was published. */
export interface Pin {
  readonly day: Day;
  readonly hard: boolean;
  readonly promise: { readonly day: string; readonly from: string; readonly to: string } | null;
  readonly published: PublishedVisit | null;
  /** The stations and requests it serves, each with whether by a yearly service. */
  readonly stations: ReadonlyMap<string, boolean>;
}

export interface PinQuestions {
  readonly from: Day;
  readonly to: Day;
  readonly hold: ReadonlySet<string>;
  /** Why this person does not drive on that day; undefined when he does. */
  readonly whyOff: (person: string, day: Day) => ReleaseReason | undefined;
  /** Why nobody drives on that day; undefined when somebody does. */
  readonly whyNobody: (day: Day) => ReleaseReason | undefined;
}

export interface PinsFound {
  /** One a day, by day. */
  readonly pins: readonly Pin[];
  readonly released: readonly Released[];
}

/** What holds the visits of a property in place: its promise, frozen and held visits, and as a wish all others published. */
export function findPins(state: PropertyState, sent: readonly SentVisit[], ask: PinQuestions): PinsFound {
  const released: Released[] = [];
  const pins = new Map<Day, Pin>();
  const done = new Set(state.visits.map(({ visit }) => visit));
  for (const { person, day, dayText, visit } of sent) {
    if (day < ask.from || day > ask.to || done.has(visit.visit)) continue;
    const held = visit.frozen || ask.hold.has(visit.visit);
    const off = held ? ask.whyOff(person, day) : undefined;
    if (off !== undefined)
      released.push({
        property: state.property,
        visit: visit.visit,
        what: 'frozen visit',
        day: dayText,
        person,
        why: off,
      });
    if (ask.whyNobody(day) !== undefined) continue;
    // Two visits on one day become one: the one that is held, else the first.
    const other = pins.get(day);
    const stations = new Map([
      ...(other?.stations ?? []),
      ...visit.works.map(({ station, work }) => [station, isYearly(work)] as const),
      ...visit.asks.map((id) => [askStation(id), false] as const),
    ]);
    if (other !== undefined && (other.hard || !held || off !== undefined)) {
      pins.set(day, { ...other, stations });
      continue;
    }
    pins.set(day, {
      day,
      hard: held && off === undefined,
      promise: null,
      published: {
        visit: visit.visit,
        person,
        day: dayText,
        startsAt: visit.startsAt,
        frozen: held && off === undefined,
      },
      stations,
    });
  }
  const promised = readPromise(state);
  if (promised !== undefined && promised.day >= ask.from && promised.day <= ask.to) {
    const { day, promise } = promised;
    const why = ask.whyNobody(day);
    if (why === undefined) {
      const known = pins.get(day);
      pins.set(day, {
        day,
        hard: true,
        promise,
        published: known?.published ?? null,
        stations: known?.stations ?? new Map(),
      });
    } else
      released.push({
        property: state.property,
        visit: null,
        what: 'promise',
        day: promise.day,
        person: null,
        why,
      });
  }
  return { pins: [...pins.values()].sort((a, b) => a.day - b.day), released };
}

function readPromise(
  state: PropertyState,
): { readonly day: Day; readonly promise: NonNullable<Pin['promise']> } | undefined {
  const { promise } = state;
  const day = promise?.day == null ? undefined : findDay(promise.day);
  if (promise?.day == null || day === undefined) return undefined;
  return { day, promise: { day: promise.day, from: promise.from, to: promise.to } };
}

export interface Pinned {
  readonly stations: readonly VisitStation[];
  readonly pins: readonly Pin[];
}

/**
 * The stations with the windows of what a pin serves narrowed to its day. A hard pin without a list of stations (a promise
 * alone) takes in every look that may be made on its day, and yearly services from their target on. A wish for which
 * nothing is owed any more is dropped.
 */
export function narrowToPins(
  stations: readonly VisitStation[],
  pins: readonly Pin[],
  from: Day,
  books: WindowBooks,
): Pinned {
  const byId = new Map(stations.map((station) => [station.station, station]));
  const narrowed = new Map<string, Day>();
  const kept = pins.filter((pin) => {
    let served = 0;
    const ids = pin.stations.size > 0 || !pin.hard ? pin.stations.keys() : [...byId.keys()];
    for (const id of ids) {
      const station = byId.get(id);
      if (station === undefined) continue;
      const before = narrowed.get(id);
      if (before !== undefined) {
        const next = station.look?.next ?? null;
        if (next !== null && books(next.rule)(before).earliest <= pin.day) served += 1;
        continue;
      }
      const changed = narrow(station, pin.day, from, pin.stations.get(id));
      if (changed === undefined) continue;
      byId.set(id, changed);
      narrowed.set(id, pin.day);
      served += 1;
    }
    return pin.hard || served > 0;
  });
  return { stations: [...byId.values()], pins: kept };
}

/** `yearly`: what was listed; undefined = nothing was, so that a yearly service waits for its target. */
function narrow(
  station: VisitStation,
  day: Day,
  from: Day,
  yearly: boolean | undefined,
): VisitStation | undefined {
  const only = { earliest: day, target: day, latest: day };
  const isOpen = ({ window }: VisitChain): boolean =>
    window.earliest <= day && (day <= window.latest || window.latest < from);
  const service = station.yearly;
  if (service !== null && isOpen(service) && (yearly ?? service.window.target <= day))
    return { ...station, yearly: { ...service, window: only } };
  const { look } = station;
  return look !== null && isOpen(look) ? { ...station, look: { ...look, window: only } } : undefined;
}

/** The name under which a customer request takes part in the count of visits; no station is called so. */
export function askStation(ask: string): string {
  return `\u0000ask ${ask}`;
}
