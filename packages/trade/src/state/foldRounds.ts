import type { AnyFact, FactBodies } from '../facts/fact.ts';
import type { RoundBody } from '../facts/officeBodies.ts';
import { resolveFacts, type StandingFact } from '../facts/resolve.ts';
import { compareText } from '../units/text.ts';

/** The facts that `foldRounds` reads; corrections of them belong to it too. */
export const ROUND_KINDS = ['round published'] as const;

type RoundFact = StandingFact & { readonly body: FactBodies['round published'] };

function isRoundFact(one: StandingFact): one is RoundFact {
  return one.kind === 'round published';
}

/** The rounds as they were last sent out, one a person and day, by day and then by person; emptied ones are left out. */
export function foldRounds(facts: Iterable<AnyFact>): readonly RoundBody[] {
  const latest = new Map<string, RoundBody>();
  for (const one of resolveFacts(facts).standing) {
    if (isRoundFact(one)) latest.set(`${one.body.day} ${one.body.person}`, one.body);
  }
  return [...latest.values()]
    .filter(({ visits }) => visits.length > 0)
    .sort((a, b) => compareText(a.day, b.day) || compareText(a.person, b.person));
}
