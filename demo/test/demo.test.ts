import {
  type AnyFact,
  assessClearance,
  checkFact,
  DEMO_PROFILE,
  dueWork,
  foldFirm,
  foldProperty,
  type PropertyState,
  type StationSeenBody,
  timelinessOn,
} from '@sillwatch/trade';
import { getDay } from '@sillwatch/trade/units';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { inventOutline, offsetOutline, pointsAlong } from '../src/houses.ts';
import { DEMO_FIRM, DEMO_PEOPLE, generateDemo } from '../src/index.ts';
import { createChance } from '../src/random.ts';
import { DEMO_STATE, TOWNS } from '../src/scenario.ts';

const today = getDay('2026-11-25');
const demo = generateDemo({ seed: 20_261_125, today });
const properties: PropertyState[] = [...Map.groupBy(demo.facts, (fact) => fact.property ?? '')]
  .filter(([property]) => property !== '')
  .map(([, facts]) => foldProperty(facts));
const stations = properties.flatMap((property) => property.stations);
const seen = demo.facts.filter(
  (fact): fact is AnyFact & { readonly body: StationSeenBody } => fact.kind === 'station seen',
);

describe('the invented firm', () => {
  it('is of the size that the work needs', () => {
    expect(properties).toHaveLength(60);
    expect(stations.length).toBeGreaterThan(1000);
    expect(stations.length).toBeLessThan(1400);
    expect(Object.keys(foldFirm(demo.facts).branches)).toEqual(['branch-harbour', 'branch-upland']);
  });

  it('is the same for the same seed and day, and another for another seed', () => {
    const small = { today, properties: 4 };
    expect(JSON.stringify(generateDemo({ seed: 1, ...small }).facts)).toBe(
      JSON.stringify(generateDemo({ seed: 1, ...small }).facts),
    );
    expect(JSON.stringify(generateDemo({ seed: 2, ...small }).facts)).not.toBe(
      JSON.stringify(generateDemo({ seed: 1, ...small }).facts),
    );
  });

  it('says that it is invented, wherever it could be taken for real', () => {
    expect(DEMO_FIRM.name).toMatch(/invented/);
    expect(DEMO_PROFILE.invented).toBe(true);
    expect(DEMO_STATE).toBe('ZZ');
    for (const town of TOWNS) expect(town.postcode).toMatch(/^000/);
    for (const person of DEMO_PEOPLE) expect(person.email).toMatch(/\.invalid$/);
  });

  it('has only facts that the door takes, none of them passed over', () => {
    for (const fact of demo.facts) expect(checkFact(fact)).toEqual([]);
    for (const property of properties) expect(property.passedOver).toEqual([]);
    expect(new Set(demo.facts.map((fact) => fact.id)).size).toBe(demo.facts.length);
  });
});

describe('its three years are a working history', () => {
  const states = stations.map((state) => assessClearance(state, DEMO_PROFILE));

  it('with hits, feeding, baited and clear stations, losses and replacements', () => {
    const count = (fits: (state: (typeof states)[number]) => boolean): number => states.filter(fits).length;
    expect(count((state) => state.firstHitOn !== null)).toBeGreaterThan(30);
    expect(count((state) => state.phase === 'feeding')).toBeGreaterThan(3);
    expect(count((state) => state.clearedOn !== null)).toBeGreaterThan(10);
    expect(count((state) => state.auxiliary)).toBeGreaterThan(5);
    expect(demo.facts.filter((fact) => fact.kind === 'station replaced').length).toBeGreaterThan(3);
    expect(seen.filter((fact) => fact.body.finding.reach !== 'opened').length).toBeGreaterThan(50);
  });

  it('with yearly services carried over, and late, open and coming work today', () => {
    expect(
      seen.filter(
        (fact) =>
          fact.body.task === 'yearly service' &&
          fact.body.finding.reach === 'opened' &&
          fact.body.finding.termites === 'live on bait',
      ).length,
    ).toBeGreaterThan(0);
    const works = properties.map((property) => dueWork(property.stations, DEMO_PROFILE, today));
    expect(works.flatMap((work) => work.held).length).toBeGreaterThan(0);
    const standings = new Set(works.flatMap((work) => work.items).map((item) => timelinessOn(item, today)));
    expect([...standings].toSorted()).toEqual(['late', 'not yet', 'open', 'past target']);
  });

  it('in which nobody ever disturbed a feeding station, and all bait has its record', () => {
    expect(states.filter((state) => state.disturbedWhileFeeding)).toEqual([]);
    for (const { body } of seen) {
      const isBaited = body.work.fitted.some((insert) => insert.insert === 'bait');
      expect(isBaited).toBe(body.application !== null);
    }
  });

  it('and nothing is seen after today', () => {
    for (const fact of demo.facts) expect(getDay(fact.at.slice(0, 10))).toBeLessThanOrEqual(today);
  });
});

describe('its houses', () => {
  it('have every station at the set-back from the walls, and neighbours within the spacing', () => {
    fc.assert(
      fc.property(fc.integer(), fc.boolean(), (seed, large) => {
        const outline = inventOutline(createChance(seed), large);
        const line = offsetOutline(outline, 0.6);
        const points = pointsAlong(line, 3.8);
        const closed = [...points, ...points.slice(0, 1)];
        for (const [index, [x, y]] of points.entries()) {
          const [nextX, nextY] = closed[index + 1] ?? [x, y];
          expect(Math.hypot(nextX - x, nextY - y)).toBeLessThan(3.85);
          const distances = outline.map(([ax, ay], side) => {
            const [bx, by] = outline[(side + 1) % outline.length] ?? [ax, ay];
            const length = (bx - ax) ** 2 + (by - ay) ** 2;
            const t = Math.max(0, Math.min(1, ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / length));
            return Math.hypot(x - ax - t * (bx - ax), y - ay - t * (by - ay));
          });
          // Corners stand farther out, by the diagonal of the set-back.
          expect(Math.min(...distances)).toBeGreaterThan(0.59);
          expect(Math.min(...distances)).toBeLessThan(0.6 * Math.SQRT2 + 0.01);
        }
      }),
      { numRuns: 60 },
    );
  });
});
