import { type AnyFact, resolveFacts } from '@sillwatch/trade';
import { type Fields, fieldsOf, numberOf, textOf } from './read.ts';

/** Who and where, as the facts of a property tell it; null where they do not. */
export interface PropertyRead {
  readonly name: string | null;
  readonly customerName: string | null;
  readonly street: string | null;
  readonly town: string | null;
  readonly state: string | null;
  readonly postcode: string | null;
}

export interface StationRead {
  readonly number: number;
  readonly structureName: string | null;
}

export interface PropertyBook {
  /** The property as it stood at that moment: a house that was sold keeps its earlier customer on earlier records. */
  find(property: string, epochMs: number): PropertyRead;
  /** The number of a station on its ring and the name of its structure; null when the facts do not tell. */
  findStation(station: string): StationRead | null;
}

/** Reads `property added`, `property changed`, `structure added` and `station installed`, with their corrections. */
export function createPropertyBook(facts: readonly AnyFact[]): PropertyBook {
  const statesByProperty = new Map<string, { epochMs: number; fields: Fields }[]>();
  const stationsById = new Map<string, { number: number; structure: string | null }>();
  const namesByStructure = new Map<string, string>();
  for (const { fact, kind, body, when } of resolveFacts(facts).standing) {
    const fields = fieldsOf(body);
    if (kind === 'station installed' && fact.station !== null) {
      const number = numberOf(fields['number']);
      const structure = textOf(fields['structure']);
      if (number !== null) stationsById.set(fact.station, { number, structure });
    }
    if (kind === 'structure added') {
      const structure = textOf(fields['structure']);
      const name = textOf(fields['name']);
      if (structure !== null && name !== null) namesByStructure.set(structure, name);
    }
    if (fact.property === null || (kind !== 'property added' && kind !== 'property changed')) continue;
    const states = statesByProperty.get(fact.property) ?? [];
    states.push({ epochMs: when.epochMs, fields: { ...states.at(-1)?.fields, ...fields } });
    statesByProperty.set(fact.property, states);
  }
  return {
    find(property, epochMs) {
      const states = statesByProperty.get(property) ?? [];
      const state = states.findLast((candidate) => candidate.epochMs <= epochMs) ?? states[0];
      return readProperty(state?.fields ?? {});
    },
    findStation(station) {
      const found = stationsById.get(station);
      if (found === undefined) return null;
      return { number: found.number, structureName: namesByStructure.get(found.structure ?? '') ?? null };
    },
  };
}

function readProperty(fields: Fields): PropertyRead {
  const address = fieldsOf(fields['address']);
  return {
    name: textOf(fields['name']),
    customerName: textOf(fieldsOf(fields['customer'])['name']),
    street: textOf(address['street']),
    town: textOf(address['town']),
    state: textOf(address['state']),
    postcode: textOf(address['postcode']),
  };
}

/** `12 Elm Street, Springtown, FL 32000`, leaving out what is not there; null when the street is not. */
export function addressInWords(property: PropertyRead): string | null {
  if (property.street === null) return null;
  const region = [property.state, property.postcode].filter((part) => part !== null).join(' ');
  return [property.street, property.town, region].filter((part) => part !== null && part !== '').join(', ');
}
