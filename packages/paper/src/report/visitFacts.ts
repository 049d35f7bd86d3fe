import { type AnyFact, type Day, findMoment, type PropertyState } from '@sillwatch/trade';
import { type Entry, listEntries, type Version } from './entries.ts';
import { type StationRef, structureRank } from './format.ts';
import {
  type ApplicationRead,
  countInserts,
  fieldsOf,
  findApplication,
  numberOf,
  readSeen,
  type SeenRead,
  textOf,
} from './read.ts';

/** What happened at one station during the visit. */
export type StationEvent = StationRef & {
  readonly station: string;
  readonly at: string;
  readonly application: ApplicationRead | null;
} & (
    | { readonly kind: 'seen'; readonly seen: SeenRead }
    | {
        readonly kind: 'installed';
        readonly model: string;
        readonly baits: number;
        readonly monitors: number;
      }
    | { readonly kind: 'replaced'; readonly why: string; readonly baits: number; readonly monitors: number }
  );

export interface ClosedRead {
  readonly task: string | null;
  readonly technician: string | null;
  readonly licenceNumber: string | null;
  readonly startedAt: string | null;
  readonly note: string | null;
}

/** A wording of an entry of this visit that no longer holds. */
export interface EndedVersion {
  /** null = the closing of the visit */
  readonly station: StationRef | null;
  readonly version: Version;
}

export interface VisitFacts {
  readonly day: Day | null;
  readonly events: readonly StationEvent[];
  readonly closed: ClosedRead | null;
  readonly ended: readonly EndedVersion[];
}

/**
 * The facts of one visit, corrections applied, stations in the order of the property's structures and of their numbers.
 * A replacement names no visit: those of the visit's day by the same hand belong to it.
 * Throws a RangeError when no fact names the visit.
 */
export function getVisitFacts(facts: readonly AnyFact[], visit: string, property: PropertyState): VisitFacts {
  const entries = listEntries(facts);
  const own = entries.filter((entry) => entry.versions.some((version) => visitOf(version) === visit));
  if (own.length === 0) {
    throw new RangeError(
      `no fact of property ${property.property} names visit ${visit}: look the visit up in the property's list of visits`,
    );
  }
  const holding = own.filter((entry) => entry.current !== null && visitOf(entry.current) === visit);
  const closed = readClosed(holding);
  const firstAt = (holding[0] ?? own[0])?.root.at ?? '';
  const summary = property.visits.find((item) => item.visit === visit);
  const day = summary?.day ?? findMoment(closed?.startedAt ?? firstAt)?.day ?? null;
  const hands = new Set(own.map((entry) => entry.root.by));
  const replaced = entries.filter(
    (entry) =>
      entry.root.kind === 'station replaced' &&
      entry.current !== null &&
      hands.has(entry.root.by) &&
      findMoment(entry.current.at)?.day === day,
  );
  const refOf = createRefs(entries, property);
  const rank = structureRank(property);
  return {
    day,
    closed,
    events: [...holding, ...replaced]
      .flatMap((entry) => eventOf(entry, refOf))
      .sort((a, b) => rank(a.structure) - rank(b.structure) || a.number - b.number),
    ended: own.flatMap((entry) =>
      entry.versions
        .filter((version) => version.endedBy !== null)
        .map((version) => ({ station: refOf(entry.root.station), version })),
    ),
  };
}

function visitOf(version: Version): string | null {
  return textOf(fieldsOf(version.body)['visit']);
}

function readClosed(entries: readonly Entry[]): ClosedRead | null {
  const entry = entries.findLast((candidate) => candidate.root.kind === 'visit closed');
  if (entry === undefined || entry.current === null) return null;
  const fields = fieldsOf(entry.current.body);
  return {
    task: textOf(fields['task']),
    technician: textOf(fields['technician']),
    licenceNumber: textOf(fields['licenceNumber']),
    startedAt: textOf(fields['startedAt']),
    note: textOf(fields['note']),
  };
}

/** Structure and number of a station: from the state, else from its installation, else null. */
function createRefs(
  entries: readonly Entry[],
  property: PropertyState,
): (id: string | null) => StationRef | null {
  const refs = new Map<string, StationRef>();
  for (const { root, current } of entries) {
    if (root.kind !== 'station installed' || root.station === null || current === null) continue;
    const fields = fieldsOf(current.body);
    refs.set(root.station, {
      structure: textOf(fields['structure']) ?? '',
      number: numberOf(fields['number']) ?? 0,
    });
  }
  for (const state of property.stations) refs.set(state.station, state);
  return (id) => (id === null ? null : (refs.get(id) ?? null));
}

function eventOf(entry: Entry, refOf: (id: string | null) => StationRef | null): readonly StationEvent[] {
  const { root, current } = entry;
  if (current === null || root.station === null) return [];
  const ref = refOf(root.station) ?? { structure: '', number: 0 };
  const fields = fieldsOf(current.body);
  const head = {
    structure: ref.structure,
    number: ref.number,
    station: root.station,
    at: current.at,
    application: findApplication(current.body),
  };
  switch (root.kind) {
    case 'station seen':
      return [{ ...head, kind: 'seen', seen: readSeen(current.body) }];
    case 'station installed':
      return [
        {
          ...head,
          kind: 'installed',
          model: textOf(fields['model']) ?? '',
          ...countInserts(fields['inserts']),
        },
      ];
    case 'station replaced':
      return [
        {
          ...head,
          kind: 'replaced',
          why: textOf(fields['why']) ?? '',
          ...countInserts(fields['inserts']),
        },
      ];
    default:
      return [];
  }
}
