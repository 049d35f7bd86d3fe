import { DEMO_PROFILE, foldOrders, foldStock, STATION_MODELS } from '@sillwatch/trade';
import { addDays, dayToText } from '@sillwatch/trade/units';
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
  orders: [],
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

  it('takes what is on order off what is ordered, and says which of it is late', () => {
    const firm = writeFacts('firm');
    const order = (id: string, place: string, count: number, expectedOn: string) =>
      firm.put(
        '2026-11-01',
        'parts ordered',
        { order: id, place, part: 'base-monitor', count, orderedOn: '2026-11-01', expectedOn, reference: '' },
        null,
      );
    const base = (orders: StockQuestion['orders']) =>
      branchStock({ ...question, orders }).parts.find((one) => one.part === 'base-monitor');
    const bare = base([]);
    const upTo = bare?.orderUpTo ?? 0;
    expect(upTo).toBeGreaterThan(0);
    order('in time', 'b1', upTo, dayToText(addDays(TODAY, 3)));
    order('elsewhere', 'b2', 500, dayToText(addDays(TODAY, 3)));
    const covered = base(foldOrders(firm.facts));
    expect(covered).toMatchObject({ onOrder: upTo, orderNow: 0, onHand: 0 });
    expect(covered?.riskNow).toBeLessThanOrEqual(0.05);
    // A part delivery: what came is stock, what did not is still on order; the sum is the same.
    firm.put(
      '2026-11-20',
      'stock received',
      { place: 'b1', part: 'base-monitor', count: 2, lot: null, usableUntil: null, order: 'in time' },
      null,
    );
    const facts = firm.facts;
    const partly = branchStock({ ...question, orders: foldOrders(facts), lines: foldStock(facts) });
    expect(partly.parts.find((one) => one.part === 'base-monitor')).toMatchObject({
      onHand: 2,
      onOrder: upTo - 2,
      orderNow: 0,
    });
    expect(partly.orders).toMatchObject([{ order: 'in time', open: upTo - 2, came: 2, isLate: false }]);
    // Late: it still counts as ordered, but nobody may lean on it.
    const late = branchStock({ ...question, orders: foldOrders(facts), lines: [], asOf: addDays(TODAY, 10) });
    expect(late.orders).toMatchObject([{ order: 'in time', isLate: true }]);
    expect(late.parts.find((one) => one.part === 'base-monitor')?.riskNow).toBeGreaterThan(0.5);
    firm.put('2026-11-24', 'order cancelled', { order: 'in time', why: 'out of stock there' }, null);
    expect(base(foldOrders(firm.facts))).toMatchObject({ onOrder: 0, orderNow: bare?.orderNow });
  });

  it('names parts that work asks for and nobody said how long they take to come', () => {
    const { withoutLeadTime } = branchStock(question);
    expect(withoutLeadTime.map((one) => one.part)).toContain('top-monitor');
    expect(branchStock({ ...question, parts: {} }).parts).toEqual([]);
    expect(() => branchStock({ ...question, reviewDays: 0 })).toThrow(/days/);
  });
});
