import type { AnyFact, FactBodies } from '../facts/fact.ts';
import { resolveFacts, type StandingFact } from '../facts/resolve.ts';
import { compareText } from '../units/text.ts';
import type { FirmState } from './state.ts';

const FIRM_KINDS = ['profile set', 'model set', 'branch added'] as const;
type FirmKind = (typeof FIRM_KINDS)[number];
type FirmFact = {
  readonly [K in FirmKind]: StandingFact & { readonly kind: K; readonly body: FactBodies[K] };
}[FirmKind];

function isFirmFact(one: StandingFact): one is FirmFact {
  return FIRM_KINDS.some((kind) => kind === one.kind);
}

/** The firm's profiles, models and branches: the latest of each id. Facts of properties are passed over. */
export function foldFirm(facts: Iterable<AnyFact>): FirmState {
  const profiles = new Map<string, FirmState['profiles'][string]>();
  const models = new Map<string, FirmState['models'][string]>();
  const branches = new Map<string, FirmState['branches'][string]>();
  for (const one of resolveFacts(facts).standing) {
    if (!isFirmFact(one)) continue;
    switch (one.kind) {
      case 'profile set':
        profiles.set(one.body.id, one.body);
        break;
      case 'model set':
        models.set(one.body.id, one.body);
        break;
      case 'branch added':
        branches.set(one.body.branch, one.body);
        break;
    }
  }
  return { profiles: toRecord(profiles), models: toRecord(models), branches: toRecord(branches) };
}

function toRecord<T>(map: ReadonlyMap<string, T>): Readonly<Record<string, T>> {
  return Object.fromEntries([...map.entries()].sort(([a], [b]) => compareText(a, b)));
}
