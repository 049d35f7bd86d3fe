import { defineTable } from '../table.ts';
import { ACTIVITIES, YES_NO } from './inputs.ts';

/** Source: common practice, no source; the intervals are the profile's. */
export const NEXT_INTERVAL = defineTable({
  id: 'next-interval',
  question: 'Which interval counts from today?',
  inputs: {
    finding: ACTIVITIES,
    missedTooOften: YES_NO,
    // when the cap is closed
    holdsBait: YES_NO,
    // a hit that is not clear, today's look counted
    hitOpen: YES_NO,
  },
  rows: [
    {
      id: 'missed',
      when: { finding: 'not opened', missedTooOften: 'no' },
      answer: 'missed station',
      reads: 'Not opened: come back within the interval for missed stations.',
    },
    {
      id: 'replacement',
      when: { finding: 'not opened', missedTooOften: 'yes' },
      answer: 'replacement',
      reads: 'Not opened too many times in a row: a replacement is owed.',
    },
    {
      id: 'live termites',
      when: { finding: ['hit', 'feeding'] },
      answer: 'baited check',
      reads: 'Live termites: the next check comes after the shorter interval for baited stations.',
    },
    {
      id: 'bait in place',
      when: { finding: ['nothing', 'signs'], holdsBait: 'yes' },
      answer: 'baited check',
      reads: 'No live termites, but the station holds bait: the interval for baited stations.',
    },
    {
      id: 'hit not clear',
      when: { finding: ['nothing', 'signs'], holdsBait: 'no', hitOpen: 'yes' },
      answer: 'baited check',
      reads: 'No bait and no live termites, but the hit is not clear yet: the interval for baited stations.',
    },
    {
      id: 'monitoring',
      when: { finding: ['nothing', 'signs'], holdsBait: 'no', hitOpen: 'no' },
      answer: 'check',
      reads: 'Monitoring: the usual check interval.',
    },
  ],
});
