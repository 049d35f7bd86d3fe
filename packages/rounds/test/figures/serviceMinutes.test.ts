import { getDay, type WorkKind } from '@sillwatch/trade';
import { describe, expect, it } from 'vitest';
import { estimateServiceMinutes, MINUTE_PRIORS, type PropertyHistory } from '../../src/index.ts';
import { demoBook } from '../support/demoFirm.ts';

const checks = (count: number): readonly WorkKind[] => Array.from({ length: count }, () => 'check');

/** A property whose checks all take so long, at visits of ten stations. */
function propertyOf(
  name: string,
  minutesByVisit: readonly number[],
  byOf: (visit: number) => string = () => 'person-a',
): PropertyHistory {
  const looks = minutesByVisit.flatMap((minutes, visit) =>
    Array.from({ length: 10 }, (_, n) => ({
      station: `${name}-${n}`,
      day: getDay('2026-01-05'),
      by: byOf(visit),
      body: {
        visit: `v${visit}`,
        task: 'check' as const,
        finding: {
          reach: 'opened' as const,
          termites: 'none' as const,
          baitLeft: 'no bait' as const,
          monitor: 'sound' as const,
          housing: 'sound' as const,
          occupants: 'none' as const,
        },
        work: {
          yearlyServiceDone: false,
          baseMonitorLifted: false,
          cleanedOut: false,
          fitted: [],
          withdrawn: [],
          partsUsed: {},
          minutes,
        },
        application: null,
        note: '',
        photos: [],
      },
    })),
  );
  return { property: name, looks, installations: [], removals: [], visits: [] };
}

describe('service minutes', () => {
  it('fall back on the priors, and say so, before there is a record', () => {
    const minutes = estimateServiceMinutes([]).minutesFor(checks(10), 'anywhere');
    expect(minutes).toMatchObject({ mean: 28, from: 'prior' });
    expect(minutes.interval.lower).toBeLessThan(28);
    expect(minutes.interval.upper).toBeGreaterThan(28);
  });

  it('lean on the property’s own record as it grows, and know the person', () => {
    const slow = propertyOf('slow', [4, 4.2, 3.9, 4.1, 4, 4.3]);
    const quick = propertyOf('quick', [2, 2.1, 1.9, 2, 2.2, 1.8]);
    const once = propertyOf('once', [4]);
    const learned = estimateServiceMinutes([slow, quick, once]);
    const share = learned.perVisit.mean;
    expect(learned.minutesFor(checks(10), 'slow').mean - share).toBeCloseTo(41, 0);
    expect(learned.minutesFor(checks(10), 'quick').mean - share).toBeCloseTo(20, 0);
    expect(learned.minutesFor(checks(10), 'slow').from).toBe('own');
    expect(learned.minutesFor(checks(10), 'never seen').from).toBe('branch');
    const { credibility: ofOnce } = learned.byProperty['once'] ?? { credibility: 1 };
    expect(ofOnce).toBeLessThan(learned.byProperty['slow']?.credibility ?? 0);

    const inTurn = (visit: number) => (visit % 2 === 0 ? 'person-quick' : 'person-careful');
    const people = estimateServiceMinutes(
      ['p', 'q', 'r'].map((name) => propertyOf(name, [2, 3, 2.1, 3.1, 2, 3, 1.9, 2.9], inTurn)),
    );
    const there = (person: string) => people.minutesFor(checks(10), 'p', person).mean - people.perVisit.mean;
    expect(there('person-careful')).toBeCloseTo(30, 0);
    expect(there('person-quick')).toBeCloseTo(20, 0);
  });

  it('flags a record that is far off, and is not moved by it', () => {
    const steady = propertyOf('steady', [2, 2.1, 1.9, 2, 2.2, 1.8]);
    const odd = {
      ...steady,
      looks: steady.looks.map((look, n) => (n === 7 ? withMinutes(look, 240) : look)),
    };
    const learned = estimateServiceMinutes([odd]);
    expect(learned.odd).toEqual([
      { property: 'steady', visit: 'v0', station: 'steady-7', minutes: 240, usual: expect.closeTo(2, 1) },
    ]);
    expect(learned.perStation.check.mean).toBeCloseTo(2, 1);
  });

  it('of the demo firm are those it was drawn with: 2 minutes a check (1 to 3), 4.5 a yearly service (3 to 6)', () => {
    const { histories } = demoBook();
    const learned = estimateServiceMinutes(histories);
    expect(learned.perStation.check.mean).toBeCloseTo(2, 1);
    expect(learned.perStation['yearly service'].mean).toBeCloseTo(4.5, 1);
    // Nine visits in ten lie within the interval, or nearly.
    let inside = 0;
    let visits = 0;
    for (const { property, looks, visits: closed } of histories) {
      for (const { visit, minutes } of closed) {
        const at = looks.filter((look) => look.body.visit === visit && look.body.finding.reach === 'opened');
        if (minutes === null || at.length === 0) continue;
        const works = at.map(
          ({ body }): WorkKind => (body.work.yearlyServiceDone ? 'yearly service' : 'check'),
        );
        const { interval } = learned.minutesFor(works, property);
        visits += 1;
        if (minutes >= interval.lower && minutes <= interval.upper) inside += 1;
      }
    }
    expect(visits).toBeGreaterThan(300);
    expect(inside / visits).toBeGreaterThan(0.85);
  });

  it('keeps the priors in sight of a class that was never recorded', () => {
    const learned = estimateServiceMinutes(demoBook(3, 5).histories);
    expect(learned.perStation.replacement).toEqual({
      mean: MINUTE_PRIORS.perStation.replacement,
      records: 0,
    });
  });
});

function withMinutes<T extends PropertyHistory['looks'][number]>(look: T, minutes: number): T {
  return { ...look, body: { ...look.body, work: { ...look.body.work, minutes } } };
}
