import {
  type AnyFact,
  correctedId,
  foldProperty,
  type PropertyState,
  resolveFacts,
  type StationSeenBody,
  type StationState,
} from '@sillwatch/trade';

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

export interface LookBefore {
  readonly look: Look;
  readonly property: PropertyState;
  readonly state: StationState;
}

/** The property as it stood before a look, which is what its questions were asked of; undefined = no such look stands. */
export function findBefore(facts: readonly AnyFact[], factId: string): LookBefore | undefined {
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
  return state === undefined ? undefined : { look, property, state };
}
