import { foldFirm, foldProperty, foldStock, type PropertyState, type SitePoint } from '@sillwatch/trade';
import { getDay } from '@sillwatch/trade/units';
import { describe, expect, it } from 'vitest';
import { DEMO_BRANCHES, DEMO_PEOPLE, generateDemo } from '../src/index.ts';

const today = getDay('2026-11-25');

function propertiesOf(seed: number): readonly PropertyState[] {
  const { facts } = generateDemo({ seed, today });
  return [...Map.groupBy(facts, (fact) => fact.property ?? '')]
    .filter(([property]) => property !== '')
    .map(([, own]) => foldProperty(own));
}

describe('the drawn yards', () => {
  const drawn = [1, 7, 20_261_125].flatMap(propertiesOf).filter(({ site }) => site !== null);

  it('are most of the properties', () => {
    expect(drawn).toHaveLength(3 * 45);
    expect(drawn.filter(({ site }) => site?.hardSurfaces.some(({ kind }) => kind === 'drive')).length).toBe(
      135,
    );
    expect(drawn.filter(({ site }) => (site?.concerns.length ?? 0) > 0).length).toBeGreaterThan(60);
    expect(
      drawn.filter(({ site }) => site?.keepOuts.some(({ kind }) => kind === 'well')).length,
    ).toBeGreaterThan(15);
  });

  it('have no station on a hard surface or in a keep-out', () => {
    let looked = 0;
    for (const { site, stations } of drawn) {
      for (const { position, inService } of stations) {
        if (position === null || !inService || site === null) continue;
        looked += 1;
        for (const { outline } of site.hardSurfaces) expect(isWithin(position, outline)).toBe(false);
        for (const keepOut of site.keepOuts) {
          if (keepOut.kind === 'treated_soil') expect(isWithin(position, keepOut.outline)).toBe(false);
          else if (keepOut.kind === 'utility_line')
            expect(distanceToPath(position, keepOut.path)).toBeGreaterThan(keepOut.clearanceMetres);
          else expect(distance(position, keepOut.at)).toBeGreaterThan(keepOut.clearanceMetres);
        }
      }
    }
    expect(looked).toBeGreaterThan(2000);
  });

  it('do not reach into a building', () => {
    for (const { site, structures } of drawn) {
      const outlines = structures.flatMap(({ outline }) => (outline === null ? [] : [outline]));
      const spots = [
        ...(site?.hardSurfaces ?? []).flatMap(({ outline }) => middles(outline)),
        ...(site?.plantings ?? []).flatMap(({ outline }) => middles(outline)),
        ...(site?.gates ?? []).map(({ at }) => at),
      ];
      for (const spot of spots) {
        for (const outline of outlines) expect(isWithin(spot, outline)).toBe(false);
      }
    }
  });
});

describe('the office of the invented firm', () => {
  const { facts } = generateDemo({ seed: 7, today });
  const firm = foldFirm(facts);

  it('has three or more technicians in each branch, who start in the ocean near their town', () => {
    const technicians = Object.values(firm.technicians);
    for (const { branch } of DEMO_BRANCHES)
      expect(technicians.filter((one) => one.branch === branch).length).toBeGreaterThanOrEqual(3);
    for (const { person, start, name } of technicians) {
      expect(DEMO_PEOPLE.find(({ id }) => id === person)?.name).toBe(name);
      expect(Math.abs(start.latitude - 31.2)).toBeLessThan(0.3);
      expect(Math.abs(start.longitude + 47.6)).toBeLessThan(0.3);
    }
  });

  it('has work done by each of them in the past', () => {
    const by = new Set(facts.filter(({ kind }) => kind === 'station seen').map((fact) => fact.by));
    expect([...by].toSorted()).toEqual(Object.keys(firm.technicians).toSorted());
  });

  it('has parts, stock by lot on trucks and in branches, an absence and a closed day', () => {
    expect(Object.keys(firm.parts)).toHaveLength(9);
    expect(firm.parts['bait-insert']?.baitGrams).toBe(120);
    const stock = foldStock(facts);
    for (const place of [...DEMO_BRANCHES.map(({ branch }) => branch), ...Object.keys(firm.technicians)]) {
      const bait = stock.filter((line) => line.place === place && line.part === 'bait-insert');
      expect(bait.map(({ lot }) => lot !== null)).toEqual([true, true]);
    }
    expect(stock.every(({ count }) => count >= 0)).toBe(true);
    expect(firm.away).toHaveLength(1);
    expect(firm.closed).toHaveLength(1);
  });

  it('has an urgent request, a promise and hours at which one can come', () => {
    const properties = propertiesOf(7);
    expect(properties.flatMap(({ asks }) => asks).filter(({ urgent }) => urgent)).toHaveLength(1);
    expect(properties.filter(({ promise }) => promise !== null)).toHaveLength(1);
    expect(properties.filter(({ body }) => body?.visitHours != null)).toHaveLength(11);
    expect(properties.filter(({ body }) => (body?.skills ?? []).length > 0)).toHaveLength(1);
  });
});

const distance = ([x, y]: SitePoint, [ax, ay]: SitePoint): number => Math.hypot(x - ax, y - ay);

/** By the sum of angles: whether a point lies within a closed outline, its edge included by a centimetre. */
function isWithin(spot: SitePoint, outline: readonly SitePoint[]): boolean {
  let turned = 0;
  for (const [index, from] of outline.entries()) {
    const to = outline[(index + 1) % outline.length] ?? from;
    if (distanceToPath(spot, [from, to]) < 0.01) return true;
    const a = Math.atan2(from[1] - spot[1], from[0] - spot[0]);
    const b = Math.atan2(to[1] - spot[1], to[0] - spot[0]);
    turned += Math.atan2(Math.sin(b - a), Math.cos(b - a));
  }
  return Math.abs(turned) > Math.PI;
}

function distanceToPath(spot: SitePoint, path: readonly SitePoint[]): number {
  let least = Number.POSITIVE_INFINITY;
  for (const [index, to] of path.entries()) {
    const from = path[index - 1];
    if (from === undefined) continue;
    for (let step = 0; step <= 1000; step += 1) {
      const t = step / 1000;
      least = Math.min(
        least,
        distance(spot, [from[0] + (to[0] - from[0]) * t, from[1] + (to[1] - from[1]) * t]),
      );
    }
  }
  return least;
}

/** The middle of an outline and points halfway between it and its corners. */
function middles(outline: readonly SitePoint[]): readonly SitePoint[] {
  const count = outline.length;
  const middle: SitePoint = [
    outline.reduce((sum, [x]) => sum + x, 0) / count,
    outline.reduce((sum, [, y]) => sum + y, 0) / count,
  ];
  return [middle, ...outline.map(([x, y]): SitePoint => [(x + middle[0]) / 2, (y + middle[1]) / 2])];
}
