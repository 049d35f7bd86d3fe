import type { FactKind } from './fact.ts';

/** Kinds that say something of one station. */
export const STATION_KINDS: readonly FactKind[] = [
  'station installed',
  'station moved',
  'station tagged',
  'station replaced',
  'station removed',
  'station seen',
];

/** Kinds that a property's state is made of; only a note may also be of the firm itself. */
export const PROPERTY_KINDS: readonly FactKind[] = [
  'property added',
  'property changed',
  'structure added',
  ...STATION_KINDS,
  'visit closed',
  'note added',
];
