import type { StepId } from './steps.ts';

/** What to be careful of, in plain English. The label in hand and the local code come before all of it. */
export const CAUTIONS = {
  'leave feeding alone':
    'Termites are feeding on the bait. Leave everything in the station as it is, or they may leave it.',
  'leave the base monitor':
    'Termites are on the monitor. Do not pull or turn the base monitor, or they may leave the station.',
  'stinging insects':
    'Stinging insects under the cap. Keep your hands out and stand back until they have gone. If you react to stings, do not go on.',
  ants: 'Ants under the cap may be fire ants. Keep your hands out until you know, and brush them off with a tool.',
  'spiders or snakes': 'Spiders or snakes under the cap. Keep your hands out and use a long tool.',
  'other occupants': 'An animal lives in the station. Keep your hands out until you know what it is.',
  'no spray at termites':
    'Spray nothing in or near a station with live termites: it can drive them off the bait.',
  'locate buried utilities':
    'Have buried utilities located before any digging (call 811 in the United States) and wait for the marks.',
  'clean-out tool':
    'Hold the drill with both hands. Wear eye protection, and no loose clothing or gloves that can wind up; the wood may hide nails or stones.',
  'handle bait by the label':
    'Read the label in hand. Wear the gloves it asks for, and let a licensed applicator put the bait in where the law says so.',
  'bait out of reach':
    'Keep bait out of reach of children and animals, on the truck and in the ground; lock the cap.',
} as const;
export type CautionKey = keyof typeof CAUTIONS;

/** Cautions that go with a step wherever it stands. */
export const STEP_CAUTIONS: { readonly [S in StepId]?: readonly CautionKey[] } = {
  'insert bait without pulling the base monitor': ['handle bait by the label', 'bait out of reach'],
  'add bait without pulling the base monitor': ['handle bait by the label', 'bait out of reach'],
  'renew bait': ['handle bait by the label', 'bait out of reach'],
  'withdraw bait': ['handle bait by the label', 'bait out of reach'],
  'lift the bait and set it aside': ['handle bait by the label', 'bait out of reach'],
  'clear debris from the housing': ['clean-out tool'],
  'dig out and set a new housing': ['locate buried utilities'],
  'ask for auxiliary stations': ['locate buried utilities'],
  'ask for a replacement': ['locate buried utilities'],
};
