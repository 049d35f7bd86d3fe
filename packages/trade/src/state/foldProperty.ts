import type { AnyFact, FactBodies, FactKind, PropertyBody } from '../facts/fact.ts';
import { PROPERTY_KINDS } from '../facts/kinds.ts';
import type { AskBody, LinkBody, PromiseBody } from '../facts/officeBodies.ts';
import { CORRECTION, resolveFacts, type StandingFact } from '../facts/resolve.ts';
import type { SiteBody } from '../facts/siteBody.ts';
import type { Day } from '../units/index.ts';
import { compareText } from '../units/text.ts';
import { beginStation, replaceStation, type StationDraft, seeStation } from './foldStation.ts';
import type { PropertyState, StationState, StructureState, VisitSummary } from './state.ts';

/**
 * What the facts of one property say: a pure function of the set of facts. Order of arrival, duplicates and the split of
 * batches make no difference, down to the bytes of its JSON. Facts must have passed `checkFact`.
 * `clearedOn` needs the label profile and is filled by `assessClearance`.
 */
export function foldProperty(facts: Iterable<AnyFact>): PropertyState {
  const { standing, passedOver } = resolveFacts(facts);
  const draft: PropertyDraft = {
    property: '',
    body: null,
    structures: new Map(),
    stations: new Map(),
    visits: new Map(),
    site: null,
    asks: new Map(),
    asksDone: new Set(),
    promise: null,
    papersSent: [],
    links: new Map(),
    linksWithdrawn: new Set(),
    passedOver: [...passedOver],
  };
  for (const one of standing) {
    if (draft.property === '' && one.fact.property !== null) draft.property = one.fact.property;
    if (!isKnown(one) || !apply(draft, one)) draft.passedOver.push(one.fact);
  }
  const [firstPassed] = passedOver;
  if (draft.property === '') draft.property = firstPassed?.property ?? '';
  return {
    property: draft.property,
    body: draft.body,
    structures: sortedValues(draft.structures),
    stations: [...draft.stations.values()].sort(compareStations).map(finishStation),
    visits: sortedValues(draft.visits).sort((a, b) => a.day - b.day || compareText(a.visit, b.visit)),
    site: draft.site,
    asks: [...draft.asks.values()]
      .filter(({ ask }) => !draft.asksDone.has(ask))
      .sort((a, b) => compareText(a.latest, b.latest) || compareText(a.ask, b.ask)),
    promise: draft.promise,
    papersSent: draft.papersSent,
    links: sortedValues(draft.links).filter(({ link }) => !draft.linksWithdrawn.has(link)),
    passedOver: draft.passedOver.sort((a, b) => compareText(a.id, b.id)),
  };
}

type VisitDraft = { -readonly [K in keyof VisitSummary]: VisitSummary[K] };

interface PropertyDraft {
  property: string;
  body: PropertyBody | null;
  readonly structures: Map<string, StructureState>;
  readonly stations: Map<string, StationDraft>;
  readonly visits: Map<string, VisitDraft>;
  site: SiteBody | null;
  readonly asks: Map<string, AskBody>;
  /** A request may be settled before it is heard of here, so this is kept apart. */
  readonly asksDone: Set<string>;
  promise: PromiseBody | null;
  readonly papersSent: PropertyState['papersSent'][number][];
  readonly links: Map<string, LinkBody>;
  readonly linksWithdrawn: Set<string>;
  readonly passedOver: AnyFact[];
}

type KnownFact = {
  readonly [K in FactKind]: StandingFact & { readonly kind: K; readonly body: FactBodies[K] };
}[FactKind];

/** Facts were checked at the door, so the kind vouches for the body. */
const knownKinds: ReadonlySet<string> = new Set(PROPERTY_KINDS);

function isKnown(one: StandingFact): one is KnownFact {
  return knownKinds.has(one.kind);
}

