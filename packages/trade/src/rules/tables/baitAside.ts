import { defineTable } from '../table.ts';
import { MAY_MOVE, YES_NO } from './inputs.ts';

/** Source: common practice, no source. */
export const BAIT_ASIDE = defineTable({
  id: 'bait-aside',
  question: 'Is bait that stays set aside while the station is worked on?',
  inputs: {
    mayMove: MAY_MOVE,
    baitStays: YES_NO,
    // a monitor under or beside it is renewed, the housing cleaned out, or a new one set
    insideWorkedOn: YES_NO,
  },
  rows: [
    {
      id: 'not opened or termites',
      when: { mayMove: ['not opened', 'not the base monitor', 'nothing'] },
      answer: 'no',
      reads: 'Nobody opened the station, or live termites are in it: no bait is lifted.',
    },
    {
      id: 'no bait to save',
      when: { mayMove: 'anything', baitStays: 'no' },
      answer: 'no',
      reads: 'No bait stays in the station.',
    },
    {
      id: 'bait in the way',
      when: { mayMove: 'anything', baitStays: 'yes', insideWorkedOn: 'yes' },
      answer: 'yes',
      steps: ['lift the bait and set it aside', 'put the bait back'],
      reads:
        'The inside is worked on and the bait stays: set the bait aside first and put it back afterwards.',
    },
    {
      id: 'untouched',
      when: { mayMove: 'anything', baitStays: 'yes', insideWorkedOn: 'no' },
      answer: 'no',
      reads: 'Nothing under the bait is worked on: it stays where it is.',
    },
  ],
});
