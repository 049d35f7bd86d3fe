import { checkFact, getDay } from '@sillwatch/trade';
import { describe, expect, it } from 'vitest';
import { buildPlanProblem, comparePlans, planGeoJson } from '../../src/index.ts';
import { checkRounds } from './support/checkRounds.ts';
import { demoInput, TODAY } from './support/demoInput.ts';
import { expectLateAsListed } from './support/expectLate.ts';
import { inventBranch } from './support/inventBranch.ts';
import { planBranch } from './support/planBranch.ts';

describe('a plan of the invented firm', () => {
  it.each([
    { seed: 7, branch: 'branch-harbour', days: 91 },
    { seed: 7, branch: 'branch-upland', days: 91 },
    { seed: 11, branch: 'branch-harbour', days: 28 },
  ])('keeps every rule and, lived through as facts, is late only where it says so: %o', (options) => {
    const demo = demoInput(options.seed, options);
    const { rounds } = planBranch(demo.input);
    expect(checkRounds(demo.input, rounds)).toEqual([]);
    expect(rounds.rounds.length).toBeGreaterThan(0);
    expect(rounds.unplanned).toEqual([]);
    expect(rounds.broken).toEqual([]);
    expect(rounds.late.filter(({ wasLate }) => !wasLate)).toEqual([]);
    expectLateAsListed(demo, demo.input, rounds);
  });

  it('is the same for the same seed and steps, to the byte', () => {
    const { input } = demoInput(7, { days: 56 });
    const once = JSON.stringify(planBranch(input, 500).rounds);
    expect(JSON.stringify(planBranch(demoInput(7, { days: 56 }).input, 500).rounds)).toBe(once);
    expect(JSON.parse(once)).toEqual(planBranch(input, 500).rounds);
  });

  it('is fewer miles than the same visits planned by hand', () => {
    const { built, rounds } = planBranch(inventBranch(150, 2, 42, TODAY), 3000);
    const { plan, byHand, last, moves } = comparePlans(built, rounds.rounds);
    expect(plan).toEqual(rounds.totals);
    expect(byHand.visits + byHand.unplannedVisits).toBe(plan.visits);
    expect(plan.driveMetres).toBeLessThan(0.8 * byHand.driveMetres);
    expect(plan.lateWorks).toBeLessThanOrEqual(byHand.lateWorks);
    expect([last, moves]).toEqual([null, null]);
  });

  it('has rounds that the ledger takes as they are', () => {
    const { rounds } = planBranch(demoInput(7, { days: 28 }).input, 200);
    for (const [index, body] of rounds.rounds.entries()) {
      const result = checkFact({
        id: `01934567-89ab-7def-8123-${String(index).padStart(12, '0')}`,
        firm: 'firm-demo',
        property: null,
        station: null,
        by: 'person-lead',
        device: 'device-desk',
        seq: index + 1,
        at: '2026-11-25T10:00:00-05:00',
        clock: '001796000000000.00000',
        kind: 'round published',
        body,
      });
      expect(result).toEqual([]);
    }
  });

  it('draws as RFC 7946 asks: longitude first, lines of two positions or more, no reference system', () => {
    const { input } = demoInput(7, { days: 28 });
    const { rounds } = planBranch(input, 200);
    const drawn = planGeoJson(rounds.rounds, input.properties, input.firm);
    expect(Object.keys(drawn).sort()).toEqual(['features', 'type']);
    const lines = drawn.features.filter(({ geometry }) => geometry.type === 'LineString');
    expect(lines.length).toBe(rounds.rounds.length);
    const visits = rounds.rounds.reduce((sum, round) => sum + round.visits.length, 0);
    expect(drawn.features.length).toBe(lines.length + visits);
    for (const { geometry } of drawn.features) {
      const positions = geometry.type === 'Point' ? [geometry.coordinates] : geometry.coordinates;
      if (geometry.type === 'LineString') expect(positions.length).toBeGreaterThanOrEqual(2);
      for (const [longitude, latitude] of positions) {
        expect(longitude).toBeGreaterThan(-49);
        expect(longitude).toBeLessThan(-46);
        expect(latitude).toBeGreaterThan(30);
        expect(latitude).toBeLessThan(32.5);
      }
    }
  });
});

describe('a question that cannot be put', () => {
  it('is refused with the culprit named', () => {
    const { input } = demoInput(7, { properties: 8 });
    expect(() => buildPlanProblem({ ...input, branch: 'nowhere' })).toThrow(/no branch "nowhere"/);
    for (const days of [0, 92, 2.5])
      expect(() => buildPlanProblem({ ...input, days })).toThrow(/horizon of .* days; give 1 to 91/);
    const skills = Array.from({ length: 32 }, (_, n) => `skill ${n}`);
    const properties = input.properties.map((state) => ({
      ...state,
      body: state.body === null ? null : { ...state.body, skills },
    }));
    expect(() => buildPlanProblem({ ...input, properties })).toThrow(/32 different skills/);
  });

  it('does not stop the rest: properties without position or profile are listed with the remedy', () => {
    const demo = demoInput(7, { days: 91 });
    const { needs } = buildPlanProblem(demo.input);
    const [first, second] = demo.input.properties.filter(({ property }) =>
      needs.some((need) => need.property === property),
    );
    const properties = demo.input.properties.map((state) => {
      if (state.body === null) return state;
      if (state === first) return { ...state, body: { ...state.body, position: null } };
      return state === second ? { ...state, body: { ...state.body, profile: 'none such' } } : state;
    });
    const input = { ...demo.input, properties };
    const { rounds } = planBranch(input, 200);
    const byProperty = new Map(rounds.unplanned.map((one) => [one.property, one]));
    expect(byProperty.get(first?.property ?? '')).toMatchObject({
      reason: 'no position',
      remedies: [{ kind: 'enter its position' }],
    });
    expect(byProperty.get(second?.property ?? '')).toMatchObject({
      reason: 'no label profile',
      remedies: [{ kind: 'enter its label profile' }],
    });
    expect(checkRounds(input, rounds)).toEqual([]);
    expect(rounds.totals.visits).toBeGreaterThan(10);
  });

  it('counts from any day: over the change of clocks the offset follows the zone', () => {
    const { input } = demoInput(7, { days: 28, today: getDay('2027-03-08') });
    const { rounds } = planBranch(input, 200);
    for (const { day, startsAt, endsAt } of rounds.rounds) {
      const offset = day < '2027-03-14' ? '-05:00' : '-04:00';
      expect([startsAt.slice(-6), endsAt.slice(-6)]).toEqual([offset, offset]);
    }
    expect(rounds.rounds.some(({ day }) => day > '2027-03-14')).toBe(true);
  });
});
