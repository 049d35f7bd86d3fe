import { HOUSING_CONDITIONS } from '../../words.ts';
import { defineTable } from '../table.ts';
import { MAY_MOVE, YES_NO } from './inputs.ts';

const WITH_TERMITES = ['nothing', 'not the base monitor'] as const;

/** Source: common practice, no source. */
export const HOUSING = defineTable({
  id: 'housing',
  question: 'What is done to the housing that stays?',
  inputs: { mayMove: MAY_MOVE, housing: HOUSING_CONDITIONS, digOut: YES_NO },
  rows: [
    {
      id: 'not opened',
      when: { mayMove: 'not opened' },
      answer: 'nothing',
      reads: 'Nobody opened the station.',
    },
    {
      id: 'dug out',
      when: { mayMove: 'anything', digOut: 'yes' },
      answer: 'nothing',
      reads: 'The housing is dug out, and the new one comes with its own cap.',
    },
    {
      id: 'sound',
      when: { mayMove: 'anything', housing: ['sound', 'broken'], digOut: 'no' },
      answer: 'nothing',
      reads: 'The housing needs nothing (a broken one is dealt with under "dig out").',
    },
    {
      id: 'cap damaged',
      when: { mayMove: 'anything', housing: 'cap damaged', digOut: 'no' },
      answer: 'repaired',
      steps: ['fit a new cap'],
      tell: ['station repaired'],
      reads: 'The cap is damaged: fit a new one.',
    },
    {
      id: 'loose',
      when: { mayMove: 'anything', housing: 'loose', digOut: 'no' },
      answer: 'repaired',
      steps: ['firm the housing'],
      tell: ['station repaired'],
      reads: 'The housing is loose: firm the soil round it.',
    },
    {
      id: 'flooded',
      when: { mayMove: 'anything', housing: 'flooded', digOut: 'no' },
      answer: 'repaired',
      steps: ['bail out water'],
      reads: 'Water stands in the housing: bail it out.',
    },
    {
      id: 'filled with soil',
      when: { mayMove: 'anything', housing: 'filled with soil', digOut: 'no' },
      answer: 'repaired',
      steps: ['clear soil'],
      reads: 'Soil has filled the housing: clear it.',
    },
    {
      id: 'sound with termites',
      when: { mayMove: WITH_TERMITES, housing: ['sound', 'broken'] },
      answer: 'nothing',
      reads:
        'Live termites are in the station and the housing needs nothing now (a broken one is marked under "dig out").',
    },
    {
      id: 'cap damaged with termites',
      when: { mayMove: WITH_TERMITES, housing: 'cap damaged' },
      answer: 'repaired',
      steps: ['fit a new cap'],
      tell: ['station repaired'],
      reads:
        'The cap is damaged: a new cap disturbs nobody, so fit it also with live termites in the station.',
    },
    {
      id: 'loose, wet or filled with termites',
      when: { mayMove: WITH_TERMITES, housing: ['loose', 'flooded', 'filled with soil'] },
      answer: 'left',
      steps: ['leave the housing as it is until the termites have gone'],
      tell: ['repair later'],
      reads:
        'The housing is loose, or water or soil stands in it, and live termites are there: leave it as it is until they have gone.',
    },
  ],
});
