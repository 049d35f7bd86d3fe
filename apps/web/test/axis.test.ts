import { addDays, getDay } from '@sillwatch/trade';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { AFTER_DAYS, BEFORE_DAYS, barOf, placeOn } from '../src/desk/due/axis.ts';
import { filterParams, NO_FILTER, readFilter, readGroup } from '../src/desk/due/filter.ts';

const today = getDay('2026-11-25');

describe('the common time axis', () => {
  it('is as long as it says, with today where the days before end', () => {
    expect(placeOn(addDays(today, -BEFORE_DAYS), today)).toBe(0);
    expect(placeOn(addDays(today, AFTER_DAYS), today)).toBe(100);
    expect(placeOn(today, today)).toBeCloseTo((100 * BEFORE_DAYS) / (BEFORE_DAYS + AFTER_DAYS), 9);
  });

  it('draws every window inside its width, and says where it goes on', () => {
    const shift = fc.integer({ min: -2000, max: 2000 });
    fc.assert(
      fc.property(shift, fc.nat(400), fc.nat(400), (from, toTarget, toLatest) => {
        const earliest = addDays(today, from);
        const target = addDays(earliest, toTarget);
        const latest = addDays(target, toLatest);
        const bar = barOf({ earliest, target, latest }, today);
        expect(bar.from).toBeGreaterThanOrEqual(0);
        expect(bar.to).toBeLessThanOrEqual(100);
        expect(bar.to - bar.from).toBeGreaterThan(0.5);
        expect(['before', 'both'].includes(bar.cut)).toBe(from < -BEFORE_DAYS);
        expect(['after', 'both'].includes(bar.cut)).toBe(latest - today > AFTER_DAYS);
        if (bar.target !== null) expect(bar.target).toBeCloseTo(placeOn(target, today), 9);
      }),
    );
  });
});

it('a filter goes into the address and comes back', () => {
  const filter = { ...NO_FILTER, branch: 'north', town: 'Tanner’s Reach', text: 'a & b' };
  const params = new URLSearchParams(filterParams(filter, 'held').toString());
  expect(readFilter(params)).toEqual(filter);
  expect(readGroup(params)).toBe('held');
  expect(readGroup(new URLSearchParams('group=nonsense'))).toBeUndefined();
});
