import { defineTable } from '../table.ts';
import { YES_NO } from './inputs.ts';

/** Source: our own; every application of bait needs its record (7 CFR 110.3), so bait without one is looked into. */
export const LEDGER_BAIT = defineTable({
  id: 'bait-in-the-ledger',
  question: 'Does the ledger agree about the bait?',
  inputs: {
    opened: YES_NO,
    // bait, what is left of it, or termites on it
    baitSeen: YES_NO,
    // the ledger says that a slot holds bait
    baitInLedger: YES_NO,
  },
  rows: [
    {
      id: 'not opened',
      when: { opened: 'no' },
      answer: 'not known',
      reads: 'Nobody opened the station.',
    },
    {
      id: 'agrees',
      when: { opened: 'yes', baitSeen: 'yes', baitInLedger: 'yes' },
      answer: 'agrees',
      reads: 'The station holds bait, as the ledger says.',
    },
    {
      id: 'agrees, none',
      when: { opened: 'yes', baitSeen: 'no', baitInLedger: 'no' },
      answer: 'agrees',
      reads: 'The station holds no bait, as the ledger says.',
    },
    {
      id: 'not recorded',
      when: { opened: 'yes', baitSeen: 'yes', baitInLedger: 'no' },
      answer: 'not recorded',
      steps: ['tell the office'],
      reads:
        'Bait is in the station and the ledger knows of none: go by what was seen, and tell the office, because an application record is missing.',
    },
    {
      id: 'missing',
      when: { opened: 'yes', baitSeen: 'no', baitInLedger: 'yes' },
      answer: 'missing',
      steps: ['tell the office'],
      reads:
        'The ledger says that bait is in the station and none was found: it counts as gone. Tell the office, because bait out of its place is a hazard.',
    },
  ],
});
