import { defineTable } from '../table.ts';
import { MAY_MOVE, YES_NO } from './inputs.ts';

/** Source: common practice, no source. */
export const CLEAN_OUT = defineTable({
  id: 'clean-out',
  question: 'Is the housing cleaned out?',
  inputs: { mayMove: MAY_MOVE, serviceDone: YES_NO, digOut: YES_NO },
  rows: [
    {
      id: 'not opened',
      when: { mayMove: 'not opened' },
      answer: 'no',
      reads: 'Nobody opened the station.',
    },
    {
      id: 'live termites',
      when: { mayMove: ['nothing', 'not the base monitor'] },
      answer: 'no',
      reads: 'Live termites are in the station: never clean out.',
    },
    {
      id: 'new housing',
      when: { mayMove: 'anything', digOut: 'yes' },
      answer: 'no',
      reads: 'A new housing is set, and there is nothing to clean.',
    },
    {
      id: 'yearly service',
      when: { mayMove: 'anything', digOut: 'no', serviceDone: 'yes' },
      answer: 'yes',
      steps: ['clear debris from the housing'],
      reads: 'The yearly service: clear the debris from the housing before the new monitors go in.',
    },
    {
      id: 'check',
      when: { mayMove: 'anything', digOut: 'no', serviceDone: 'no' },
      answer: 'no',
      reads: 'A check does not clean out.',
    },
  ],
});
