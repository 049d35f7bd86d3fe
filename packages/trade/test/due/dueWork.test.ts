import { DateTime } from 'luxon';
import { describe, expect, it } from 'vitest';
import {
  type AnyFact,
  DEMO_PROFILE,
  type DueItem,
  dueWork,
  foldProperty,
  listVisitStations,
  timelinessOn,
  visitDays,
  type WorkKind,
  windowAfter,
} from '../../src/index.ts';
import { addDays, type Day, dayToText, getDay } from '../../src/units/index.ts';
import { APPLICATION, BAIT_IN_TOP, createBook, opened } from '../state/book.ts';

const YEARLY = {
  earliest: { months: 12, days: 0 },
  target: { months: 13, days: 0 },
  latest: { months: 15, days: 0 },
};
const textOf = ({ earliest, latest }: { earliest: Day; latest: Day }): string[] => [
  dayToText(earliest),
  dayToText(latest),
];

const dueOf = (facts: Iterable<AnyFact>, asOf: string): ReturnType<typeof dueWork> =>
  dueWork(foldProperty(facts).stations, DEMO_PROFILE, getDay(asOf));
const findItem = (facts: Iterable<AnyFact>, asOf: string, work: WorkKind): DueItem | undefined =>
  dueOf(facts, asOf).items.find((item) => item.work === work);

describe('the yearly window: 12 to 15 calendar months (common practice, no source)', () => {
  it.each([
    ['2024-02-29', '2025-02-28', '2025-05-29'],
    ['2023-02-28', '2024-02-28', '2024-05-28'],
    ['2024-11-30', '2025-11-30', '2026-02-28'],
    ['2022-11-30', '2023-11-30', '2024-02-29'],
    ['2024-01-31', '2025-01-31', '2025-04-30'],
    ['2024-12-31', '2025-12-31', '2026-03-31'],
  ])('from %s runs from %s to %s', (from, earliest, latest) => {
    expect(textOf(windowAfter(YEARLY, getDay(from)))).toEqual([earliest, latest]);
  });

  it('agrees with luxon (npm) on every day of five years, two leap days among them', () => {
    for (let day = getDay('2023-06-01'); day <= getDay('2028-06-01'); day = addDays(day, 1)) {
      const other = DateTime.fromISO(dayToText(day), { zone: 'utc' });
      expect(textOf(windowAfter(YEARLY, day))).toEqual([
        other.plus({ months: 12 }).toISODate(),
        other.plus({ months: 15 }).toISODate(),
      ]);
    }
  });

  it('counts per station from its own last yearly service', () => {
    const book = createBook();
    book.install('s1', '2024-01-10T09:00:00-05:00', 1);
    book.install('s2', '2024-01-10T09:05:00-05:00', 2);
    const work = { yearlyServiceDone: true, baseMonitorLifted: true, cleanedOut: true };
    book.see('s1', '2025-01-20T09:00:00-05:00', opened(), work, { task: 'yearly service' });
    const from = dueOf(book.facts, '2025-02-01')
      .items.filter(({ work }) => work === 'yearly service')
      .map(({ station, countedFrom }) => [station, dayToText(countedFrom)]);
    expect(from).toEqual([
      ['s1', '2025-01-20'],
      ['s2', '2024-01-10'],
    ]);
  });

  it('counts from the local day of a service late in the evening', () => {
    const book = createBook();
    book.install('s1', '2024-02-29T23:30:00-05:00');
    const item = findItem(book.facts, '2024-06-01', 'yearly service');
    expect(item && dayToText(item.countedFrom)).toBe('2024-02-29');
  });
});

