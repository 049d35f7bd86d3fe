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

/** Kinds that a property's state is made of; those of `PROPERTY_OR_FIRM_KINDS` may also be of the firm itself. */
export const PROPERTY_KINDS: readonly FactKind[] = [
  'property added',
  'property changed',
  'structure added',
  'structure removed',
  'site drawn',
  ...STATION_KINDS,
  'visit closed',
  'visit asked',
  'ask withdrawn',
  'visit promised',
  'paper sent',
  'link made',
  'link withdrawn',
  'note added',
];

/** Kinds that the firm's own state is made of (`foldFirm`). */
export const FIRM_KINDS = [
  'profile set',
  'model set',
  'branch added',
  'technician set',
  'technician away',
  'branch closed',
  'part set',
  'soil season set',
  'link made',
  'link withdrawn',
] as const satisfies readonly FactKind[];

/** Kinds that speak of a property or, without one, of the firm. */
export const PROPERTY_OR_FIRM_KINDS: readonly FactKind[] = [
  'note added',
  'paper sent',
  'link made',
  'link withdrawn',
];
