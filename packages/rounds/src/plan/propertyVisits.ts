import {
  type AskBody,
  addDays,
  type Day,
  dueWork,
  findDay,
  type LabelProfile,
  listVisitStations,
  type PropertyState,
  type VisitChain,
  type VisitStation,
  visitDays,
} from '@sillwatch/trade';
import { matchVisits } from './match.ts';
import type { PublishedVisit, Released, StationWork } from './need.ts';
import { askStation, findPins, narrowToPins, type Pin, type PinQuestions, type SentVisit } from './pins.ts';
import { findSpans, isYearly, type VisitSpan, type WindowBooks } from './spans.ts';

/** One visit to a property before days are numbered. */
export interface WantedVisit {
  readonly span: VisitSpan;
  readonly works: readonly StationWork[];
  readonly asks: readonly AskBody[];
  readonly promise: Pin['promise'];
  readonly published: PublishedVisit | null;
  /** Its day is the only one. */
  readonly pinned: boolean;
}

export interface PropertyVisits {
  readonly wanted: readonly WantedVisit[];
  readonly released: readonly Released[];
  /** Owed within the horizon, and no day of it is usable. */
  readonly noDay: readonly StationWork[];
  readonly noDayAsks: readonly string[];
  /** What is owed, as `visitDays` takes it: requests not among them. */
  readonly stations: readonly VisitStation[];
}

export interface PropertyQuestion extends PinQuestions {
  readonly state: PropertyState;
  readonly profile: LabelProfile;
  /** Published visits to it of any day, by day. */
  readonly sent: readonly SentVisit[];
  /** Rounds from here until `from` count as done. */
  readonly today: Day;
  /** Can one come then? By the hours of the property and of those who have its skills. */
  readonly isUsable: (day: Day) => boolean;
  readonly books: WindowBooks;
}

/**
 * The visits that one property needs in the horizon: fewest that keep every window (`visitDays`), bent to what was promised,
 * frozen and published, each with the days on which it may be made.
 */
export function findPropertyVisits(question: PropertyQuestion): PropertyVisits {
  const { state, profile, sent, from, to, books } = question;
  const pending = findPending(question);
  const owed = skipSentToday(question, pending, listVisitStations(state.stations, profile, from));
  const asksDone = new Set(pending.flatMap(({ visit }) => visit.asks));
  const asks = state.asks.filter(({ ask, earliest }) => !asksDone.has(ask) && getAskDay(earliest) <= to);
  const all = [...owed, ...asks.map((ask) => askToStation(ask, from))];
  const found = findPins(state, sent, question);
  const { stations, pins } = narrowToPins(all, found.pins, from, books);
  const pinDays = new Set(pins.map(({ day }) => day));
  const blocked = new Set<Day>();
  for (let day = from; day <= to; day = addDays(day, 1))
    if (!pinDays.has(day) && !question.isUsable(day)) blocked.add(day);
  const { visits, impossible } = visitDays([...stations, ...pins.map(pinToStation)], {
    from,
    to,
    blocked,
    mostNodes: MOST_NODES,
  });
  const pinByDay = new Map(pins.map((pin) => [pin.day, pin]));
  const askById = new Map(asks.map((ask) => [askStation(ask.ask), ask]));
  const place = new Map(all.map(({ station }, index) => [station, index]));
  const kept = visits
    .map(({ day, served }) => ({ day, served: served.filter(({ station }) => place.has(station)) }))
    .filter(({ day, served }) => served.length > 0 || pinByDay.get(day)?.hard === true);
  const spans = findSpans(
    all,
    kept,
    (visit) => pinByDay.get(kept[visit]?.day ?? from)?.hard === true,
    from,
    to,
    books,
  );
  const published = matchPublished(question, pins, kept, spans);
  return {
    wanted: spans.map((span, index) => {
      const { day, served } = kept[index] ?? { day: span.nominal, served: [] };
      const pin = pinByDay.get(day);
      return {
        span,
        works: served
          .filter(({ station }) => !askById.has(station))
          .sort((a, b) => (place.get(a.station) ?? 0) - (place.get(b.station) ?? 0)),
        asks: served.flatMap(({ station }) => askById.get(station) ?? []),
        promise: pin?.promise ?? null,
        published: published[index] ?? null,
        pinned: pin?.hard === true,
      };
    }),
    released: found.released,
    noDay: impossible.filter(({ servedOn, station }) => servedOn === null && !askById.has(station)),
    noDayAsks: impossible.flatMap(({ servedOn, station }) =>
      servedOn === null ? (askById.get(station)?.ask ?? []) : [],
    ),
    stations: owed,
  };
}

