import type { WindowRule } from '../profile/labelProfile.ts';
import { addDays, addMonths, type Day } from '../units/index.ts';

export interface DueWindow {
  readonly earliest: Day;
  readonly target: Day;
  readonly latest: Day;
}

/** The window that a rule opens after a day: calendar months first, then days. */
export function windowAfter(rule: WindowRule, from: Day): DueWindow {
  const after = ({ months, days }: WindowRule['earliest']): Day => addDays(addMonths(from, months), days);
  return { earliest: after(rule.earliest), target: after(rule.target), latest: after(rule.latest) };
}

/** As windowAfter, remembering each start day: the stations of a branch share few of them. */
export function createWindowBook(rule: WindowRule): (from: Day) => DueWindow {
  const windows = new Map<Day, DueWindow>();
  return (from) => {
    const known = windows.get(from);
    if (known !== undefined) return known;
    const window = windowAfter(rule, from);
    windows.set(from, window);
    return window;
  };
}
