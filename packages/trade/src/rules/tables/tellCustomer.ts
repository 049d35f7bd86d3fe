import { defineTable } from '../table.ts';
import { ACTIVITIES, YES_NO } from './inputs.ts';

/** Source: our own. What was done is told by the rows of the other tables. */
export const TELL_CUSTOMER = defineTable({
  id: 'tell-customer',
  question: 'What is the customer told about what was found?',
  inputs: {
    finding: ACTIVITIES,
    // termites were feeding at the last look
    fedBefore: YES_NO,
    // the station becomes clear with today's look
    becomesClear: YES_NO,
  },
  rows: [
    {
      id: 'not opened',
      when: { finding: 'not opened' },
      answer: 'nothing was seen',
      reads: 'Nobody opened the station, so nothing is said about termites.',
    },
    {
      id: 'feeding',
      when: { finding: 'feeding' },
      answer: 'feeding',
      tell: ['feeding'],
      reads: 'Say that termites are feeding on the bait, and that this is how bait works.',
    },
    {
      id: 'hit',
      when: { finding: 'hit' },
      answer: 'termites found',
      tell: ['termites found'],
      reads: 'Say that live termites were found.',
    },
    {
      id: 'signs',
      when: { finding: 'signs', fedBefore: 'no', becomesClear: 'no' },
      answer: 'signs only',
      tell: ['signs only'],
      reads: 'Say that there were signs but no live termites.',
    },
    {
      id: 'signs, clear',
      when: { finding: 'signs', fedBefore: 'no', becomesClear: 'yes' },
      answer: 'clear',
      tell: ['signs only', 'station clear'],
      reads:
        'Say that there were old signs but no live termites, and that the station is clear with its evidence.',
    },
    {
      id: 'feeding ended, signs',
      when: { finding: 'signs', fedBefore: 'yes', becomesClear: 'no' },
      answer: 'feeding ended',
      tell: ['feeding ended', 'signs only'],
      reads: 'Say that the feeding seen at the last look has ended and that its signs are there.',
    },
    {
      id: 'none',
      when: { finding: 'nothing', fedBefore: 'no', becomesClear: 'no' },
      answer: 'no termites',
      tell: ['no termites'],
      reads: 'Say that no termites were found.',
    },
    {
      id: 'clear',
      when: { finding: 'nothing', fedBefore: 'no', becomesClear: 'yes' },
      answer: 'clear',
      tell: ['no termites', 'station clear'],
      reads:
        'Say that no termites were found and that the station is clear, with its evidence; never that a colony is gone.',
    },
    {
      id: 'feeding ended',
      when: { finding: 'nothing', fedBefore: 'yes', becomesClear: 'no' },
      answer: 'feeding ended',
      tell: ['feeding ended'],
      reads: 'Say that the feeding seen at the last look has ended.',
    },
    {
      id: 'feeding ended, clear',
      when: { finding: ['nothing', 'signs'], fedBefore: 'yes', becomesClear: 'yes' },
      answer: 'clear',
      tell: ['feeding ended', 'station clear'],
      reads: "Say that the feeding has ended and that the station is clear by the profile's test.",
    },
  ],
});
