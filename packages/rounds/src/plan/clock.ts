import { addDays, type Day, dayToText } from '@sillwatch/trade';

/**
 * Minutes east of UTC that the clocks of an IANA zone show at a local time of day. Handed in, because a pure room has no
 * table of zones: an app answers with `Temporal`.
 */
export type ZoneClock = (timeZone: string, day: Day, secondsOfDay: number) => number;

const DAY_SECONDS = 86_400;

/** RFC 3339 with offset. `secondsOfDay` may run past midnight; it is cut to whole seconds. */
export function momentText(clock: ZoneClock, timeZone: string, day: Day, secondsOfDay: number): string {
  const whole = Math.floor(secondsOfDay);
  const over = Math.floor(whole / DAY_SECONDS);
  const date = addDays(day, over);
  const seconds = whole - over * DAY_SECONDS;
  const offset = clock(timeZone, date, seconds);
  const sign = offset < 0 ? '-' : '+';
  const away = Math.abs(offset);
  const time = [Math.floor(seconds / 3600), Math.floor(seconds / 60) % 60, seconds % 60].map(two).join(':');
  return `${dayToText(date)}T${time}${sign}${two(Math.floor(away / 60))}:${two(away % 60)}`;
}

/** Seconds to add to a time of day on the clock of `from` to have it on the clock of `to`. */
export function clockShiftSeconds(clock: ZoneClock, from: string, to: string, day: Day): number {
  if (from === to) return 0;
  const noon = DAY_SECONDS / 2;
  return (clock(to, day, noon) - clock(from, day, noon)) * 60;
}

/** `HH:MM` (to 24:00) as seconds after midnight; throws a RangeError that quotes anything else. */
export function getSecondsOfDay(text: string): number {
  const match = /^(\d{2}):(\d{2})$/.exec(text);
  const seconds = match === null ? Number.NaN : Number(match[1]) * 3600 + Number(match[2]) * 60;
  if (!(seconds <= DAY_SECONDS))
    throw new RangeError(`not a time of day (HH:MM, 00:00 to 24:00): ${JSON.stringify(text)}`);
  return seconds;
}

function two(value: number): string {
  return String(value).padStart(2, '0');
}
