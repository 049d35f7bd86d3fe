import {
  type Day,
  type DueItem,
  type DueWindow,
  getDay,
  type HeldService,
  type StationState,
  type Timeliness,
} from '@sillwatch/trade';
import type { DueAnswer, DueRow, PropertyAnswer } from './types.ts';

/** Names of the fields of T that are days; they travel as `YYYY-MM-DD`. */
type DayKeys<T> = { [K in keyof T]-?: [Extract<T[K], Day>] extends [never] ? never : K }[keyof T];
/** T as it travels: every day is text. */
export type Sent<T> = {
  readonly [K in keyof T]: K extends DayKeys<T> ? string | Extract<T[K], null> : T[K];
};

/** A window as it travels. */
interface SentWindow {
  readonly earliest: string;
  readonly target: string;
  readonly latest: string;
}
type SentDueRow = Omit<DueRow, 'asOf' | 'works' | 'window'> & {
  readonly asOf: string;
  readonly works: readonly (SentWindow & Pick<DueRow['works'][number], 'work' | 'stations'>)[];
  readonly timeliness: Timeliness | null;
} & { readonly [K in keyof SentWindow]: string | null };

export type SentDue = Omit<DueAnswer, 'rows' | 'properties' | 'held'> & {
  readonly rows: readonly SentDueRow[];
  readonly summary: { readonly properties: number; readonly held: number };
};

type SentStation = Omit<Sent<Omit<StationState, 'property'>>, 'slots'> & {
  readonly slots: readonly Sent<StationState['slots'][number]>[];
  readonly due: readonly Sent<Omit<DueItem, 'property'>>[];
  readonly held: Sent<Omit<HeldService, 'property'>> | null;
};

export type SentProperty = Omit<
  Sent<PropertyAnswer>,
  'structures' | 'stations' | 'items' | 'held' | 'visits'
> & {
  readonly structures: readonly Omit<PropertyAnswer['structures'][number], 'property'>[];
  readonly stations: readonly SentStation[];
  readonly visits: readonly Sent<PropertyAnswer['visits'][number]>[];
};

export function readDue({ rows, summary, ...rest }: SentDue): DueAnswer {
  return { ...rest, properties: summary.properties, held: summary.held, rows: rows.map(readDueRow) };
}

function readDueRow({ earliest, target, latest, timeliness, ...row }: SentDueRow): DueRow {
  return {
    ...row,
    asOf: getDay(row.asOf),
    works: row.works.map((work) => ({ ...work, ...readWindow(work) })),
    window:
      earliest === null || target === null || latest === null || timeliness === null
        ? null
        : { ...readWindow({ earliest, target, latest }), timeliness },
  };
}

function readWindow({ earliest, target, latest }: SentWindow): DueWindow {
  return { earliest: getDay(earliest), target: getDay(target), latest: getDay(latest) };
}

export function readProperty(sent: SentProperty): PropertyAnswer {
  const { property } = sent;
  return {
    property,
    asOf: getDay(sent.asOf),
    body: sent.body,
    profile: sent.profile,
    passedOver: sent.passedOver,
    site: sent.site,
    structures: sent.structures
      .map((structure) => ({ ...structure, property }))
      .sort((a, b) => firstNumber(sent.stations, a.structure) - firstNumber(sent.stations, b.structure)),
    stations: sent.stations
      .map((station) => readStation(station, property))
      .sort((a, b) => a.number - b.number),
    items: sent.stations.flatMap(({ due }) => due.map((item) => readItem(item, property))),
    held: sent.stations.flatMap(({ held }) => (held === null ? [] : [readHeld(held, property)])),
    visits: sent.visits.map((visit) => ({ ...visit, day: getDay(visit.day) })),
  };
}

/** Structures in the order in which their rings are numbered. */
function firstNumber(stations: readonly SentStation[], structure: string): number {
  return Math.min(...stations.filter((one) => one.structure === structure).map(({ number }) => number));
}

function readStation({ due: _due, held: _held, ...sent }: SentStation, property: string): StationState {
  return {
    ...sent,
    property,
    installedOn: getDay(sent.installedOn),
    slots: sent.slots.map((slot) => ({ ...slot, fittedOn: dayOrNull(slot.fittedOn) })),
    lastOpenedOn: dayOrNull(sent.lastOpenedOn),
    lastYearlyOn: dayOrNull(sent.lastYearlyOn),
    firstHitOn: dayOrNull(sent.firstHitOn),
    openHitOn: dayOrNull(sent.openHitOn),
    feedingSince: dayOrNull(sent.feedingSince),
    feedingLastSeenOn: dayOrNull(sent.feedingLastSeenOn),
    feedingEndedOn: dayOrNull(sent.feedingEndedOn),
    baitedOn: dayOrNull(sent.baitedOn),
    clearedOn: dayOrNull(sent.clearedOn),
    carriedOverOn: dayOrNull(sent.carriedOverOn),
    missedSince: dayOrNull(sent.missedSince),
  };
}

function readItem(sent: Sent<Omit<DueItem, 'property'>>, property: string): DueItem {
  return {
    ...sent,
    property,
    earliest: getDay(sent.earliest),
    target: getDay(sent.target),
    latest: getDay(sent.latest),
    countedFrom: getDay(sent.countedFrom),
  };
}

function readHeld(sent: Sent<Omit<HeldService, 'property'>>, property: string): HeldService {
  return { ...sent, property, latest: getDay(sent.latest), feedingSince: getDay(sent.feedingSince) };
}

function dayOrNull(text: string | null): Day | null {
  return text === null ? null : getDay(text);
}
