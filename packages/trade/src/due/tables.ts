import { defineTable } from '../rules/table.ts';
import { YES_NO } from '../rules/tables/inputs.ts';

/** Which look at the station is owed next. Source: common practice, no source; the windows are the profile's. */
export const NEXT_LOOK = defineTable({
  id: 'next-look',
  question: 'Which look at this station is owed next?',
  inputs: {
    standing: ['seen at the last visit', 'missed', 'missed too often'],
    everOpened: YES_NO,
    holdsBait: YES_NO,
    hitOpen: YES_NO,
  },
  rows: [
    {
      id: 'replace it',
      when: { standing: 'missed too often' },
      answer: 'replacement',
      reads:
        'Not opened at too many visits in a row: a new station is owed, within the window for missed stations.',
    },
    {
      id: 'missed',
      when: { standing: 'missed' },
      answer: 'missed station',
      reads: 'Not opened at the last visit: it is owed from that day.',
    },
    {
      id: 'baited or hit',
      when: { standing: 'seen at the last visit', everOpened: 'yes', holdsBait: 'yes' },
      answer: 'baited check',
      reads: 'It holds bait: the interval for baited stations counts from the last look.',
    },
    {
      id: 'hit not clear',
      when: { standing: 'seen at the last visit', everOpened: 'yes', holdsBait: 'no', hitOpen: 'yes' },
      answer: 'baited check',
      reads: 'Its hit is not clear yet: the interval for baited stations counts from the last look.',
    },
    {
      id: 'monitoring',
      when: { standing: 'seen at the last visit', everOpened: 'yes', holdsBait: 'no', hitOpen: 'no' },
      answer: 'check',
      reads: 'Monitoring: the check interval counts from the last look.',
    },
    {
      id: 'first look',
      when: { standing: 'seen at the last visit', everOpened: 'no' },
      answer: 'first check',
      reads: 'Never opened since it was set: the first check counts from installation.',
    },
  ],
});

/** What becomes of the yearly service. Source: common practice, no source; the window is the profile's. */
export const YEARLY_OWED = defineTable({
  id: 'yearly-owed',
  question: 'Which yearly service is owed?',
  inputs: {
    carriedOver: YES_NO,
    // live termites at the last look, on monitor or bait
    liveAtLastLook: YES_NO,
  },
  rows: [
    {
      id: 'wait',
      when: { carriedOver: 'yes', liveAtLastLook: 'yes' },
      answer: 'held',
      reads: 'Carried over, and termites were live at the last look: it waits, and is never forgotten.',
    },
    {
      id: 'feeding has ended',
      when: { carriedOver: 'yes', liveAtLastLook: 'no' },
      answer: 'carried-over service',
      reads: 'Carried over, and the last look found no live termites: it is owed from that day.',
    },
    {
      id: 'would disturb',
      when: { carriedOver: 'no', liveAtLastLook: 'yes' },
      answer: 'yearly service',
      reads:
        'Its window counts from its own last yearly service; what is found on the day decides whether it can be done.',
    },
    {
      id: 'own window',
      when: { carriedOver: 'no', liveAtLastLook: 'no' },
      answer: 'yearly service',
      reads: 'Its window counts from its own last yearly service, or from installation.',
    },
  ],
});
