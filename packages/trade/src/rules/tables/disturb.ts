import { defineTable } from '../table.ts';
import { ACTIVITIES } from './inputs.ts';

/** Source: common practice, no source. The rule above all others: feeding termites are left alone. */
export const DISTURB = defineTable({
  id: 'disturb',
  question: 'What in this station may be moved today?',
  inputs: { finding: ACTIVITIES },
  rows: [
    {
      id: 'not opened',
      when: { finding: 'not opened' },
      answer: 'not opened',
      reads: 'Nobody opened the station, so nothing is moved.',
    },
    {
      id: 'feeding',
      when: { finding: 'feeding' },
      answer: 'nothing',
      reads:
        'Termites are feeding: move nothing that is in the station. Never lift a monitor, never clean out, never dig.',
    },
    {
      id: 'hit',
      when: { finding: 'hit' },
      answer: 'not the base monitor',
      reads:
        'Termites are on the monitor: the base monitor stays where it is, and nothing is cleaned out or dug.',
    },
    {
      id: 'no live termites',
      when: { finding: ['signs', 'nothing'] },
      answer: 'anything',
      reads: 'No live termites today: everything in the station may be moved.',
    },
  ],
});
