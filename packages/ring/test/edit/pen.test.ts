import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  closePen,
  closureOf,
  guidesFrom,
  guidesRound,
  NO_PEN,
  type Pen,
  penRuns,
  penTo,
  type Site,
  snap,
} from '../../src/index.ts';
import { houseOf, rectangle, SHAPES } from '../placement/support/sites.ts';

const FOOT = 0.3048;

function drawn(text: string, pen: Pen = NO_PEN): Pen {
  const result = penRuns(pen, text, 'ft');
  if (!result.ok) throw new Error(result.refusal.message);
  return result.pen;
}

describe('an outline drawn by typed lengths', () => {
  it('goes on from the last wall, so that a turn may come first', () => {
    const one = drawn(`40' east`);
    const two = drawn(`20' left`, one);
    expect(two.corners[2]?.x).toBeCloseTo(40 * FOOT, 9);
    expect(two.corners[2]?.y).toBeCloseTo(20 * FOOT, 9);
    expect(penRuns(NO_PEN, `20' left`, 'ft')).toMatchObject({ refusal: { fault: 'turn before any run' } });
  });

  it('mixes with corners that were pointed at', () => {
    const pointed = penTo(drawn(`10 m east`), { x: 10, y: 6 });
    if (!pointed.ok) throw new Error(pointed.fault);
    const corners = drawn('10 m left', pointed.pen).corners;
    expect(corners.at(-1)?.x).toBeCloseTo(0, 9);
    expect(corners.at(-1)?.y).toBeCloseTo(6, 9);
  });

  it('closes with one more wall, or where the pen came back to the first corner', () => {
    const three = drawn('10 m east, 6 m south, 10 m west');
    expect(closePen(three, 'wall')).toEqual({ ok: true, outline: three.corners });
    const back = drawn('6 m north', three);
    expect(closePen(back, 'spread')).toMatchObject({ ok: true });
    const closed = closePen(back, 'wall');
    expect(closed.ok && closed.outline).toHaveLength(4);
    expect(closePen(drawn('10 m east'), 'wall')).toEqual({ ok: false, fault: 'too few corners' });
    expect(closePen(drawn('10 m east, 6 m south, 10 m east, 6 m north'), 'spread')).toEqual({
      ok: false,
      fault: 'does not close',
    });
  });

  /**
   * Open Access Surveying Library (J. Mahun), Traverse Computations, chapter E, figure E-6: adjusted latitudes and departures as
   * printed, in feet. The same example as in traverse.test.ts, here wall by wall through the pen.
   */
  it('spreads the gap as the handbook does', () => {
    const pen = [
      `S 68°05'35"W 472.68 ft`,
      `N 19°46'00"W 216.13 ft`,
      `N 45°55'20"E 276.52 ft`,
      `S 54°59'15"E 382.24 ft`,
    ].reduce((corners, wall) => drawn(wall, corners), NO_PEN);
    const closure = closureOf(pen);
    expect((closure?.perimeterMetres ?? 0) / FOOT).toBeCloseTo(1347.57, 6);
    expect(Math.abs((closure?.northMetres ?? 0) / FOOT - 0.083)).toBeLessThan(0.002);
    const closed = closePen(pen, 'spread');
    if (!closed.ok) throw new Error(closed.fault);
    const steps = [
      [-176.386, -438.574],
      [203.382, -73.105],
      [192.34, 198.635],
      [-219.336, 313.044],
    ] as const;
    steps.forEach(([north, east], index) => {
      const from = closed.outline[index];
      const to = closed.outline[(index + 1) % 4];
      if (from === undefined || to === undefined) throw new Error('four corners');
      expect(Math.abs((to.y - from.y) / FOOT - north)).toBeLessThan(0.0011);
      expect(Math.abs((to.x - from.x) / FOOT - east)).toBeLessThan(0.0011);
    });
  });
});

describe('snap', () => {
  const house = houseOf(rectangle(0, 0, 10, 8));
  const ask = (x: number, y: number, more: Partial<Parameters<typeof snap>[1]> = {}) =>
    snap({ x, y }, { site: house, reachMetres: 0.3, stepMetres: 0.01, guides: [], ...more });

  it('prefers a corner, then guides, then a wall, then a whole length', () => {
    expect(ask(10.1, 8.1)).toMatchObject({ at: { x: 10, y: 8 }, to: ['corner'] });
    expect(ask(4, 8.2)).toMatchObject({ at: { x: 4, y: 8 }, to: ['wall'] });
    expect(ask(20.0049, 3)).toMatchObject({ to: ['whole length'] });
    const guides = guidesFrom({ x: 20, y: 0 }, { x: 26, y: 0 });
    const right = ask(26.12, 4.004, { guides });
    expect(right.to[0]).toBe('right angle');
    expect(right.at.x).toBeCloseTo(26, 9);
    expect(right.at.y).toBeCloseTo(4, 9);
  });

  it('finds the corner that makes two right angles', () => {
    const corners = [
      { x: 20, y: 0 },
      { x: 26, y: 0 },
      { x: 26.1, y: 4.1 },
      { x: 20, y: 4 },
    ];
    const found = ask(26.1, 4.1, { guides: guidesRound({ points: corners, isClosed: true }, 2) });
    expect(found.at.x).toBeCloseTo(26, 9);
    expect(found.at.y).toBeCloseTo(4, 9);
    expect(found.guides).toHaveLength(2);
  });

  it('never moves a place farther than its reach', () => {
    const near = fc.double({ min: -3, max: 16, noNaN: true });
    const sites: readonly Site[] = [
      house,
      ...['ell', 'bay', 'round', 'courtyard'].flatMap((name) => SHAPES[name] ?? []),
    ];
    fc.assert(
      fc.property(
        near,
        near,
        fc.double({ min: 0, max: 2, noNaN: true }),
        fc.constantFrom(0, 0.0254, 0.01, 1),
        fc.constantFrom(...sites),
        fc.option(fc.record({ x: near, y: near }), { nil: undefined }),
        fc.nat(9),
        (x, y, reachMetres, stepMetres, site, from, index) => {
          const ring = { points: site.structures[0]?.outline ?? [], isClosed: true };
          const guides = [...guidesRound(ring, index), ...guidesFrom(ring.points[0], from)];
          const question = { site, reachMetres, stepMetres, guides, ...(from === undefined ? {} : { from }) };
          const { at } = snap({ x, y }, question);
          expect(Math.hypot(at.x - x, at.y - y)).toBeLessThanOrEqual(reachMetres + 1e-12);
        },
      ),
      { numRuns: 500 },
    );
  });
});
