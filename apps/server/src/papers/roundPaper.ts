import { type Ledger, listEveryFact } from '@sillwatch/ledger';
import type { WorkListInput } from '@sillwatch/paper';
import { fitHitRisk, historyOf, learnWear, loadFor, subjectOf } from '@sillwatch/rounds';
import {
  addDays,
  getDay,
  type LabelProfile,
  PARTS,
  type PropertyState,
  type RoundBody,
} from '@sillwatch/trade';
import { modelsOf } from '../work/firm.ts';

/** Accepted chance of running out of a part on the road; a setting of ours, no source. */
const CHANCE_SHORT = 0.05;

/** What a round's work list needs from the ledger: its properties, their label profiles, and the load reckoned from their own looks. */
export async function readRoundPaper(
  ledger: Ledger,
  firmId: string,
  round: RoundBody,
): Promise<Pick<WorkListInput, 'round' | 'properties' | 'profiles' | 'load'>> {
  const firm = await ledger.getFirm(firmId);
  const properties = new Map<string, PropertyState>();
  const profiles = new Map<string, LabelProfile>();
  const subjects: ReturnType<typeof subjectOf>[] = [];
  for (const id of new Set(round.visits.map(({ property }) => property))) {
    const state = await ledger.findProperty(firmId, id);
    if (state === undefined) continue;
    properties.set(id, state);
    const profile = firm.profiles[state.body?.profile ?? ''];
    if (profile === undefined) continue;
    profiles.set(id, profile);
    subjects.push(
      subjectOf(historyOf(id, await listEveryFact(ledger, firmId, { property: id })), state, profile),
    );
  }
  if (round.visits.length === 0) return { round, properties, profiles, load: [] };
  const day = getDay(round.day);
  const before = addDays(day, -1);
  const names = Object.fromEntries(Object.values(firm.parts).map(({ part, name }) => [part, name]));
  const load = loadFor(
    {
      visits: round.visits
        .filter(({ property }) => profiles.has(property))
        .map(({ property, works }) => ({ property, day, works })),
      states: properties,
      profiles: firm.profiles,
      models: modelsOf(firm),
      risk: fitHitRisk(subjects, before),
      wear: learnWear(subjects, before),
    },
    { chance: CHANCE_SHORT, names: { ...PARTS, ...names } },
  );
  return {
    round,
    properties,
    profiles,
    load: load.parts
      .filter(({ take }) => take > 0)
      .map(({ part, name, take }) => ({ part, name, count: take })),
  };
}
