import { REACHES, TERMITE_FINDINGS } from '../../words.ts';
import { defineTable } from '../table.ts';
import { MONITOR_SLOTS } from './inputs.ts';

/** Source: common practice, no source. Live termites decide, whatever the rest of the record says. */
export const FINDING = defineTable({
  id: 'finding',
  question: 'What does the finding count as?',
  inputs: { reach: REACHES, termites: TERMITE_FINDINGS, monitorSlots: MONITOR_SLOTS },
  rows: [
    {
      id: 'not opened',
      when: { reach: ['not found', 'blocked'] },
      answer: 'not opened',
      reads: 'Nobody opened the station, so it counts as not seen, whatever else is written.',
    },
    {
      id: 'live on bait',
      when: { reach: 'opened', termites: 'live on bait' },
      answer: 'feeding',
      steps: ['look only', 'estimate bait left'],
      cautions: ['leave feeding alone', 'no spray at termites'],
      reads:
        'Live termites on bait: this is a hit and they are feeding. Look only, and estimate the bait left by eye.',
    },
    {
      id: 'live in a station without monitors',
      when: { reach: 'opened', termites: 'live on monitor', monitorSlots: 'none' },
      answer: 'feeding',
      steps: ['look only', 'estimate bait left'],
      cautions: ['leave feeding alone', 'no spray at termites'],
      reads:
        'Live termites are recorded on a monitor, but this model has none: what they are on can only be bait, so they are feeding.',
    },
    {
      id: 'live on monitor',
      when: { reach: 'opened', termites: 'live on monitor', monitorSlots: ['one', 'two'] },
      answer: 'hit',
      cautions: ['leave the base monitor', 'no spray at termites'],
      reads: 'Live termites on a monitor: this is a hit.',
    },
    {
      id: 'signs only',
      when: { reach: 'opened', termites: 'signs only' },
      answer: 'signs',
      steps: ['record signs'],
      reads:
        'Mud, galleries or damage without a live termite: record the signs. It counts neither as a hit nor as feeding.',
    },
    {
      id: 'none',
      when: { reach: 'opened', termites: 'none' },
      answer: 'nothing',
      reads: 'No termites and no signs of them.',
    },
  ],
});
