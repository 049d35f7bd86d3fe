import { DEMO_PROFILE, foldStock, STATION_MODELS } from '@sillwatch/trade';
import { addDays } from '@sillwatch/trade/units';
import { describe, expect, it } from 'vitest';
import {
  branchStock,
  expectedVisits,
  fitHitRisk,
  learnWear,
  loadFor,
  readSubjects,
  type StockQuestion,
} from '../../src/index.ts';
import { demoBook, TODAY } from '../support/demoFirm.ts';
import { writeFacts } from '../support/makeFacts.ts';

const profiles = { [DEMO_PROFILE.id]: DEMO_PROFILE };
const book = demoBook(7, 20);
const { subjects } = readSubjects(book.factsByProperty, profiles);
const part = (id: string, leadDays: number, packSize: number, baitGrams: number | null = null) => ({
  part: id,
  name: id,
  packSize,
  leadDays,
  baitGrams,
});
const question: StockQuestion = {
  states: new Map(book.states.map((state) => [state.property, state])),
  profiles,
  models: Object.fromEntries(STATION_MODELS.map((model) => [model.id, model])),
  risk: fitHitRisk(subjects, TODAY),
  wear: learnWear(subjects, TODAY),
  asOf: TODAY,
  places: ['b1', 'person-a'],
  lines: [],
  parts: { 'base-monitor': part('base-monitor', 21, 50), 'bait-insert': part('bait-insert', 14, 10, 120) },
  onOrder: {},
  reviewDays: 14,
  chance: 0.05,
};

describe('branch stock', () => {
  it('orders by the exact need of the visits that fall into the lead time and the time to the next order', () => {
    const { parts } = branchStock(question);
    const base = parts.find((one) => one.part === 'base-monitor');
    const visits = expectedVisits(book.states, profiles, TODAY, addDays(TODAY, 35));
    const within = (days: number) =>
      loadFor(
        { ...question, visits: visits.filter(({ day }) => day < TODAY + days) },
        { chance: 0.05 },
      ).parts.find((one) => one.part === 'base-monitor')?.take ?? 0;
    expect(base?.reorderPoint).toBe(within(21));
    expect(base?.orderUpTo).toBe(within(35));
    expect(base?.orderNow).toBe(Math.ceil(within(35) / 50) * 50);
    expect(base?.neverCounted).toEqual(['b1', 'person-a']);
    expect(base?.riskNow).toBeGreaterThan(0.9);
  });

  it('counts stock of the branch and its trucks, without lots that have expired', () => {
    const firm = writeFacts('firm');
    const put = (place: string, count: number, lot: string, usableUntil: string | null) =>
      firm.put('2026-11-20', 'stock counted', { place, part: 'bait-insert', count, lot, usableUntil }, null);
    put('b1', 60, 'A', '2026-11-24');
    put('b1', 30, 'B', '2026-12-05');
    put('person-a', 12, 'C', null);
    put('elsewhere', 500, 'D', null);
    const bait = branchStock({ ...question, lines: foldStock(firm.facts) }).parts.find(
      (one) => one.part === 'bait-insert',
    );
    expect(bait).toMatchObject({
      onHand: 42,
      expired: 60,
      expiring: { count: 30, firstOn: '2026-12-05' },
      neverCounted: [],
    });
  });

  it('names parts that work asks for and nobody said how long they take to come', () => {
    const { withoutLeadTime } = branchStock(question);
    expect(withoutLeadTime.map((one) => one.part)).toContain('top-monitor');
    expect(branchStock({ ...question, parts: {} }).parts).toEqual([]);
    expect(() => branchStock({ ...question, reviewDays: 0 })).toThrow(/days/);
  });
});
