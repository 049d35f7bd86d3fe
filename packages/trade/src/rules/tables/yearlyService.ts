import { TASKS } from '../../words.ts';
import { defineTable } from '../table.ts';
import { MAY_MOVE, YES_NO } from './inputs.ts';

/** Source: common practice, no source (once in 12 to 15 months, never where termites feed). */
export const YEARLY_SERVICE = defineTable({
  id: 'yearly-service',
  question: 'Is the yearly service done now?',
  inputs: {
    task: TASKS,
    mayMove: MAY_MOVE,
    // a yearly service was carried over here and not done since
    carriedOverBefore: YES_NO,
  },
  rows: [
    {
      id: 'not opened',
      when: { mayMove: 'not opened' },
      answer: 'not done',
      reads: 'Nobody opened the station: what was owed stays owed.',
    },
    {
      id: 'do it',
      when: { task: 'yearly service', mayMove: 'anything' },
      answer: 'done',
      tell: ['service done'],
      reads:
        'The yearly service is asked for and no live termites are in the station: do it, also where it was carried over before.',
    },
    {
      id: 'carry it over',
      when: { task: 'yearly service', mayMove: ['nothing', 'not the base monitor'] },
      answer: 'carried over',
      tell: ['service carried over'],
      reads:
        'The yearly service is asked for, but live termites are in the station: carry it over. It stays owed.',
    },
    {
      id: 'say that it is owed',
      when: { task: 'check', mayMove: 'anything', carriedOverBefore: 'yes' },
      answer: 'not done',
      steps: ['tell the office'],
      tell: ['service owed'],
      reads:
        'A check, no live termites, and a yearly service carried over from before: it can be done again, so tell the office to plan it. It is not done on a check, for which neither time nor parts were loaded.',
    },
    {
      id: 'still waiting',
      when: { task: 'check', mayMove: ['nothing', 'not the base monitor'], carriedOverBefore: 'yes' },
      answer: 'not done',
      reads: 'A check, and the termites are still there: the yearly service carried over goes on waiting.',
    },
    {
      id: 'not asked for',
      when: {
        task: 'check',
        mayMove: ['anything', 'nothing', 'not the base monitor'],
        carriedOverBefore: 'no',
      },
      answer: 'not done',
      reads: 'A check only: no yearly service is asked for.',
    },
  ],
});
