import { addDays, type Day, dayToText, getDay } from '@sillwatch/trade';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { buildPlanProblem, findLateWorks } from '../../src/index.ts';
import { demoInput } from './support/demoInput.ts';

const { input } = demoInput(7, { days: 91, properties: 240 });
const built = buildPlanProblem(input);
const needsByProperty = Map.groupBy(built.needs, ({ property }) => property);
const properties = [...needsByProperty.keys()];

/** What is late at a property when its visits are made on these days. */
function lateAt(property: string, days: readonly Day[]): readonly string[] {
  const needs = needsByProperty.get(property) ?? [];
  const owed = new Map([[property, built.owed.get(property) ?? []]]);
  const driven = needs.map(({ works }, index) => ({
    day: dayToText(days[index] ?? built.from),
    visits: [{ property, works }],
  }));
  return findLateWorks({ owed, from: built.from, to: built.to }, driven).map(
    ({ station, work, latest }) => `${station} ${work} ${latest}`,
  );
}

describe('the days of a visit', () => {
  it('can be chosen for each visit to a property by itself: every combination keeps what the nominal days keep', () => {
    expect([...needsByProperty.values()].filter(({ length }) => length > 1).length).toBeGreaterThan(4);
    fc.assert(
      fc.property(
        fc.constantFrom(...properties),
        fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { minLength: 6, maxLength: 6 }),
        (property, shares) => {
          const needs = needsByProperty.get(property) ?? [];
          const days = needs.map(({ earliest, latest }, index) => {
            const from = getDay(earliest);
            return addDays(from, Math.round((shares[index] ?? 0) * (getDay(latest) - from)));
          });
          expect(lateAt(property, days)).toEqual(
            lateAt(
              property,
              needs.map(({ target }) => getDay(target)),
            ),
          );
          days.forEach((day, index) => {
            if (index > 0) expect(day).toBeGreaterThan(days[index - 1] ?? day);
          });
        },
      ),
      { numRuns: 500, seed: 1 },
    );
  });

  it('reach as far as the windows let them where nothing else is in the way', () => {
    for (const { property, works, earliest, latest, promise, asks } of built.needs) {
      const only = needsByProperty.get(property) ?? [];
      if (only.length !== 1 || promise !== null || asks.length > 0) continue;
      const nominalLate = lateAt(property, [getDay(only[0]?.target ?? earliest)]);
      if (nominalLate.length > 0) continue;
      const next = addDays(getDay(latest), 1);
      if (next <= built.to)
        expect(lateAt(property, [next]).length, `${property} ${works.length}`).toBeGreaterThan(0);
    }
  });

  it('cost nothing on the best day and more away from it', () => {
    for (const { days } of built.problem.jobs) {
      expect(Math.min(...days.map(({ cost }) => cost))).toBe(0);
      for (const { cost } of days) expect(Number.isInteger(cost) && cost >= 0).toBe(true);
    }
  });

  it('lie on days on which somebody works and the property can be visited', () => {
    for (const need of built.needs) {
      const days = built.problem.jobs[need.job]?.days ?? [];
      expect(days.length).toBeGreaterThan(0);
      for (const { day } of days)
        expect(built.people.some(({ hoursByDay }) => hoursByDay.has(day)) || need.promise !== null).toBe(
          true,
        );
    }
  });
});
