import { type Day, getDay } from '@sillwatch/trade/units';
import { useMemo } from 'react';
import { useWords } from './index.ts';

/** Days are days: formatted in UTC so that no time zone moves them. */
function formatter(locale: string, options: Intl.DateTimeFormatOptions) {
  const format = new Intl.DateTimeFormat(locale, { ...options, timeZone: 'UTC' });
  return (day: Day) => format.format(day * 86_400_000);
}

export function daysIn(locale: string) {
  const plain = formatter(locale, { year: 'numeric', month: 'short', day: 'numeric' });
  return {
    /** Wednesday, November 25, 2026 */
    full: formatter(locale, { weekday: 'long', year: 'numeric', month: 'long', day: 'numeric' }),
    /** Nov 25, 2026 */
    plain,
    /** `2026-11-25` as Nov 25, 2026 */
    ofText: (day: string): string => plain(getDay(day)),
    /** Wed */
    weekday: formatter(locale, { weekday: 'short' }),
    /** Nov */
    month: formatter(locale, { month: 'short' }),
    /** Nov 25 */
    short: formatter(locale, { month: 'short', day: 'numeric' }),
  };
}

export function useDays() {
  const { locale } = useWords();
  return useMemo(() => daysIn(locale), [locale]);
}
