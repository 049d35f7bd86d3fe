import { MONITOR_CONDITIONS } from '../../words.ts';
import { defineTable } from '../table.ts';
import { ACTIVITIES, MONITOR_SLOTS, YES_NO } from './inputs.ts';

const FREE = ['nothing', 'signs'] as const;
const FITTED = ['one', 'two'] as const;
const RENEWAL = [
  'lift the top monitor',
  'lift the base monitor, every piece of it',
  'fit a new base monitor',
  'fit a new top monitor',
] as const;

/**
 * Source: common practice, no source; what becomes of a monitor with signs is the profile's `monitorWithSigns`.
 * The finding names the worst monitor but not which it is, so a renewal renews them all.
 */
export const MONITOR = defineTable({
  id: 'monitor',
  question: 'What is done with the monitors?',
  inputs: {
    finding: ACTIVITIES,
    monitorSlots: MONITOR_SLOTS,
    digOut: YES_NO,
    serviceDone: YES_NO,
    monitor: MONITOR_CONDITIONS,
    monitorWithSigns: ['kept', 'renewed'],
  },
  rows: [
    {
      id: 'not opened',
      when: { finding: 'not opened' },
      answer: 'left',
      reads: 'Nobody opened the station.',
    },
    {
      id: 'live termites',
      when: { finding: ['hit', 'feeding'] },
      answer: 'left',
      reads: 'Live termites are in the station: no monitor is lifted or renewed, whatever its condition.',
    },
    {
      id: 'no monitors',
      when: { finding: FREE, monitorSlots: 'none' },
      answer: 'none to see to',
      reads: 'This model has no monitors.',
    },
    {
      id: 'new housing',
      when: { finding: FREE, monitorSlots: FITTED, digOut: 'yes' },
      answer: 'renewed',
      steps: ['lift the top monitor', 'fit a new base monitor', 'fit a new top monitor'],
      tell: ['monitor renewed'],
      reads: 'A new housing is set: fit new monitors into it.',
    },
    {
      id: 'yearly service',
      when: {
        finding: FREE,
        monitorSlots: FITTED,
        digOut: 'no',
        serviceDone: 'yes',
        monitor: ['sound', 'eaten', 'rotten', 'missing'],
      },
      answer: 'renewed',
      steps: RENEWAL,
      reads:
        'The yearly service: lift the top monitor, lift the base monitor with every piece of it, and fit new ones.',
    },
    {
      id: 'none fitted',
      when: { finding: FREE, monitorSlots: FITTED, digOut: 'no', monitor: 'no monitor' },
      answer: 'fitted',
      steps: ['fit a new base monitor', 'fit a new top monitor'],
      tell: ['monitor renewed'],
      reads: 'No monitor is fitted: fit new ones.',
    },
    {
      id: 'spent',
      when: {
        finding: FREE,
        monitorSlots: FITTED,
        digOut: 'no',
        serviceDone: 'no',
        monitor: ['eaten', 'rotten', 'missing'],
      },
      answer: 'renewed',
      steps: RENEWAL,
      tell: ['monitor renewed'],
      reads:
        'A monitor is eaten, rotten or missing and no live termites are there: renew the monitors at a check too.',
    },
    {
      id: 'swollen',
      when: { finding: FREE, monitorSlots: FITTED, digOut: 'no', monitor: 'swollen' },
      answer: 'left',
      reads:
        'The monitor has swollen and its housing stays: do not force it. The yearly service digs it out with its housing.',
    },
    {
      id: 'signs, renewed',
      when: {
        finding: 'signs',
        monitorSlots: FITTED,
        digOut: 'no',
        serviceDone: 'no',
        monitor: 'sound',
        monitorWithSigns: 'renewed',
      },
      answer: 'renewed',
      steps: RENEWAL,
      tell: ['monitor renewed'],
      reads: 'Signs only, and the profile renews a monitor with signs.',
    },
    {
      id: 'signs, kept',
      when: {
        finding: 'signs',
        monitorSlots: FITTED,
        digOut: 'no',
        serviceDone: 'no',
        monitor: 'sound',
        monitorWithSigns: 'kept',
      },
      answer: 'put back',
      steps: ['put the monitor back'],
      reads: 'Signs only, and the profile keeps a monitor with signs: put it back.',
    },
    {
      id: 'sound',
      when: {
        finding: 'nothing',
        monitorSlots: FITTED,
        digOut: 'no',
        serviceDone: 'no',
        monitor: 'sound',
      },
      answer: 'put back',
      steps: ['put the monitor back'],
      reads: 'Nothing found and the monitor is sound: put it back.',
    },
  ],
});
