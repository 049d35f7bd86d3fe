import { REACHES } from '../../words.ts';
import { defineTable } from '../table.ts';

/** Source: common practice, no source; the limit is the profile's `missesBeforeReplacement`. */
export const REACH = defineTable({
  id: 'reach',
  question: 'Could the station be opened?',
  inputs: {
    reach: REACHES,
    // misses in a row, today's counted, against the profile's limit
    misses: ['under the limit', 'at the limit'],
  },
  rows: [
    {
      id: 'opened',
      when: { reach: 'opened' },
      answer: 'opened',
      steps: ['sweep and open', 'close and lock the cap'],
      reads: 'The station was opened: sweep the cap first, and close and lock it at the end.',
    },
    {
      id: 'missed',
      when: { reach: ['not found', 'blocked'], misses: 'under the limit' },
      answer: 'missed',
      steps: ['record why and take a photo', 'tell the office'],
      tell: ['could not open'],
      reads:
        'The station could not be opened: record why with a photo and tell the office. It does not count as checked and stays owed.',
    },
    {
      id: 'missed too often',
      when: { reach: ['not found', 'blocked'], misses: 'at the limit' },
      answer: 'missed too often',
      steps: ['record why and take a photo', 'ask for a replacement', 'tell the office'],
      tell: ['could not open', 'replacement asked'],
      reads:
        'The station could not be opened as many times in a row as the profile allows: record why with a photo, tell the office and ask for a replacement.',
    },
  ],
});
