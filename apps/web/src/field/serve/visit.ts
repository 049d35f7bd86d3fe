import {
  type AnyFact,
  assessClearance,
  correctedId,
  type DueItem,
  type DueWork,
  foldProperty,
  type LabelProfile,
  type PropertyState,
  resolveFacts,
  type StationSeenBody,
  type StationState,
  type Task,
  timelinessOn,
} from '@sillwatch/trade';
import type { FieldProperty } from '../store/port.ts';

/** A look that stands: not withdrawn, and as corrected. */
export interface Look {
  readonly fact: AnyFact;
  readonly station: string;
  readonly body: StationSeenBody;
  /** RFC 3339 with offset */
  readonly at: string;
}

/** Every look that stands, in the order in which it happened. Facts were checked before they were stored. */
export function listLooks(facts: readonly AnyFact[]): readonly Look[] {
  return resolveFacts(facts).standing.flatMap(({ fact, kind, body }): readonly Look[] =>
    kind === 'station seen' && fact.station !== null
      ? [{ fact, station: fact.station, body: body as StationSeenBody, at: fact.at }]
      : [],
  );
}

export interface VisitView {
  /** Ids of stations in service that are owed something that can be done today. */
  readonly owed: readonly string[];
  /** The last look of each station on this visit. */
  readonly seen: ReadonlyMap<string, Look>;
  /** Owed and not seen on this visit yet. */
  readonly left: readonly string[];
  readonly isClosed: boolean;
}

export function viewVisit({ state, due, today, facts }: FieldProperty, visit: string): VisitView {
  const seen = new Map(
    listLooks(facts)
      .filter(({ body }) => body.visit === visit)
      .map((look) => [look.station, look]),
  );
  const open = new Set(
    (due?.items ?? []).filter((item) => isOpen(item, today)).map(({ station }) => station),
  );
  const inService = state.stations.filter((station) => station.inService);
  // What was seen today is no longer owed by the due list, and was part of this visit's work all the same.
  const owed = inService
    .filter(({ station }) => open.has(station) || seen.has(station))
    .map(({ station }) => station);
  return {
    owed,
    seen,
    left: owed.filter((station) => !seen.has(station)),
    isClosed: resolveFacts(facts).standing.some(
      ({ kind, body }) => kind === 'visit closed' && (body as { readonly visit?: unknown }).visit === visit,
    ),
  };
}

function isOpen(item: DueItem, today: FieldProperty['today']): boolean {
  return timelinessOn(item, today) !== 'not yet';
}

const YEARLY: ReadonlySet<string> = new Set(['yearly service', 'carried-over service']);

/** What the visit is for: the yearly service as soon as one is open anywhere on the property. */
export function taskOfVisit(due: DueWork | undefined, today: FieldProperty['today']): Task {
  return (due?.items ?? []).some((item) => YEARLY.has(item.work) && isOpen(item, today))
    ? 'yearly service'
    : 'check';
}

/** What one came to this station for: its own yearly service, also one that waits because termites were feeding. */
export function taskAt(
  station: string,
  due: DueWork | undefined,
  today: FieldProperty['today'],
  ofVisit: Task,
): Task {
  const isOwed = (due?.items ?? []).some(
    (item) => item.station === station && YEARLY.has(item.work) && isOpen(item, today),
  );
  const isHeld = (due?.held ?? []).some((held) => held.station === station);
  return isOwed || (isHeld && ofVisit === 'yearly service') ? 'yearly service' : 'check';
}

/** The property as it stood before a record, which is what its steps were told from; undefined = no such look stands. */
export function stateBefore(
  facts: readonly AnyFact[],
  factId: string,
  profile: LabelProfile,
): { readonly look: Look; readonly state: StationState; readonly property: PropertyState } | undefined {
  const looks = listLooks(facts);
  const index = looks.findIndex(({ fact }) => fact.id === factId);
  const look = looks[index];
  if (look === undefined) return undefined;
  const later = new Set(
    looks
      .slice(index)
      .filter(({ station }) => station === look.station)
      .map(({ fact }) => fact.id),
  );
  const property = foldProperty(
    facts.filter((fact) => !later.has(fact.id) && !later.has(correctedId(fact) ?? '')),
  );
  const state = property.stations.find(({ station }) => station === look.station);
  return state === undefined ? undefined : { look, property, state: assessClearance(state, profile) };
}
