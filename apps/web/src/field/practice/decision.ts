import type { Step, StepId, Steps } from '@sillwatch/trade';

/** What one would do at a station, in the trade's own words; asked of a trainee before the rules speak. */
export const DECISIONS = [
  'look only',
  'put bait in',
  'add bait',
  'renew bait',
  'take bait out',
  'renew and clean out',
  'new housing',
  'put back',
  'tell the office',
] as const;
export type Decision = (typeof DECISIONS)[number];

/** By which step one tells what the rules want; the first that is among the steps decides. */
const DECIDED_BY: readonly (readonly [StepId, Decision])[] = [
  ['record why and take a photo', 'tell the office'],
  ['dig out and set a new housing', 'new housing'],
  ['insert bait without pulling the base monitor', 'put bait in'],
  ['add bait without pulling the base monitor', 'add bait'],
  // Feeding, and bait enough: nothing is touched.
  ['look only', 'look only'],
  ['withdraw bait', 'take bait out'],
  ['renew bait', 'renew bait'],
  ['clear debris from the housing', 'renew and clean out'],
  ['fit a new base monitor', 'renew and clean out'],
  ['fit a new top monitor', 'renew and clean out'],
];

/** The rules' own decision, and the step that carries its reason. */
export function decisionOf(asked: Steps): { readonly decision: Decision; readonly by: Step | undefined } {
  for (const [id, decision] of DECIDED_BY) {
    const by = asked.steps.find((step) => step.id === id);
    if (by !== undefined) return { decision, by };
  }
  return {
    decision: 'put back',
    by: asked.steps.find(({ id }) => id === 'put the monitor back') ?? asked.steps[0],
  };
}

/** A first decision as it is kept until the comparison: later ones know the answer. */
export interface Decided {
  readonly decided: Decision;
  readonly wanted: Decision;
}

export function decidedKey(visit: string, station: string): string {
  return `decided ${visit} ${station}`;
}

/** A draft of this or an older build; undefined = nothing that can be read. */
export function readDecided(draft: unknown): Decided | undefined {
  if (typeof draft !== 'object' || draft === null || !('decided' in draft) || !('wanted' in draft))
    return undefined;
  const [decided, wanted] = [draft.decided, draft.wanted].map((said) =>
    DECISIONS.find((one) => one === said),
  );
  return decided === undefined || wanted === undefined ? undefined : { decided, wanted };
}
