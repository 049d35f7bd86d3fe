import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  addDays,
  assessClearance,
  BAIT_LEFT,
  checkFact,
  dayFromCivil,
  dueWork,
  type Finding,
  foldProperty,
  HOUSING_CONDITIONS,
  type Look,
  MONITOR_CONDITIONS,
  OCCUPANTS,
  runStory,
  type Story,
  TASKS,
  TERMITE_FINDINGS,
} from '../../src/index.ts';
import { MODELS, profileWith } from '../rules/station.ts';

/** Any findings in any order, also ones that contradict the ledger, with the steps of the tables followed each time. */
const START = dayFromCivil(2024, 2, 29);

const finding: fc.Arbitrary<Finding> = fc.oneof(
  { weight: 1, arbitrary: fc.constant<Finding>({ reach: 'not found', why: 'tall grass' }) },
  {
    weight: 6,
    arbitrary: fc.record({
      reach: fc.constant('opened' as const),
      termites: fc.constantFrom(...TERMITE_FINDINGS),
      baitLeft: fc.constantFrom(...BAIT_LEFT),
      monitor: fc.constantFrom(...MONITOR_CONDITIONS),
      housing: fc.constantFrom(...HOUSING_CONDITIONS),
      occupants: fc.constantFrom(...OCCUPANTS),
    }),
  },
);

const story: fc.Arbitrary<Story> = fc
  .record({
    model: fc.constantFrom(...MODELS),
    idleBait: fc.constantFrom('stays' as const, 'renewed' as const, 'withdrawn' as const),
    clearBait: fc.constantFrom('stays' as const, 'withdrawn' as const),
    auxiliary: fc.boolean(),
    looks: fc.array(
      fc.record({ gap: fc.integer({ min: 1, max: 200 }), task: fc.constantFrom(...TASKS), finding }),
      {
        minLength: 1,
        maxLength: 10,
      },
    ),
  })
  .map(({ model, idleBait, clearBait, auxiliary, looks }) => {
    let day = START;
    return {
      title: 'any history',
      rules: ['finding'],
      model,
      profile: profileWith({ idleBait, clearBait }),
      installedOn: START,
      auxiliary,
      looks: looks.map(({ gap, task, finding }): Look => {
        day = addDays(day, gap);
        return { day, task, finding };
      }),
      expected: [],
      source: 'test',
      line: 1,
    };
  });

test('a technician who follows the steps never disturbs feeding termites, and what is recorded can be stored and agrees', () => {
  fc.assert(
    fc.property(story, (one) => {
      const { facts, steps, before, after } = runStory(one);
      const last = one.looks.at(-1);
      if (steps === undefined || last === undefined) throw new Error('no look');
      for (const fact of facts) expect(checkFact(fact)).toEqual([]);
      expect(after.disturbedWhileFeeding).toBe(false);
      for (const { slot, insert } of after.slots) {
        const place = one.model.slots.find((each) => each.id === slot);
        expect(place).toBeDefined();
        if (insert !== null) expect(place?.holds).toContain(insert);
      }
      if (last.finding.reach === 'opened') expect(after.lastOpenedOn).toBe(last.day);
      else expect(after.lastOpenedOn).toBe(before.lastOpenedOn);
      if (steps.yearlyServiceDone) expect(after.lastYearlyOn).toBe(last.day);
      else expect(after.lastYearlyOn).toBe(before.lastYearlyOn);
      if (steps.carriedOver) expect(after.carriedOverOn).not.toBeNull();
      const anew = foldProperty(facts.toReversed()).stations.map((state) =>
        assessClearance(state, one.profile),
      );
      expect(anew).toEqual([after]);
      // the due list goes by the ledger, the steps by what was seen
      if (steps.fired.some(({ row }) => row === 'not recorded')) return;
      const [look] = dueWork([after], one.profile, last.day).items;
      expect(look?.work).toBe(steps.next);
    }),
    { numRuns: 500 },
  );
});
