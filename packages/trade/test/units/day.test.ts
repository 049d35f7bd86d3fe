import fc from 'fast-check';
import { DateTime } from 'luxon';
import { describe, expect, it } from 'vitest';
import {
  addDays,
  addMonths,
  civilFromDay,
  dayFromCivil,
  dayFromNumber,
  daysInMonth,
  dayToText,
  findDay,
  findMoment,
  getDay,
  isLeapYear,
  weekdayOf,
} from '../../src/units/index.ts';

/** 0000-01-01 to 9999-12-31 leaves room for the months added below. */
const anyDay = fc.integer({ min: -600_000, max: 2_800_000 }).map(dayFromNumber);

describe('calendar days, against two independent libraries', () => {
  it('agree with luxon (npm) on the date, its weekday and whole months later', () => {
    fc.assert(
      fc.property(anyDay, fc.integer({ min: -240, max: 240 }), (day, months) => {
        const other = DateTime.fromMillis(day * 86_400_000, { zone: 'utc' });
        expect(dayToText(day)).toBe(other.toISODate());
        expect(weekdayOf(day)).toBe(other.weekday);
        expect(dayToText(addMonths(day, months))).toBe(other.plus({ months }).toISODate());
      }),
      { numRuns: 3000 },
    );
  });

  it('agree with Temporal (ECMAScript proposal, built into the runtime), overflow constrained', () => {
    fc.assert(
      fc.property(
        anyDay,
        fc.integer({ min: -240, max: 240 }),
        fc.integer({ min: -4000, max: 4000 }),
        (day, months, days) => {
          const { year, month, dayOfMonth } = civilFromDay(day);
          const other = Temporal.PlainDate.from({ year, month, day: dayOfMonth });
          expect(dayToText(day)).toBe(other.toString());
          expect(dayToText(addMonths(day, months))).toBe(
            other.add({ months }, { overflow: 'constrain' }).toString(),
          );
          expect(dayToText(addDays(day, days))).toBe(other.add({ days }).toString());
        },
      ),
      { numRuns: 3000 },
    );
  });

  it('walk every day of 400 years without a gap', () => {
    let day = dayFromCivil(1900, 1, 1);
    const end = dayFromCivil(2300, 1, 1);
    let other = Temporal.PlainDate.from('1900-01-01');
    for (; day < end; day = addDays(day, 1)) {
      const { year, month, dayOfMonth } = civilFromDay(day);
      if (year !== other.year || month !== other.month || dayOfMonth !== other.day)
        expect(dayToText(day)).toBe(other.toString());
      if (dayFromCivil(year, month, dayOfMonth) !== day) expect(dayToText(day)).toBe('round trip');
      other = other.add({ days: 1 });
    }
    expect(other.toString()).toBe('2300-01-01');
  });
});

describe('month ends and leap days (common practice, no source: a day that the month lacks becomes its last)', () => {
  it.each([
    ['2024-01-31', 1, '2024-02-29'],
    ['2023-01-31', 1, '2023-02-28'],
    ['2024-02-29', 12, '2025-02-28'],
    ['2024-02-29', 48, '2028-02-29'],
    ['2024-02-29', 15, '2025-05-29'],
    ['2025-11-30', 15, '2027-02-28'],
    ['2025-12-31', 2, '2026-02-28'],
    ['2026-03-31', -1, '2026-02-28'],
  ])('%s + %i months = %s', (from, months, to) => {
    expect(dayToText(addMonths(getDay(from), months))).toBe(to);
  });

  it('knows the leap years of the Gregorian calendar', () => {
    expect([1900, 2000, 2023, 2024, 2100].map(isLeapYear)).toEqual([false, true, false, true, false]);
    expect(daysInMonth(2024, 2)).toBe(29);
  });
});

describe('reading days and moments', () => {
  it.each(['2026-02-29', '2026-13-01', '2026-00-10', '2026-1-1', '20260101', '', '2026-01-01T00:00:00Z'])(
    'refuses %s',
    (text) => {
      expect(findDay(text)).toBeUndefined();
    },
  );

  it.each([
    '2026-03-04T10:15:00',
    '2026-03-04 10:15:00Z',
    '2026-02-30T10:15:00Z',
    '2026-03-04T24:00:00Z',
    '2026-03-04T10:15:00+24:00',
  ])('refuses the moment %s', (text) => {
    expect(findMoment(text)).toBeUndefined();
  });

  it('counts late evening on the local day, whatever the day is in UTC', () => {
    const late = findMoment('2026-03-04T23:30:00-05:00');
    expect(late?.day).toBe(getDay('2026-03-04'));
    expect(late?.epochMs).toBe(Temporal.Instant.from('2026-03-05T04:30:00Z').epochMilliseconds);
  });

  it('agrees with Temporal on the instant of any RFC 3339 text', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -2_000_000_000_000, max: 4_000_000_000_000 }),
        fc.integer({ min: -14 * 60, max: 14 * 60 }),
        (ms, offset) => {
          const sign = offset < 0 ? '-' : '+';
          const abs = Math.abs(offset);
          const zone = `${sign}${String(Math.floor(abs / 60)).padStart(2, '0')}:${String(abs % 60).padStart(2, '0')}`;
          const text = Temporal.Instant.fromEpochMilliseconds(ms)
            .toZonedDateTimeISO(zone)
            .toString({ timeZoneName: 'never' });
          const moment = findMoment(text);
          expect(moment?.epochMs).toBe(ms);
          expect(dayToText(moment?.day ?? dayFromNumber(0))).toBe(text.slice(0, 10));
        },
      ),
      { numRuns: 2000 },
    );
  });
});
