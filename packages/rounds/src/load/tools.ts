import type { StepId } from '@sillwatch/trade';

/** Tools that a technician carries; the words are the trade's and hardware's own. */
export const TOOLS = [
  'station key',
  'hand brush',
  'knee pad',
  'torch',
  'gloves',
  'eye protection',
  'phone with camera',
  'monitor puller',
  'drill with clean-out bit',
  'spare battery',
  'cup or hand pump',
  'trowel',
  'tamper',
  'spade',
  'auger',
  'probe',
  'markers for utilities',
  'label of the product',
  'gloves that the label asks for',
  'locked box for bait',
  'bag for old monitors',
  'bag for spent bait',
  'long tool for spiders and snakes',
  'first-aid kit',
  'water',
] as const;
export type Tool = (typeof TOOLS)[number];

const ALWAYS: readonly Tool[] = [
  'station key',
  'hand brush',
  'knee pad',
  'torch',
  'gloves',
  'eye protection',
  'phone with camera',
  'probe',
  'long tool for spiders and snakes',
  'first-aid kit',
  'water',
];

const BAIT: readonly Tool[] = [
  'label of the product',
  'gloves that the label asks for',
  'locked box for bait',
];
const DIG: readonly Tool[] = ['spade', 'auger', 'tamper', 'markers for utilities'];

const BY_STEP: { readonly [S in StepId]?: readonly Tool[] } = {
  'lift the top monitor': ['monitor puller', 'bag for old monitors'],
  'lift the base monitor, every piece of it': ['monitor puller', 'bag for old monitors'],
  'clear debris from the housing': ['drill with clean-out bit', 'spare battery', 'eye protection'],
  'bail out water': ['cup or hand pump'],
  'clear soil': ['trowel'],
  'firm the housing': ['tamper'],
  'dig out and set a new housing': DIG,
  'ask for auxiliary stations': DIG,
  'insert bait without pulling the base monitor': BAIT,
  'add bait without pulling the base monitor': BAIT,
  'renew bait': BAIT,
  'withdraw bait': ['gloves that the label asks for', 'bag for spent bait'],
  'lift the bait and set it aside': ['gloves that the label asks for'],
};

export interface ToolNeed {
  readonly tool: Tool;
  /** chance that this load's work asks for it, 0 to 1; 1 = on every round */
  readonly chance: number;
}

/** The checklist for steps that may come, each with how often it is expected in all; in the order of TOOLS. Common practice, no source. */
export function toolsFor(expectedSteps: ReadonlyMap<StepId, number>): readonly ToolNeed[] {
  const expected = new Map<Tool, number>();
  for (const [step, times] of expectedSteps)
    for (const tool of BY_STEP[step] ?? []) expected.set(tool, (expected.get(tool) ?? 0) + times);
  return TOOLS.flatMap((tool) => {
    if (ALWAYS.includes(tool)) return [{ tool, chance: 1 }];
    // Rare steps at many stations: about Poisson.
    const chance = 1 - Math.exp(-(expected.get(tool) ?? 0));
    return chance < LEAST_CHANCE ? [] : [{ tool, chance }];
  });
}

/** A tool that is wanted on fewer than one round in a thousand stays in the store. */
const LEAST_CHANCE = 0.001;
