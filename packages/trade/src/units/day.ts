import type { Branded } from './brand.ts';

/**
 * A calendar day without a clock or zone: whole days since 1970-01-01 in the proleptic Gregorian calendar.
 * Day 0 is 1970-01-01 (a Thursday); 1969-12-31 is -1.
 */
export type Day = Branded<'day'>;

export interface CivilDate {
  readonly year: number;
  /** 1 to 12 */
  readonly month: number;
  /** 1 to 31 */
  readonly dayOfMonth: number;
}

const FIRST = -719_528; // 0000-01-01
const LAST = 2_932_896; // 9999-12-31

function isDay(value: number): value is Day {
  return Number.isInteger(value) && value >= FIRST && value <= LAST;
}

/** The day with this number. Throws a RangeError outside the years 0000 to 9999 or off a whole day. */
export function dayFromNumber(value: number): Day {
  if (!isDay(value)) throw new RangeError(`not a whole day in the years 0000 to 9999: ${value}`);
  return value;
}

export function isLeapYear(year: number): boolean {
  return (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0;
}

/** 28 to 31; `month` is 1 to 12. */
export function daysInMonth(year: number, month: number): number {
  if (month === 2) return isLeapYear(year) ? 29 : 28;
  return month === 4 || month === 6 || month === 9 || month === 11 ? 30 : 31;
}

/**
 * Days from civil date, by counting 400-year eras of 146,097 days with March as the first month,
 * so that the leap day is the last of its year (the arithmetic of ISO 8601's calendar; no table, no Date).
 */
export function dayFromCivil(year: number, month: number, dayOfMonth: number): Day {
  if (!Number.isInteger(year) || year < 0 || year > 9999)
    throw new RangeError(`year ${year} is outside 0000 to 9999`);
  if (!Number.isInteger(month) || month < 1 || month > 12)
    throw new RangeError(`month ${month} is outside 1 to 12`);
  if (!Number.isInteger(dayOfMonth) || dayOfMonth < 1 || dayOfMonth > daysInMonth(year, month)) {
    throw new RangeError(`day ${dayOfMonth} is outside month ${month} of ${year}`);
  }
  const marchYear = month > 2 ? year : year - 1;
  const era = Math.floor(marchYear / 400);
  const yearOfEra = marchYear - era * 400;
  const dayOfYear = Math.floor((153 * (month > 2 ? month - 3 : month + 9) + 2) / 5) + dayOfMonth - 1;
  const dayOfEra = yearOfEra * 365 + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100) + dayOfYear;
  return dayFromNumber(era * 146_097 + dayOfEra - 719_468);
}

export function civilFromDay(day: Day): CivilDate {
  const shifted = day + 719_468;
  const era = Math.floor(shifted / 146_097);
  const dayOfEra = shifted - era * 146_097;
  const yearOfEra = Math.floor(
    (dayOfEra -
      Math.floor(dayOfEra / 1460) +
      Math.floor(dayOfEra / 36_524) -
      Math.floor(dayOfEra / 146_096)) /
      365,
  );
  const dayOfYear = dayOfEra - (365 * yearOfEra + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100));
  const marchMonth = Math.floor((5 * dayOfYear + 2) / 153);
  const month = marchMonth < 10 ? marchMonth + 3 : marchMonth - 9;
  return {
    year: yearOfEra + era * 400 + (month <= 2 ? 1 : 0),
    month,
    dayOfMonth: dayOfYear - Math.floor((153 * marchMonth + 2) / 5) + 1,
  };
}

/**
 * The same day of the month `months` later (or earlier when negative); a day that the month lacks becomes its last:
 * 31 January + 1 month = 28 or 29 February. Always count from the original day, never step by step.
 */
export function addMonths(day: Day, months: number): Day {
  const { year, month, dayOfMonth } = civilFromDay(day);
  const count = year * 12 + (month - 1) + months;
  const toYear = Math.floor(count / 12);
  const toMonth = count - toYear * 12 + 1;
  return dayFromCivil(toYear, toMonth, Math.min(dayOfMonth, daysInMonth(toYear, toMonth)));
}

export function addDays(day: Day, days: number): Day {
  return dayFromNumber(day + days);
}

/** 1 = Monday to 7 = Sunday, as in ISO 8601. */
export function weekdayOf(day: Day): number {
  return ((((day + 3) % 7) + 7) % 7) + 1;
}

const ISO_DAY = /^(\d{4})-(\d{2})-(\d{2})$/;

/** Reads `YYYY-MM-DD`; undefined when the text is not such a day or the day does not exist. */
export function findDay(text: string): Day | undefined {
  const match = ISO_DAY.exec(text);
  if (match === null) return undefined;
  const year = Number(match[1]);
  const month = Number(match[2]);
  const dayOfMonth = Number(match[3]);
  if (month < 1 || month > 12 || dayOfMonth < 1 || dayOfMonth > daysInMonth(year, month)) return undefined;
  return dayFromCivil(year, month, dayOfMonth);
}

/** Reads `YYYY-MM-DD`; throws a RangeError that quotes the text otherwise. */
export function getDay(text: string): Day {
  const day = findDay(text);
  if (day === undefined) throw new RangeError(`not a day (YYYY-MM-DD): ${JSON.stringify(text)}`);
  return day;
}

/** `YYYY-MM-DD`. */
export function dayToText(day: Day): string {
  const { year, month, dayOfMonth } = civilFromDay(day);
  return `${String(year).padStart(4, '0')}-${String(month).padStart(2, '0')}-${String(dayOfMonth).padStart(2, '0')}`;
}