describe('dueWork', () => {
  it('holds a yearly service while termites feed, and owes it from the look that found none', () => {
    const book = createBook();
    book.install('s1', '2024-01-10T09:00:00-05:00');
    book.see('s1', '2024-04-10T09:00:00-04:00', opened({ termites: 'live on monitor' }), BAIT_IN_TOP, {
      application: APPLICATION,
    });
    const feeding = opened({ termites: 'live on bait', baitLeft: 'half' });
    book.see('s1', '2025-02-17T09:00:00-05:00', feeding, {}, { task: 'yearly service' });
    const whileFeeding = dueOf(book.facts, '2025-03-01');
    expect(whileFeeding.held.map(({ feedingSince }) => dayToText(feedingSince))).toEqual(['2025-02-17']);
    expect(whileFeeding.items.map(({ work }) => work)).toEqual(['baited check']);
    book.see('s1', '2025-03-20T09:00:00-04:00', opened({ baitLeft: 'half' }));
    const after = dueOf(book.facts, '2025-04-01');
    expect(after.held).toEqual([]);
    const owed = after.items.find(({ work }) => work === 'carried-over service');
    expect(owed && dayToText(owed.countedFrom)).toBe('2025-03-20');
  });

  it('asks for a replacement after the profile’s misses in a row, counted from the first', () => {
    const book = createBook();
    book.install('s1', '2024-01-10T09:00:00-05:00');
    const works: (WorkKind | undefined)[] = [];
    for (let miss = 0; miss < DEMO_PROFILE.missesBeforeReplacement.value; miss += 1) {
      book.see('s1', `2024-0${4 + miss}-10T09:00:00-04:00`, { reach: 'not found', why: 'mulch' });
      works.push(dueOf(book.facts, '2024-12-01').items[0]?.work);
    }
    expect(works.at(-1)).toBe('replacement');
    expect(works.slice(0, -1).every((work) => work === 'missed station')).toBe(true);
    expect(dayToText(dueOf(book.facts, '2024-12-01').items[0]?.countedFrom ?? getDay('1970-01-01'))).toBe(
      '2024-04-10',
    );
  });

  it('owes nothing at a station out of service, or set after the day asked for', () => {
    const book = createBook();
    book.install('s1', '2024-01-10T09:00:00-05:00');
    expect(dueOf(book.facts, '2024-01-09').items).toEqual([]);
    book.add('station removed', 's1', '2024-02-10T09:00:00-05:00', { why: 'wall moved' });
    expect(dueOf(book.facts, '2024-12-01')).toEqual({ items: [], held: [], clearStructures: [] });
  });

  it('calls a structure clear only when every station that was hit is', () => {
    const book = createBook();
    book.install('s1', '2023-01-10T09:00:00-05:00', 1);
    book.install('s2', '2023-01-10T09:05:00-05:00', 2);
    const hit = opened({ termites: 'live on monitor' });
    book.see('s1', '2024-01-10T09:00:00-05:00', hit);
    book.see('s2', '2024-01-10T09:05:00-05:00', hit);
    const runs = DEMO_PROFILE.clearAfterChecks.value;
    for (let look = 1; look <= runs; look += 1)
      book.see('s1', `2024-0${1 + look}-10T09:00:00-05:00`, opened());
    expect(dueOf(book.facts, '2024-12-01').clearStructures).toEqual([]);
    for (let look = 1; look <= runs; look += 1)
      book.see('s2', `2024-0${1 + look}-20T09:00:00-05:00`, opened());
    expect(
      dueOf(book.facts, '2024-12-01').clearStructures.map(({ clearedOn }) => dayToText(clearedOn)),
    ).toEqual([`2024-0${1 + runs}-20`]);
  });

  it('stands open, past its target or late by the day asked for, ends included', () => {
    const window = {
      earliest: getDay('2024-03-01'),
      target: getDay('2024-03-15'),
      latest: getDay('2024-03-31'),
    };
    expect(
      ['2024-02-29', '2024-03-01', '2024-03-15', '2024-03-16', '2024-03-31', '2024-04-01'].map((day) =>
        timelinessOn(window, getDay(day)),
      ),
    ).toEqual(['not yet', 'open', 'open', 'past target', 'past target', 'late']);
  });
});

describe('from stations to visits', () => {
  it('plans what is due, leaves a held service out, and goes on by the interval that fits', () => {
    const book = createBook();
    book.install('s1', '2024-01-10T09:00:00-05:00', 1);
    book.install('s2', '2024-01-10T09:05:00-05:00', 2);
    book.see('s1', '2024-04-10T09:00:00-04:00', opened({ termites: 'live on monitor' }), BAIT_IN_TOP, {
      application: APPLICATION,
    });
    const feeding = opened({ termites: 'live on bait', baitLeft: 'half' });
    book.see('s1', '2025-02-17T09:00:00-05:00', feeding, {}, { task: 'yearly service' });
    book.see('s2', '2025-02-17T09:02:00-05:00', opened());
    const from = getDay('2025-02-18');
    const stations = listVisitStations(foldProperty(book.facts).stations, DEMO_PROFILE, from);
    expect(stations.map(({ look, yearly }) => [look?.work, look?.next?.work, yearly?.work])).toEqual([
      ['baited check', 'baited check', undefined],
      ['check', 'check', 'yearly service'],
    ]);
    const plan = visitDays(stations, { from, to: addDays(from, 91) });
    expect(plan.impossible).toEqual([]);
    expect(plan.visits.some(({ served }) => served.length === 2)).toBe(true);
  });
});
