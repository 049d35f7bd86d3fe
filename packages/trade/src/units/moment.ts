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

/**
 * Undefined when the text is not an RFC 3339 date-time with an offset or names a day or time that does not exist.
 * Read by character codes: the fold reads two of these a fact, and a regular expression takes ten times as long.
 */
export function findMoment(text: string): Moment | undefined {
  if (text.length < 20) return undefined;
  const year = digits(text, 0, 4);
  const month = digits(text, 5, 2);
  const dayOfMonth = digits(text, 8, 2);
  const hours = digits(text, 11, 2);
  const minutes = digits(text, 14, 2);
  const seconds = digits(text, 17, 2);
  const isPunctuated =
    text.charCodeAt(4) === DASH &&
    text.charCodeAt(7) === DASH &&
    text.charCodeAt(10) === LETTER_T &&
    text.charCodeAt(13) === COLON &&
    text.charCodeAt(16) === COLON;
  if (!isPunctuated || year < 0 || month < 1 || month > 12 || dayOfMonth < 1) return undefined;
  if (hours < 0 || hours > 23 || minutes < 0 || minutes > 59 || seconds < 0 || seconds > 60) return undefined;
  if (dayOfMonth > daysInMonth(year, month)) return undefined;
  const { milliseconds, end } = readFraction(text);
  const offsetMinutes = readOffsetMinutes(text, end);
  if (Number.isNaN(milliseconds) || Number.isNaN(offsetMinutes)) return undefined;
  const day = dayFromCivil(year, month, dayOfMonth);
  const epochMs =
    day * 86_400_000 + ((hours * 60 + minutes - offsetMinutes) * 60 + seconds) * 1000 + milliseconds;
  return { day, epochMs };
}

const DASH = 45;
const DOT = 46;
const COLON = 58;
const PLUS = 43;
const LETTER_T = 84;
const LETTER_Z = 90;
const ZERO = 48;

/** The number that `count` digits from `from` on write, or -1 where one of them is no digit. */
function digits(text: string, from: number, count: number): number {
  let value = 0;
  for (let index = from; index < from + count; index += 1) {
    const digit = text.charCodeAt(index) - ZERO;
    if (!(digit >= 0 && digit <= 9)) return -1;
    value = value * 10 + digit;
  }
  return value;
}

/** Milliseconds after the whole second (1 to 9 digits, cut at the third) and where they end; NaN when malformed. */
function readFraction(text: string): { readonly milliseconds: number; readonly end: number } {
  if (text.charCodeAt(19) !== DOT) return NO_FRACTION;
  let end = 20;
  let milliseconds = 0;
  let scale = 100;
  for (; end < text.length; end += 1) {
    const digit = text.charCodeAt(end) - ZERO;
    if (!(digit >= 0 && digit <= 9)) break;
    milliseconds += digit * scale;
    scale = Math.floor(scale / 10);
  }
  return end === 20 || end > 29 ? { milliseconds: Number.NaN, end } : { milliseconds, end };
}

const NO_FRACTION = { milliseconds: 0, end: 19 } as const;

/** Minutes east of UTC, from `Z` or `+hh:mm` that ends the text; NaN when malformed. */
function readOffsetMinutes(text: string, from: number): number {
  const sign = text.charCodeAt(from);
  if (sign === LETTER_Z) return text.length === from + 1 ? 0 : Number.NaN;
  if ((sign !== PLUS && sign !== DASH) || text.length !== from + 6 || text.charCodeAt(from + 3) !== COLON)
    return Number.NaN;
  const hours = digits(text, from + 1, 2);
  const minutes = digits(text, from + 4, 2);
  if (hours < 0 || hours > 23 || minutes < 0 || minutes > 59) return Number.NaN;
  return (sign === DASH ? -1 : 1) * (hours * 60 + minutes);
}

/** As findMoment; throws a RangeError that quotes the text. */
export function getMoment(text: string): Moment {
  const moment = findMoment(text);
  if (moment === undefined)
    throw new RangeError(`not an RFC 3339 time with an offset: ${JSON.stringify(text)}`);
  return moment;
}