/** Tries of `visitDays` a property; few come near it, and a branch has thousands. */
const MOST_NODES = 20_000;

/** Published visits of the days before the plan that nobody has recorded yet. */
function findPending({ state, sent, today, from }: PropertyQuestion): readonly SentVisit[] {
  const done = new Set(state.visits.map(({ visit }) => visit));
  return sent.filter(({ day, visit }) => day >= today && day < from && !done.has(visit.visit));
}

/** The stations as they will stand when those are made. */
function skipSentToday(
  { books }: PropertyQuestion,
  pending: readonly SentVisit[],
  stations: readonly VisitStation[],
): readonly VisitStation[] {
  if (pending.length === 0) return stations;
  const byId = new Map(stations.map((station) => [station.station, station]));
  for (const { day, visit } of pending)
    for (const { station: id, work } of visit.works) {
      const station = byId.get(id);
      if (station === undefined) continue;
      byId.set(id, {
        station: id,
        look: follow(station.look, day, books),
        yearly: isYearly(work) ? follow(station.yearly, day, books) : station.yearly,
      });
    }
  return [...byId.values()];
}

function follow(chain: VisitChain | null, day: Day, books: WindowBooks): VisitChain | null {
  if (chain === null || chain.next === null) return null;
  return { work: chain.next.work, window: books(chain.next.rule)(day), next: chain.next };
}

/** An urgent request aims at its first day, others at any. */
function askToStation(ask: AskBody, from: Day): VisitStation {
  const earliest = getAskDay(ask.earliest);
  const latest = getAskDay(ask.latest);
  const target = earliest > from ? earliest : from < latest ? from : latest;
  return {
    station: askStation(ask.ask),
    look: { work: 'check', window: { earliest, target, latest }, next: null },
    yearly: null,
  };
}

function getAskDay(text: string): Day {
  const day = findDay(text);
  if (day === undefined)
    throw new RangeError(`request with a day that does not exist: ${JSON.stringify(text)}`);
  return day;
}

/** Makes `visitDays` come on that day. */
function pinToStation({ day }: Pin): VisitStation {
  const window = { earliest: day, target: day, latest: day };
  return { station: `\u0000pin ${day}`, look: { work: 'check', window, next: null }, yearly: null };
}

/** Which published visit each visit stands for: by the day where it is pinned, by the nearest day otherwise. */
function matchPublished(
  { state, sent, from, to }: PropertyQuestion,
  pins: readonly Pin[],
  kept: readonly { readonly day: Day }[],
  spans: readonly VisitSpan[],
): readonly (PublishedVisit | undefined)[] {
  const done = new Set(state.visits.map(({ visit }) => visit));
  const pinned = new Map(pins.map(({ day, published }) => [day, published]));
  const direct = kept.map(({ day }) => pinned.get(day) ?? undefined);
  const taken = new Set(direct.map((one) => one?.visit));
  const open = sent.filter(
    ({ day, visit }) => day >= from && day <= to && !done.has(visit.visit) && !taken.has(visit.visit),
  );
  const free = kept.flatMap((_, index) => (direct[index] === undefined ? [index] : []));
  const matched = matchVisits(
    open.map(({ day }) => day),
    free.flatMap((index) => spans[index] ?? []),
  );
  const found = [...direct];
  free.forEach((index, position) => {
    const one = open[matched[position] ?? -1];
    if (one !== undefined)
      found[index] = {
        visit: one.visit.visit,
        person: one.person,
        day: one.dayText,
        startsAt: one.visit.startsAt,
        frozen: false,
      };
  });
  return found;
}

/** What a property owes until a day, without any plan: for one that cannot be planned. */
export function listOwed(
  state: PropertyState,
  profile: LabelProfile,
  from: Day,
  to: Day,
): readonly StationWork[] {
  return dueWork(state.stations, profile, from)
    .items.filter(({ latest }) => latest <= to)
    .map(({ station, work }) => ({ station, work }));
}