/** False when the fact says something of a station that is not here. */
function apply(draft: PropertyDraft, one: KnownFact): boolean {
  const { fact, when } = one;
  const { day } = when;
  switch (one.kind) {
    case 'property added':
      draft.body = draft.body === null ? one.body : { ...one.body, ...draft.body };
      return true;
    case 'property changed':
      if (draft.body === null) return false;
      draft.body = { ...draft.body, ...one.body };
      return true;
    case 'structure added':
      draft.structures.set(one.body.structure, { ...one.body, property: draft.property });
      return true;
    case 'structure removed':
      return draft.structures.delete(one.body.structure);
    case 'site drawn':
      draft.site = one.body;
      return true;
    case 'station installed': {
      if (fact.station === null) return false;
      if (draft.stations.has(fact.station)) return false;
      draft.stations.set(fact.station, beginStation(fact.station, draft.property, one.body, day));
      return noteClock(draft, one);
    }
    case 'station seen': {
      const station = findStation(draft, fact);
      if (station === undefined) return false;
      seeStation(station, one.body, day);
      countVisit(draft, one.body.visit, day, fact.by, one.body.finding.reach === 'opened');
      return noteClock(draft, one);
    }
    case 'station moved': {
      const station = findStation(draft, fact);
      if (station === undefined) return false;
      station.position = one.body.position;
      return noteClock(draft, one);
    }
    case 'station tagged': {
      const station = findStation(draft, fact);
      if (station === undefined) return false;
      station.tag = one.body.tag;
      return noteClock(draft, one);
    }
    case 'station replaced': {
      const station = findStation(draft, fact);
      if (station === undefined) return false;
      replaceStation(station, one.body.model, one.body.inserts, day);
      return noteClock(draft, one);
    }
    case 'station removed': {
      const station = findStation(draft, fact);
      if (station === undefined) return false;
      station.inService = false;
      return noteClock(draft, one);
    }
    case 'visit closed':
      if (!draft.visits.has(one.body.visit))
        draft.visits.set(one.body.visit, { visit: one.body.visit, day, opened: 0, unopened: 0, by: fact.by });
      for (const ask of one.body.asksSettled ?? []) draft.asksDone.add(ask);
      return true;
    case 'visit asked':
      draft.asks.set(one.body.ask, one.body);
      return true;
    case 'ask withdrawn':
      draft.asksDone.add(one.body.ask);
      return true;
    case 'visit promised':
      draft.promise = one.body.day === null ? null : one.body;
      return true;
    case 'paper sent':
      draft.papersSent.push({ ...one.body, at: fact.at });
      return true;
    case 'link made':
      draft.links.set(one.body.link, one.body);
      return true;
    case 'link withdrawn':
      draft.linksWithdrawn.add(one.body.link);
      return true;
    case 'note added':
      return fact.station === null || draft.stations.has(fact.station);
    case CORRECTION:
    case 'profile set':
    case 'model set':
    case 'branch added':
    case 'technician set':
    case 'technician away':
    case 'branch closed':
    case 'round published':
    case 'part set':
    case 'soil season set':
    case 'parts ordered':
    case 'order cancelled':
    case 'stock counted':
    case 'stock received':
    case 'stock moved':
      return false;
  }
}

function findStation(draft: PropertyDraft, fact: AnyFact): StationDraft | undefined {
  return fact.station === null ? undefined : draft.stations.get(fact.station);
}

function noteClock(draft: PropertyDraft, { fact, when }: StandingFact): true {
  if (when.doubtful) findStation(draft, fact)?.doubtfulClocks.push(fact.id);
  return true;
}

/** A visit is on the day of its first entry. */
function countVisit(draft: PropertyDraft, visit: string, day: Day, by: string, opened: boolean): void {
  let known = draft.visits.get(visit);
  if (known === undefined) {
    known = { visit, day, opened: 0, unopened: 0, by };
    draft.visits.set(visit, known);
  }
  if (opened) known.opened += 1;
  else known.unopened += 1;
}

function compareStations(a: StationDraft, b: StationDraft): number {
  return compareText(a.structure, b.structure) || a.number - b.number || compareText(a.station, b.station);
}

function finishStation(draft: StationDraft): StationState {
  const slots = draft.slots.slice().sort((a, b) => compareText(a.slot, b.slot));
  return { ...draft, slots, doubtfulClocks: draft.doubtfulClocks.slice().sort(compareText) };
}

function sortedValues<T>(map: ReadonlyMap<string, T>): T[] {
  return [...map.entries()].sort(([a], [b]) => compareText(a, b)).map(([, value]) => value);
}
