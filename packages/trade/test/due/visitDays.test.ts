import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type VisitChain,
  type VisitPlan,
  type VisitStation,
  visitDays,
  type WindowRule,
  windowAfter,
} from '../../src/index.ts';
import { addDays, type Day, dayToText, getDay } from '../../src/units/index.ts';
import { fewestByBruteForce, leastLate } from './bruteVisits.ts';

const FROM = getDay('2024-02-26');
const inDays = (earliest: number, target: number, latest: number): WindowRule => ({
  earliest: { months: 0, days: earliest },
  target: { months: 0, days: target },
  latest: { months: 0, days: latest },
});
const inMonths = (earliest: number, target: number, latest: number): WindowRule => ({
  earliest: { months: earliest, days: 0 },
  target: { months: target, days: 0 },
  latest: { months: latest, days: 0 },
});

/** Days lateness that a plan owns up to, and proof by the calendar that it hides none. */
function lateOf(plan: VisitPlan, station: VisitStation, to: Day): number {
  let late = 0;
  let { look, yearly } = station;
  const owed = (chain: VisitChain | null, day: number): void => {
    if (chain === null || chain.window.latest >= day) return;
    late += day - chain.window.latest;
    const named = plan.impossible.some(
      (one) =>
        one.station === station.station && one.latest === chain.window.latest && one.work === chain.work,
    );
    expect(named, 'late work is named').toBe(true);
  };
  const next = (chain: VisitChain | null, day: Day): VisitChain | null =>
    chain === null || chain.next === null
      ? null
      : { ...chain, work: chain.next.work, window: windowAfter(chain.next.rule, day) };
  for (const { day, served } of plan.visits) {
    const here = served.filter((one) => one.station === station.station);
    expect(here.length).toBeLessThanOrEqual(1);
    const [one] = here;
    if (one === undefined) continue;
    const isYearly = one.work === yearly?.work;
    expect((isYearly ? yearly : look)?.window.earliest, 'never before the window').toBeLessThanOrEqual(day);
    owed(look, day);
    if (isYearly) owed(yearly, day);
    look = next(look, day);
    if (isYearly) yearly = next(yearly, day);
  }
  owed(look, to + 1);
  owed(yearly, to + 1);
  return late;
}

const rule = fc
  .tuple(fc.integer({ min: 1, max: 5 }), fc.nat(2), fc.nat(3))
  .map(([earliest, target, rest]) => inDays(earliest, earliest + target, earliest + target + rest));
const chainOf = (work: VisitChain['work']): fc.Arbitrary<VisitChain> =>
  fc
    .tuple(fc.integer({ min: -4, max: 8 }), fc.nat(2), fc.nat(3), fc.option(rule, { freq: 6 }))
    .map(([earliest, target, rest, next]) => ({
      work,
      window: {
        earliest: addDays(FROM, earliest),
        target: addDays(FROM, earliest + target),
        latest: addDays(FROM, earliest + target + rest),
      },
      next: next === null ? null : { work, rule: next },
    }));
const stations = fc
  .array(
    fc.tuple(fc.option(chainOf('check'), { freq: 8 }), fc.option(chainOf('yearly service'), { freq: 3 })),
    { minLength: 1, maxLength: 4 },
  )
  .map((list) => list.map(([look, yearly], n): VisitStation => ({ station: `s${n}`, look, yearly })));

describe('visitDays against every subset of the days', () => {
  it.each([
    ['every day can be used', 0],
    ['some days are blocked', 5],
  ])('needs exactly as few visits, and is exactly as late as it must be, where %s', (_, mostBlocked) => {
    fc.assert(
      fc.property(
        stations,
        fc.integer({ min: 3, max: 9 }),
        fc.array(fc.nat(9), { maxLength: mostBlocked }),
        (list, length, offsets) => {
          const to = addDays(FROM, length);
          const blocked = new Set(offsets.map((offset) => addDays(FROM, offset)));
          const days = Array.from({ length: length + 1 }, (__, n) => addDays(FROM, n)).filter(
            (day) => !blocked.has(day),
          );
          const plan = visitDays(list, { from: FROM, to, blocked });
          expect(plan.proven).toBe(true);
          expect(plan.visits.length).toBe(fewestByBruteForce(list, days, to));
          for (const { day } of plan.visits) expect(days).toContain(day);
          for (const station of list)
            expect(lateOf(plan, station, to)).toBe(leastLate(station, days, days, to));
        },
      ),
      { numRuns: 3000 },
    );
  });
});

describe('visitDays', () => {
  const quarterly = inDays(75, 90, 105);
  const yearly = inMonths(12, 13, 15);
  const station = (name: string, lookedOn: string, yearlyOn: string): VisitStation => ({
    station: name,
    look: {
      work: 'check',
      window: windowAfter(quarterly, getDay(lookedOn)),
      next: { work: 'check', rule: quarterly },
    },
    yearly: {
      work: 'yearly service',
      window: windowAfter(yearly, getDay(yearlyOn)),
      next: { work: 'yearly service', rule: yearly },
    },
  });

  it('lets a yearly service count as the check, so that one visit does for both', () => {
    const plan = visitDays([station('1', '2026-03-02', '2025-06-02')], {
      from: getDay('2026-06-01'),
      to: getDay('2026-09-15'),
    });
    expect(plan.visits.map(({ served }) => served)).toEqual([[{ station: '1', work: 'yearly service' }]]);
  });

  it('names the window that blocked days make impossible, and comes on the first day after it', () => {
    const from = getDay('2026-06-01');
    const blocked = new Set(Array.from({ length: 40 }, (_, n) => addDays(from, n)));
    const plan = visitDays([station('1', '2026-03-02', '2026-03-02')], {
      from,
      to: getDay('2026-09-01'),
      blocked,
    });
    expect(plan.impossible.map(({ work, latest, servedOn }) => [work, dayToText(latest), servedOn])).toEqual([
      ['check', '2026-06-15', addDays(from, 40)],
    ]);
  });

  it('asks for no visit when nothing falls due, and refuses a horizon that ends before it begins', () => {
    const free = { from: getDay('2026-04-01'), to: getDay('2026-04-20') };
    expect(visitDays([station('1', '2026-03-02', '2026-03-02')], free).visits).toEqual([]);
    expect(() => visitDays([], { from: free.to, to: free.from })).toThrow(/before it begins/);
  });

  it('plans two years of a property with four histories without a late window', () => {
    const names = ['2026-03-02', '2026-03-20', '2026-04-11', '2026-05-01'];
    const list = Array.from({ length: 20 }, (_, n) =>
      station(`${n}`, names[n % 4] ?? '', names[(n + 1) % 4] ?? ''),
    );
    const to = getDay('2028-05-31');
    const plan = visitDays(list, { from: getDay('2026-06-01'), to });
    expect(plan.proven).toBe(true);
    for (const one of list) expect(lateOf(plan, one, to)).toBe(0);
  });
});
