import type { AnyFact, FactBodies } from '../facts/fact.ts';
import { FIRM_KINDS } from '../facts/kinds.ts';
import type { AwayBody, ClosedDaysBody, LinkBody, SoilNumbers } from '../facts/officeBodies.ts';
import { resolveFacts, type StandingFact } from '../facts/resolve.ts';
import { compareText } from '../units/text.ts';
import type { FirmState } from './state.ts';

type FirmKind = (typeof FIRM_KINDS)[number];
type FirmFact = {
  readonly [K in FirmKind]: StandingFact & { readonly kind: K; readonly body: FactBodies[K] };
}[FirmKind];

function isFirmFact(one: StandingFact): one is FirmFact {
  return FIRM_KINDS.some((kind) => kind === one.kind);
}

/** The firm's profiles, models, branches, technicians, parts and links: the latest of each id. Other facts are passed over. */
export function foldFirm(facts: Iterable<AnyFact>): FirmState {
  const profiles = new Map<string, FirmState['profiles'][string]>();
  const models = new Map<string, FirmState['models'][string]>();
  const branches = new Map<string, FirmState['branches'][string]>();
  const technicians = new Map<string, FirmState['technicians'][string]>();
  const parts = new Map<string, FirmState['parts'][string]>();
  const soilSeasons = new Map<string, SoilNumbers>();
  const links = new Map<string, LinkBody>();
  const away: AwayBody[] = [];
  const closed: ClosedDaysBody[] = [];
  for (const one of resolveFacts(facts).standing) {
    if (one.fact.property !== null || !isFirmFact(one)) continue;
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
      case 'technician set':
        technicians.set(one.body.person, one.body);
        break;
      case 'technician away':
        away.push(one.body);
        break;
      case 'branch closed':
        closed.push(one.body);
        break;
      case 'part set':
        parts.set(one.body.part, one.body);
        break;
      case 'soil season set':
        if (one.body.season === null) soilSeasons.delete(one.body.branch);
        else soilSeasons.set(one.body.branch, one.body.season);
        break;
      case 'link made':
        links.set(one.body.link, one.body);
        break;
      case 'link withdrawn':
        links.delete(one.body.link);
        break;
    }
  }
  return {
    profiles: toRecord(profiles),
    models: toRecord(models),
    branches: toRecord(branches),
    technicians: toRecord(technicians),
    away: away.sort((a, b) => compareText(a.from, b.from) || compareText(a.person, b.person)),
    closed: closed.sort((a, b) => compareText(a.from, b.from) || compareText(a.branch, b.branch)),
    parts: toRecord(parts),
    soilSeasons: toRecord(soilSeasons),
    links: [...links.values()].sort((a, b) => compareText(a.link, b.link)),
  };
}

function toRecord<T>(map: ReadonlyMap<string, T>): Readonly<Record<string, T>> {
  return Object.fromEntries([...map.entries()].sort(([a], [b]) => compareText(a, b)));
}
