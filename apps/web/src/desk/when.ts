import type { Day, Timeliness } from '@sillwatch/trade';
import type { Words } from '../words/index.ts';

/** When a window closes, closed, or opens: whichever matters on this day. */
export function whenWords(
  window: { readonly earliest: Day; readonly latest: Day },
  timeliness: Timeliness,
  today: Day,
  w: Words,
  day: (day: Day) => string,
): string {
  switch (timeliness) {
    case 'late':
      return w.due.wasDue(day(window.latest), today - window.latest);
    case 'past target':
    case 'open':
      return w.due.lastDay(day(window.latest));
    case 'not yet':
      return w.due.opens(day(window.earliest));
  }
}

/** The same in few words, counted in days. */
export function soonWords(
  window: { readonly earliest: Day; readonly latest: Day },
  timeliness: Timeliness,
  today: Day,
  w: Words,
): string {
  switch (timeliness) {
    case 'late':
      return w.due.lateBy(today - window.latest);
    case 'past target':
    case 'open':
      return w.due.daysLeft(window.latest - today);
    case 'not yet':
      return w.due.opensIn(window.earliest - today);
  }
}
