import { type Day, dayFromCivil, daysInMonth } from './day.ts';

/**
 * A moment as a device wrote it: RFC 3339 text with an offset, `2026-03-04T10:15:00-05:00`.
 * The local day and clock stand in the text itself, so no time-zone table is needed to know on which day a cap was opened.
 */
export interface Moment {
  /** The calendar day where the device was. */
  readonly day: Day;
  /** Milliseconds since 1970-01-01T00:00:00Z. */
  readonly epochMs: number;
}

const RFC3339 = /^(\d{4})-(\d{2})-(\d{2})T(\d{2}):(\d{2}):(\d{2})(?:\.(\d{1,9}))?(Z|[+-]\d{2}:\d{2})$/;

/** Undefined when the text is not an RFC 3339 date-time with an offset or names a day or time that does not exist. */
export function findMoment(text: string): Moment | undefined {
  const match = RFC3339.exec(text);
  if (match === null) return undefined;
  const [, y, mo, d, h, mi, s, fraction, zone] = match;
  const year = Number(y);
  const month = Number(mo);
  const dayOfMonth = Number(d);
  const hours = Number(h);
  const minutes = Number(mi);
  const seconds = Number(s);
  if (month < 1 || month > 12 || dayOfMonth < 1 || dayOfMonth > daysInMonth(year, month)) return undefined;
  if (hours > 23 || minutes > 59 || seconds > 60) return undefined;
  const offsetMinutes = findOffsetMinutes(zone ?? 'Z');
  if (offsetMinutes === undefined) return undefined;
  const day = dayFromCivil(year, month, dayOfMonth);
  const milliseconds = fraction === undefined ? 0 : Math.trunc(Number(`0.${fraction}`) * 1000);
  const epochMs =
    day * 86_400_000 + ((hours * 60 + minutes - offsetMinutes) * 60 + seconds) * 1000 + milliseconds;
  return { day, epochMs };
}

/** As findMoment; throws a RangeError that quotes the text. */
export function getMoment(text: string): Moment {
  const moment = findMoment(text);
  if (moment === undefined)
    throw new RangeError(`not an RFC 3339 time with an offset: ${JSON.stringify(text)}`);
  return moment;
}

function findOffsetMinutes(zone: string): number | undefined {
  if (zone === 'Z') return 0;
  const hours = Number(zone.slice(1, 3));
  const minutes = Number(zone.slice(4, 6));
  if (hours > 23 || minutes > 59) return undefined;
  return (zone.startsWith('-') ? -1 : 1) * (hours * 60 + minutes);
}
