import { type LabelProfile, type Step, type StepId, type Steps, type Work, workDone } from '@sillwatch/trade';

/** Steps that leave something changed in the ground: whoever did not do one of them says so. */
const CHANGES: ReadonlySet<StepId> = new Set<StepId>([
  'bail out water',
  'clear soil',
  'withdraw bait',
  'lift the top monitor',
  'lift the base monitor, every piece of it',
  'clear debris from the housing',
  'dig out and set a new housing',
  'firm the housing',
  'fit a new base monitor',
  'fit a new top monitor',
  'insert bait without pulling the base monitor',
  'add bait without pulling the base monitor',
  'renew bait',
  'fit a new cap',
]);

/** Without these the yearly service is not done: what its rules ask of monitors and housing. */
const OF_THE_SERVICE: ReadonlySet<string> = new Set(['monitor', 'clean-out', 'dig-out']);

export function canBeLeft(step: Step): boolean {
  return CHANGES.has(step.id);
}

/** The steps as they were followed: those left out are taken away with their parts, their bait and, if need be, the service. */
export function stepsFollowed(
  steps: Steps,
  left: ReadonlySet<StepId>,
  profile: Pick<LabelProfile, 'baitGramsPerInsert'>,
): Steps {
  if (left.size === 0) return steps;
  const kept = steps.steps.filter(({ id }) => !left.has(id));
  const partsUsed: Record<string, number> = {};
  for (const { parts } of kept)
    for (const [part, count] of Object.entries(parts)) partsUsed[part] = (partsUsed[part] ?? 0) + count;
  const missing = steps.steps.filter(({ id, table }) => left.has(id) && OF_THE_SERVICE.has(table));
  return {
    ...steps,
    steps: kept,
    partsUsed,
    baitGrams: kept.filter(({ insert }) => insert === 'bait').length * profile.baitGramsPerInsert.value,
    yearlyServiceDone: steps.yearlyServiceDone && missing.length === 0,
    housingReplaced: steps.housingReplaced && !left.has('dig out and set a new housing'),
  };
}

/** The record's work: what the steps that were followed change, and the parts as they were counted by hand. */
export function workOf(
  followed: Steps,
  partsCounted: Readonly<Record<string, number>> | null,
  minutes: number | null,
): Work {
  const work = workDone(followed, minutes);
  if (partsCounted === null) return work;
  return {
    ...work,
    partsUsed: Object.fromEntries(Object.entries(partsCounted).filter(([, count]) => count > 0)),
  };
}
