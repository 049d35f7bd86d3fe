import { addDays, type Day, type DueWindow } from '@sillwatch/trade';

/** Days before and after today that the common time axis shows. */
export const BEFORE_DAYS = 90;
export const AFTER_DAYS = 120;
const SPAN = BEFORE_DAYS + AFTER_DAYS;

/** Where a day stands on the axis, per cent of its width; days outside stand at the edge. */
export function placeOn(day: Day, today: Day): number {
  const share = (day - today + BEFORE_DAYS) / SPAN;
  return 100 * Math.min(1, Math.max(0, share));
}

/** A window as far as the axis shows it; `cut` says at which end it goes on. */
export interface Bar {
  readonly from: number;
  readonly to: number;
  /** null = beyond an edge */
  readonly target: number | null;
  readonly cut: 'none' | 'before' | 'after' | 'both';
  /** All of it lies before or after what the axis shows. */
  readonly isOutside: boolean;
}

/** Least width of a bar, per cent. */
const LEAST = 0.6;

export function barOf({ earliest, target, latest }: DueWindow, today: Day): Bar {
  const first = addDays(today, -BEFORE_DAYS);
  const last = addDays(today, AFTER_DAYS);
  const left = placeOn(earliest, today);
  const from = Math.min(left, 100 - LEAST);
  const before = earliest < first;
  const after = latest > last;
  return {
    from,
    to: Math.max(placeOn(latest, today), from + LEAST),
    target: target < first || target > last ? null : placeOn(target, today),
    isOutside: latest < first || earliest > last,
    cut: before && after ? 'both' : before ? 'before' : after ? 'after' : 'none',
  };
}

/** First days of the months on the axis. */
export function monthsOn(today: Day, firstOfMonth: (day: Day) => boolean): readonly Day[] {
  return Array.from({ length: SPAN }, (_, index) => addDays(today, index - BEFORE_DAYS)).filter(firstOfMonth);
}
