import { defineTable } from '../table.ts';
import { ACTIVITIES, YES_NO } from './inputs.ts';

/** Source: common practice, no source; the number is the profile's `auxiliaryStations`. */
export const AUXILIARY = defineTable({
  id: 'auxiliary-stations',
  question: 'Are more stations asked for beside this one?',
  inputs: {
    finding: ACTIVITIES,
    // the hit was known before today and is not clear yet
    hitKnown: YES_NO,
    // the profile asks for stations beside a hit
    profileAsks: YES_NO,
    // this station itself was set beside a hit
    isAuxiliary: YES_NO,
  },
  rows: [
    {
      id: 'no hit',
      when: { finding: ['not opened', 'nothing', 'signs'] },
      answer: 'no',
      reads: 'No live termites were seen: no more stations.',
    },
    {
      id: 'not in the profile',
      when: { finding: ['hit', 'feeding'], profileAsks: 'no' },
      answer: 'no',
      reads: 'Live termites, but the profile asks for no stations beside a hit.',
    },
    {
      id: 'asked before',
      when: { finding: ['hit', 'feeding'], profileAsks: 'yes', hitKnown: 'yes' },
      answer: 'no',
      reads: 'The hit is known: stations beside it were asked for when it was found.',
    },
    {
      id: 'auxiliary itself',
      when: { finding: ['hit', 'feeding'], profileAsks: 'yes', hitKnown: 'no', isAuxiliary: 'yes' },
      answer: 'no',
      reads: 'This station was itself set beside a hit: no more are asked for beside it.',
    },
    {
      id: 'new hit',
      when: { finding: ['hit', 'feeding'], profileAsks: 'yes', hitKnown: 'no', isAuxiliary: 'no' },
      answer: 'yes',
      steps: ['ask for auxiliary stations'],
      tell: ['auxiliary stations'],
      reads: 'A new hit, and the profile asks for stations beside it: ask the office for them.',
    },
  ],
});
