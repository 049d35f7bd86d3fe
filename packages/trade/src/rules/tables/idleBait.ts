import { defineTable } from '../table.ts';
import { BAIT_AMOUNTS, MAY_MOVE, YES_NO } from './inputs.ts';

/** Source: common practice, no source; the choices are the profile's `idleBait` and `clearBait`. */
export const IDLE_BAIT = defineTable({
  id: 'bait-without-termites',
  question: 'No live termites: what becomes of the bait?',
  inputs: {
    mayMove: MAY_MOVE,
    bait: BAIT_AMOUNTS,
    // the model has no monitors: bait is all it holds
    alwaysBaited: YES_NO,
    // with today's look the station is clear after a hit
    clear: YES_NO,
    idleBait: ['stays', 'renewed', 'withdrawn'],
    clearBait: ['stays', 'withdrawn'],
  },
  rows: [
    {
      id: 'not opened or termites',
      when: { mayMove: ['not opened', 'not the base monitor', 'nothing'] },
      answer: 'does not apply',
      reads: 'Nobody opened the station, or live termites are in it.',
    },
    {
      id: 'no bait',
      when: { mayMove: 'anything', bait: 'none', alwaysBaited: 'no' },
      answer: 'no bait',
      reads: 'The station holds no bait and needs none.',
    },
    {
      id: 'always baited, enough',
      when: { mayMove: 'anything', bait: 'enough', alwaysBaited: 'yes', idleBait: ['stays', 'withdrawn'] },
      answer: 'stays',
      steps: ['estimate bait left'],
      reads: 'This model holds nothing but bait, and enough is left: it stays.',
    },
    {
      id: 'always baited, renewed',
      when: { mayMove: 'anything', bait: 'enough', alwaysBaited: 'yes', idleBait: 'renewed' },
      answer: 'renewed',
      steps: ['estimate bait left', 'renew bait'],
      tell: ['bait renewed'],
      reads: 'The profile says that bait without termites is renewed.',
    },
    {
      id: 'always baited, little',
      when: {
        mayMove: 'anything',
        bait: ['none', 'at or under the threshold', 'gone'],
        alwaysBaited: 'yes',
      },
      answer: 'renewed',
      steps: ['estimate bait left', 'renew bait'],
      tell: ['bait renewed'],
      reads: 'This model holds nothing but bait, and little or none is left: renew it.',
    },
    {
      id: 'clear, withdrawn',
      when: {
        mayMove: 'anything',
        bait: ['enough', 'at or under the threshold', 'gone'],
        alwaysBaited: 'no',
        clear: 'yes',
        clearBait: 'withdrawn',
      },
      answer: 'withdrawn',
      steps: ['estimate bait left', 'withdraw bait', 'fit a new top monitor'],
      tell: ['bait withdrawn'],
      reads:
        'The station is clear and the profile withdraws bait then: take it out and go back to monitoring, with a new top monitor in a two-part station.',
    },
    {
      id: 'clear, stays',
      when: {
        mayMove: 'anything',
        bait: ['enough', 'at or under the threshold'],
        alwaysBaited: 'no',
        clear: 'yes',
        clearBait: 'stays',
      },
      answer: 'stays',
      steps: ['estimate bait left'],
      reads: 'The station is clear and the profile leaves bait in then.',
    },
    {
      id: 'clear, gone',
      when: { mayMove: 'anything', bait: 'gone', alwaysBaited: 'no', clear: 'yes', clearBait: 'stays' },
      answer: 'withdrawn',
      steps: ['estimate bait left', 'withdraw bait', 'fit a new top monitor'],
      tell: ['bait withdrawn'],
      reads:
        'The station is clear and no bait is left in it: take out what remains of the insert and go back to monitoring.',
    },
    {
      id: 'idle, stays',
      when: {
        mayMove: 'anything',
        bait: ['enough', 'at or under the threshold'],
        alwaysBaited: 'no',
        clear: 'no',
        idleBait: 'stays',
      },
      answer: 'stays',
      steps: ['estimate bait left'],
      reads: 'No termites today, not clear yet, and the profile leaves the bait in.',
    },
    {
      id: 'idle, gone',
      when: { mayMove: 'anything', bait: 'gone', alwaysBaited: 'no', clear: 'no', idleBait: 'stays' },
      answer: 'renewed',
      steps: ['estimate bait left', 'renew bait'],
      tell: ['bait renewed'],
      reads: 'The profile keeps bait in a station that is not clear yet, and none is left: renew it.',
    },
    {
      id: 'idle, renewed',
      when: {
        mayMove: 'anything',
        bait: ['enough', 'at or under the threshold', 'gone'],
        alwaysBaited: 'no',
        clear: 'no',
        idleBait: 'renewed',
      },
      answer: 'renewed',
      steps: ['estimate bait left', 'renew bait'],
      tell: ['bait renewed'],
      reads: 'No termites today, not clear yet, and the profile renews the bait.',
    },
    {
      id: 'idle, withdrawn',
      when: {
        mayMove: 'anything',
        bait: ['enough', 'at or under the threshold', 'gone'],
        alwaysBaited: 'no',
        clear: 'no',
        idleBait: 'withdrawn',
      },
      answer: 'withdrawn',
      steps: ['estimate bait left', 'withdraw bait', 'fit a new top monitor'],
      tell: ['bait withdrawn'],
      reads:
        'No termites today and the profile withdraws bait then: take it out and go back to monitoring, with a new top monitor in a two-part station.',
    },
  ],
});
