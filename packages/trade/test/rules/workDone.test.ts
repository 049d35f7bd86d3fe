import { expect, test } from 'vitest';
import { ONE_PART, type OpenedFinding, stepsFor, TWO_PART, workDone } from '../../src/index.ts';
import { profileWith, stationOf } from './station.ts';

const QUIET: OpenedFinding = {
  reach: 'opened',
  termites: 'none',
  baitLeft: 'no bait',
  monitor: 'sound',
  housing: 'sound',
  occupants: 'none',
};

test('a yearly service is recorded as lifted, cleaned out and fitted', () => {
  const steps = stepsFor({
    state: stationOf(TWO_PART),
    model: TWO_PART,
    finding: QUIET,
    task: 'yearly service',
    profile: profileWith({}),
  });
  expect(workDone(steps, 12)).toEqual({
    yearlyServiceDone: true,
    baseMonitorLifted: true,
    cleanedOut: true,
    fitted: [
      { slot: 'base', insert: 'monitor' },
      { slot: 'top', insert: 'monitor' },
    ],
    withdrawn: [],
    partsUsed: { 'base-monitor': 1, 'top-monitor': 1 },
    minutes: 12,
  });
});

test('withdrawn bait leaves a cup empty, and a monitor in a top slot', () => {
  for (const [model, withdrawn, fitted] of [
    [ONE_PART, ['cup'], []],
    [TWO_PART, [], [{ slot: 'top', insert: 'monitor' }]],
  ] as const) {
    const steps = stepsFor({
      state: stationOf(model, { phase: 'baited' }),
      model,
      finding: { ...QUIET, baitLeft: 'half' },
      task: 'check',
      profile: profileWith({ idleBait: 'withdrawn' }),
    });
    expect(workDone(steps)).toMatchObject({ withdrawn, fitted, baseMonitorLifted: false, minutes: null });
  }
});

test('a station of which the ledger says bait and the finding says none is set right', () => {
  const steps = stepsFor({
    state: stationOf(ONE_PART, {
      phase: 'baited',
      slots: [
        { slot: 'base', insert: 'monitor', fittedOn: null },
        { slot: 'cup', insert: 'bait', fittedOn: null },
      ],
    }),
    model: ONE_PART,
    finding: QUIET,
    task: 'check',
    profile: profileWith({ idleBait: 'withdrawn' }),
  });
  expect(workDone(steps).withdrawn).toEqual(['cup']);
});

test('a dug-out housing counts as lifted and is not cleaned', () => {
  const steps = stepsFor({
    state: stationOf(TWO_PART),
    model: TWO_PART,
    finding: { ...QUIET, housing: 'broken' },
    task: 'check',
    profile: profileWith({}),
  });
  expect(steps.housingReplaced).toBe(true);
  expect(workDone(steps)).toMatchObject({
    baseMonitorLifted: true,
    cleanedOut: false,
    yearlyServiceDone: false,
  });
});

test('soil and water that were cleared stand in the record, and nothing where nothing was mended', () => {
  const housingOf = (housing: OpenedFinding['housing']) =>
    workDone(
      stepsFor({
        state: stationOf(TWO_PART),
        model: TWO_PART,
        finding: { ...QUIET, housing },
        task: 'check',
        profile: profileWith({}),
      }),
    ).repairs;
  expect(housingOf('filled with soil')).toEqual(['clear soil']);
  expect(housingOf('flooded')).toEqual(['bail out water']);
  expect(housingOf('loose')).toEqual(['firm the housing']);
  expect(housingOf('sound')).toBeUndefined();
});
