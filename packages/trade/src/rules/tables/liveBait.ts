import { defineTable } from '../table.ts';
import { ACTIVITIES, BAIT_AMOUNTS, BAIT_PLACES } from './inputs.ts';

const LITTLE = ['none', 'at or under the threshold', 'gone'] as const;

/** Source: common practice, no source; the threshold is the profile's `addBaitAtOrUnder`. */
export const LIVE_BAIT = defineTable({
  id: 'bait-with-termites',
  question: 'Live termites: is bait put in or added?',
  inputs: { finding: ACTIVITIES, bait: BAIT_AMOUNTS, baitPlace: BAIT_PLACES },
  rows: [
    {
      id: 'no live termites',
      when: { finding: ['not opened', 'nothing', 'signs'] },
      answer: 'does not apply',
      reads: 'No live termites were seen.',
    },
    {
      id: 'feeding, enough left',
      when: { finding: 'feeding', bait: 'enough' },
      answer: 'leave',
      reads: 'They are feeding and more bait is left than the threshold: add none, leave it.',
    },
    {
      id: 'feeding, little left',
      when: { finding: 'feeding', bait: LITTLE, baitPlace: 'beside the base' },
      answer: 'add',
      steps: ['add bait without pulling the base monitor'],
      tell: ['bait added'],
      reads:
        'They are feeding and the bait is at or under the threshold: add bait in its own place, without pulling the base monitor.',
    },
    {
      id: 'feeding, little left, no way in',
      when: { finding: 'feeding', bait: LITTLE, baitPlace: ['in place of the base', 'none'] },
      answer: 'not possible',
      steps: ['tell the office'],
      tell: ['bait not possible'],
      reads:
        'They are feeding and little bait is left, but this model takes bait only in place of what they are in: leave it and tell the office.',
    },
    {
      id: 'hit, no bait yet',
      when: { finding: 'hit', bait: 'none', baitPlace: 'beside the base' },
      answer: 'insert',
      steps: ['insert bait without pulling the base monitor'],
      tell: ['bait put in'],
      reads:
        "A hit and no bait in the station: insert bait in its own place (of a two-part station the top monitor's), without pulling the base monitor.",
    },
    {
      id: 'hit, enough bait',
      when: { finding: 'hit', bait: 'enough' },
      answer: 'leave',
      steps: ['estimate bait left'],
      reads: 'A hit and enough bait is in the station already: add none.',
    },
    {
      id: 'hit, little bait',
      when: { finding: 'hit', bait: ['at or under the threshold', 'gone'], baitPlace: 'beside the base' },
      answer: 'add',
      steps: ['estimate bait left', 'add bait without pulling the base monitor'],
      tell: ['bait added'],
      reads:
        'A hit and the bait is at or under the threshold: add bait in its own place, without pulling the base monitor.',
    },
    {
      id: 'hit, no way in',
      when: { finding: 'hit', bait: LITTLE, baitPlace: ['in place of the base', 'none'] },
      answer: 'not possible',
      steps: ['tell the office'],
      tell: ['bait not possible'],
      reads:
        'A hit, but this model takes bait only in place of the base monitor: leave the monitor in place and tell the office.',
    },
  ],
});
