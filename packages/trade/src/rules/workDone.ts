import type { FittedInsert, Work } from '../facts/fact.ts';
import { HOUSING_REPAIRS } from '../words.ts';
import type { Step, Steps } from './steps.ts';

/**
 * The fact's Work body when exactly these steps were followed.
 * A housing that was dug out is in it too, as a part used; no `station replaced` fact goes with it (decision 0013).
 */
export function workDone(steps: Steps, minutes: number | null = null): Work {
  const fitted = listFitted(steps.steps);
  const filled = new Set(fitted.map((one) => one.slot));
  const did = (id: Step['id']): boolean => steps.steps.some((step) => step.id === id);
  const repairs = HOUSING_REPAIRS.filter(did);
  return {
    yearlyServiceDone: steps.yearlyServiceDone,
    baseMonitorLifted:
      did('lift the base monitor, every piece of it') || did('dig out and set a new housing'),
    cleanedOut: did('clear debris from the housing'),
    fitted,
    withdrawn: steps.steps.flatMap((step) =>
      step.id === 'withdraw bait' && step.slot !== null && !filled.has(step.slot) ? [step.slot] : [],
    ),
    partsUsed: steps.partsUsed,
    minutes,
    ...(repairs.length === 0 ? {} : { repairs }),
  };
}

/** The insert of each slot, the last one where a slot was filled twice. */
function listFitted(steps: readonly Step[]): readonly FittedInsert[] {
  const bySlot = new Map<string, FittedInsert>();
  for (const { slot, insert } of steps) {
    if (slot !== null && insert !== null) bySlot.set(slot, { slot, insert });
  }
  return [...bySlot.values()];
}
