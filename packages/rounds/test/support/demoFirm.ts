import { generateDemo } from '@sillwatch/demo';
import { type AnyFact, foldProperty, getDay, type PropertyState } from '@sillwatch/trade';
import { historyOf, type PropertyHistory } from '../../src/index.ts';

export const TODAY = getDay('2026-11-25');

export interface DemoBook {
  readonly facts: readonly AnyFact[];
  readonly factsByProperty: ReadonlyMap<string, readonly AnyFact[]>;
  readonly histories: readonly PropertyHistory[];
  readonly states: readonly PropertyState[];
}

/** The demo firm, folded property by property. */
export function demoBook(seed = 7, properties = 60, today = TODAY): DemoBook {
  const { facts } = generateDemo({ seed, today, properties });
  const factsByProperty = new Map<string, AnyFact[]>();
  for (const fact of facts) {
    if (fact.property === null) continue;
    const known = factsByProperty.get(fact.property);
    if (known === undefined) factsByProperty.set(fact.property, [fact]);
    else known.push(fact);
  }
  const entries = [...factsByProperty];
  return {
    facts,
    factsByProperty,
    histories: entries.map(([property, own]) => historyOf(property, own)),
    states: entries.map(([, own]) => foldProperty(own)),
  };
}
