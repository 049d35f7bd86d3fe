import { type AnyFact, resolveFacts } from '@sillwatch/trade';
import { fieldsOf, readSeen, type SeenRead, textOf } from './read.ts';
import { type Outcome, outcomeOf } from './stationWords.ts';
import type { Say } from './words/say.ts';

export interface LookOf {
  readonly station: string;
  readonly seen: SeenRead;
}

/** The stations of which a look says so; one looked at twice stands once. */
export function stationsWhere(
  looks: readonly LookOf[],
  keep: (seen: SeenRead) => boolean,
): ReadonlySet<string> {
  return new Set(looks.filter(({ seen }) => keep(seen)).map(({ station }) => station));
}

export function countStations(looks: readonly LookOf[], keep: (seen: SeenRead) => boolean): number {
  return stationsWhere(looks, keep).size;
}

export function countOutcome(looks: readonly LookOf[], outcome: Outcome): number {
  return countStations(looks, (seen) => outcomeOf(seen) === outcome);
}

export function countOpened(looks: readonly LookOf[]): number {
  return countStations(looks, ({ finding }) => finding?.reach === 'opened');
}

/** Whether termites were seen, in the customer's words: a sentence for those on bait, one for those on monitors, or that none were. */
export function visitFoundInWords(looks: readonly LookOf[], say: Say): readonly string[] {
  const feeding = countOutcome(looks, 'feeding');
  const live = countOutcome(looks, 'live');
  if (feeding + live === 0) return countOpened(looks) > 0 ? [say('visit.lead.none')] : [];
  return [
    ...(feeding > 0 ? [say('visit.lead.feeding', { n: feeding })] : []),
    ...(live > 0 ? [say('visit.lead.live', { n: live })] : []),
  ];
}

/** The looks that stand, corrections applied, by the visit they name. */
export function looksByVisit(facts: readonly AnyFact[]): ReadonlyMap<string, readonly LookOf[]> {
  const looks = new Map<string, LookOf[]>();
  for (const { fact, kind, body } of resolveFacts(facts).standing) {
    const visit = textOf(fieldsOf(body)['visit']);
    if (kind !== 'station seen' || fact.station === null || visit === null) continue;
    const own = looks.get(visit) ?? [];
    own.push({ station: fact.station, seen: readSeen(body) });
    looks.set(visit, own);
  }
  return looks;
}
