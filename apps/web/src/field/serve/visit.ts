import {
  type AnyFact,
  assessClearance,
  type DueItem,
  type DueWork,
  type LabelProfile,
  resolveFacts,
  type Task,
  timelinessOn,
} from '@sillwatch/trade';
import { findBefore, type Look, type LookBefore, listLooks } from '../../shared/looks.ts';
import type { FieldProperty } from '../store/port.ts';

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

/** As `findBefore`, with whether the station was clear then, which its steps are told from. */
export function stateBefore(
  facts: readonly AnyFact[],
  factId: string,
  profile: LabelProfile,
): LookBefore | undefined {
  const before = findBefore(facts, factId);
  return before === undefined ? undefined : { ...before, state: assessClearance(before.state, profile) };
}
