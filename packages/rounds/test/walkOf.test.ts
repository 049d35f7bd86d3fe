import { type AnyFact, foldProperty, type SiteBody } from '@sillwatch/trade';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { NoSuchStart, siteOf, walkOf } from '../src/index.ts';
import { bodyFact, HOUSE, installed, SURROUNDINGS } from './support/drawnHouse.ts';

/** A house of 12 m by 8 m in a fenced yard; the truck stands south of it, the only gate is in the north. */
function yard(site: SiteBody | null, ...more: readonly AnyFact[]) {
  return foldProperty([
    bodyFact('structure added', null, HOUSE, 1),
    installed('south', 1, [6, -0.5], 2),
    installed('east', 2, [12.5, 4], 3),
    installed('north', 3, [6, 8.5], 4),
    installed('west', 4, [-0.5, 4], 5),
    installed('unplaced', 5, null, 6),
    ...(site === null ? [] : [bodyFact('site drawn', null, site, 7)]),
    ...more,
  ]);
}
const ALL = ['south', 'east', 'north', 'west'];

describe('the walk through a property', () => {
  it('goes once round the house, and comes back when it is closed', () => {
    const property = yard(null);
    const open = walkOf(property, ALL, { closed: false });
    expect(open.start).toEqual({ from: { kind: 'station', id: 'south' }, at: { x: 6, y: -0.5 } });
    expect([
      ['south', 'east', 'north', 'west'],
      ['south', 'west', 'north', 'east'],
    ]).toContainEqual(open.order);
    const closed = walkOf(property, ALL, { closed: true });
    expect(closed.legs).toHaveLength(open.legs.length + 1);
    expect(closed.lengthMetres).toBeGreaterThan(open.lengthMetres);
    // Each corner of the house is rounded: two straight halves a corner, 6.5 by 4.5 m less half a metre off the wall.
    const corner = Math.hypot(0.5, 4) + Math.hypot(6, 0.5);
    expect(closed.lengthMetres).toBeGreaterThan(4 * corner - 0.01);
    expect(closed.lengthMetres).toBeLessThan(4 * corner + 0.2);
    expect(closed.isExact).toBe(true);
  });

  it('begins at the truck and passes the fence by its gate', () => {
    const property = yard(SURROUNDINGS);
    const walk = walkOf(property, ['south'], { closed: false });
    expect(walk.start?.from).toEqual({ kind: 'parking' });
    const [gate] = SURROUNDINGS.gates;
    const passes = walk.legs.some(({ points }) =>
      points.some(({ x, y }) => Math.hypot(x - (gate?.at[0] ?? 0), y - (gate?.at[1] ?? 0)) < 1),
    );
    expect(passes).toBe(true);
    // The truck is 6 m from the station as the crow flies; the way round is many times that.
    expect(walk.lengthMetres).toBeGreaterThan(30);
  });

  it('begins at the gate that makes it shortest when no truck is drawn', () => {
    const two = {
      ...SURROUNDINGS,
      parking: null,
      gates: [...SURROUNDINGS.gates, { id: 'front', at: [6, -4] as const, widthMetres: 1 }],
    };
    const walk = walkOf(yard(two), ['south'], { closed: false });
    expect(walk.start?.from).toEqual({ kind: 'gate', id: 'front' });
    expect(walk.lengthMetres).toBeCloseTo(3.5, 6);
    expect(walkOf(yard(two), ['north'], { closed: false }).start?.from).toEqual({ kind: 'gate', id: 'back' });
  });

  it('names every station that it cannot lead to, and why', () => {
    const locked = yard({ ...SURROUNDINGS, gates: [] });
    const walk = walkOf(locked, [...ALL, 'unplaced', 'nobody’s'], { closed: false });
    expect(walk.order).toEqual([]);
    expect(walk.offWalk).toEqual([
      { station: 'south', why: 'no way' },
      { station: 'east', why: 'no way' },
      { station: 'north', why: 'no way' },
      { station: 'west', why: 'no way' },
      { station: 'unplaced', why: 'not drawn' },
      { station: 'nobody’s', why: 'not drawn' },
    ]);
    expect(walkOf(locked, [], { closed: true })).toMatchObject({ order: [], legs: [], lengthMetres: 0 });
  });

  it('refuses a start that is not on the drawing', () => {
    for (const from of [
      { kind: 'parking' },
      { kind: 'gate', id: 'none' },
      { kind: 'station', id: 'unplaced' },
    ] as const)
      expect(() => walkOf(yard(null), ALL, { from, closed: true })).toThrow(NoSuchStart);
    expect(
      walkOf(yard(null), ALL, { from: { kind: 'place', at: { x: 6, y: -3 } }, closed: true }).order,
    ).toHaveLength(4);
  });

  it('tells of each station exactly once, in whatever order they are asked for', () => {
    const property = yard(SURROUNDINGS);
    const ids = [...ALL, 'unplaced'];
    fc.assert(
      fc.property(fc.shuffledSubarray(ids, { minLength: 1 }), fc.boolean(), (asked, closed) => {
        const walk = walkOf(property, asked, { closed });
        expect([...walk.order, ...walk.offWalk.map(({ station }) => station)].toSorted()).toEqual(
          asked.toSorted(),
        );
        expect(walk.lengthMetres).toBeCloseTo(
          walkOf(property, asked.toReversed(), { closed }).lengthMetres,
          9,
        );
      }),
      { numRuns: 50 },
    );
  });

  it('walks on the drawing that siteOf gives', () => {
    const site = siteOf(yard(SURROUNDINGS));
    expect(site.parking).toEqual({ x: 6, y: -6.5 });
    expect(site.stations.map(({ structureId }) => structureId)).toEqual(['house', 'house', 'house', 'house']);
  });
});
