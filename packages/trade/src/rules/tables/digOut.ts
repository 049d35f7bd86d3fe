import { HOUSING_CONDITIONS, MONITOR_CONDITIONS } from '../../words.ts';
import { defineTable } from '../table.ts';
import { MAY_MOVE, YES_NO } from './inputs.ts';

/** Source: common practice, no source. */
export const DIG_OUT = defineTable({
  id: 'dig-out',
  question: 'Is the housing dug out and a new one set?',
  inputs: {
    mayMove: MAY_MOVE,
    housing: HOUSING_CONDITIONS,
    monitor: MONITOR_CONDITIONS,
    serviceDone: YES_NO,
  },
  rows: [
    {
      id: 'not opened',
      when: { mayMove: 'not opened' },
      answer: 'no',
      reads: 'Nobody opened the station.',
    },
    {
      id: 'broken with termites',
      when: { mayMove: ['nothing', 'not the base monitor'], housing: 'broken' },
      answer: 'later',
      steps: ['mark the housing for replacement when feeding has ended'],
      tell: ['repair later'],
      reads:
        'The housing is broken but live termites are in it: mark it, and replace it when they have gone.',
    },
    {
      id: 'whole with termites',
      when: {
        mayMove: ['nothing', 'not the base monitor'],
        housing: ['sound', 'cap damaged', 'loose', 'flooded', 'filled with soil'],
      },
      answer: 'no',
      reads: 'Live termites are in the station: nothing is dug.',
    },
    {
      id: 'broken',
      when: { mayMove: 'anything', housing: 'broken' },
      answer: 'dig out',
      steps: ['dig out and set a new housing'],
      tell: ['station replaced'],
      reads: 'The housing is broken and no live termites are in it: dig it out and set a new one.',
    },
    {
      id: 'swollen at the service',
      when: {
        mayMove: 'anything',
        housing: ['sound', 'cap damaged', 'loose', 'flooded', 'filled with soil'],
        monitor: 'swollen',
        serviceDone: 'yes',
      },
      answer: 'dig out',
      steps: ['dig out and set a new housing'],
      tell: ['station replaced'],
      reads:
        'The monitor has swollen and will not lift, and the yearly service is to be done: dig out the housing with it and set a new one.',
    },
    {
      id: 'swollen at a check',
      when: {
        mayMove: 'anything',
        housing: ['sound', 'cap damaged', 'loose', 'flooded', 'filled with soil'],
        monitor: 'swollen',
        serviceDone: 'no',
      },
      answer: 'no',
      reads: 'The monitor has swollen, but a check need not lift it: it waits for the yearly service.',
    },
    {
      id: 'stays',
      when: {
        mayMove: 'anything',
        housing: ['sound', 'cap damaged', 'loose', 'flooded', 'filled with soil'],
        monitor: ['sound', 'eaten', 'rotten', 'missing', 'no monitor'],
      },
      answer: 'no',
      reads: 'The housing stays in the ground.',
    },
  ],
});
