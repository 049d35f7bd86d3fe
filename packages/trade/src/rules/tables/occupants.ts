import { OCCUPANTS as OCCUPANTS_FOUND } from '../../words.ts';
import { defineTable } from '../table.ts';
import { MAY_MOVE } from './inputs.ts';

const settle = {
  answer: 'let settle or move',
  steps: ['let occupants settle or move them'],
} as const;

/** Source: common practice, no source. Cautions: fire ants, stinging insects, spiders and snakes live under caps. */
export const OCCUPANTS_TABLE = defineTable({
  id: 'occupants',
  question: 'What about others that live in the station?',
  inputs: { mayMove: MAY_MOVE, occupants: OCCUPANTS_FOUND },
  rows: [
    {
      id: 'not opened',
      when: { mayMove: 'not opened' },
      answer: 'nothing to do',
      reads: 'Nobody opened the station.',
    },
    {
      id: 'none',
      when: { mayMove: ['anything', 'not the base monitor', 'nothing'], occupants: 'none' },
      answer: 'nothing to do',
      reads: 'Nobody else lives in the station.',
    },
    {
      id: 'ants',
      when: { mayMove: 'anything', occupants: 'ants' },
      ...settle,
      cautions: ['ants'],
      reads:
        'Ants: keep your hand out until you know that they are not fire ants, and move them with a tool.',
    },
    {
      id: 'stinging insects',
      when: { mayMove: 'anything', occupants: 'stinging insects' },
      ...settle,
      cautions: ['stinging insects'],
      reads:
        'Stinging insects: keep your hands out. The rest waits until they have gone; if they do not go today, record the station as blocked and say why.',
    },
    {
      id: 'spiders or snakes',
      when: { mayMove: 'anything', occupants: 'spiders or snakes' },
      ...settle,
      cautions: ['spiders or snakes'],
      reads:
        'Spiders or snakes: keep your hands out and move them with a long tool, or wait until they have gone.',
    },
    {
      id: 'other',
      when: { mayMove: 'anything', occupants: 'other' },
      ...settle,
      cautions: ['other occupants'],
      reads: 'Something else lives here: let it go its way, or move it without harm.',
    },
    {
      id: 'ants with termites',
      when: { mayMove: ['not the base monitor', 'nothing'], occupants: 'ants' },
      answer: 'let settle only',
      steps: ['let occupants settle and move nothing'],
      cautions: ['ants', 'no spray at termites'],
      reads: 'Ants and live termites: the termites come first. Move nothing and spray nothing.',
    },
    {
      id: 'stinging insects with termites',
      when: { mayMove: ['not the base monitor', 'nothing'], occupants: 'stinging insects' },
      answer: 'let settle only',
      steps: ['let occupants settle and move nothing'],
      cautions: ['stinging insects', 'no spray at termites'],
      reads:
        'Stinging insects and live termites: the termites come first. Look from a distance, spray nothing; bait waits until the insects have gone.',
    },
    {
      id: 'spiders or snakes with termites',
      when: { mayMove: ['not the base monitor', 'nothing'], occupants: 'spiders or snakes' },
      answer: 'let settle only',
      steps: ['let occupants settle and move nothing'],
      cautions: ['spiders or snakes', 'no spray at termites'],
      reads: 'Spiders or snakes and live termites: keep your hands out and wait until they have gone.',
    },
    {
      id: 'other with termites',
      when: { mayMove: ['not the base monitor', 'nothing'], occupants: 'other' },
      answer: 'let settle only',
      steps: ['let occupants settle and move nothing'],
      cautions: ['other occupants', 'no spray at termites'],
      reads: 'Something else lives here beside live termites: wait until it has gone, and move nothing.',
    },
  ],
});
