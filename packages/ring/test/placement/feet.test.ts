import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { listFeet } from '../../src/placement/feet.ts';
import { linesRound, pointAt, wallsOf } from '../../src/placement/stationLine.ts';
import type { Outline, Structure } from '../../src/site/model.ts';
import { BLUNT, SHAPES } from './support/sites.ts';

const REACH_METRES = 0.55;

function movedBy(structures: readonly Structure[], metres: number): readonly Structure[] {
  const moved = (ring: Outline) => ring.map(({ x, y }) => ({ x: x + metres, y: y - metres }));
  return structures.map((one) => ({ ...one, outline: moved(one.outline), holes: one.holes.map(moved) }));
}

describe('the positions before a point', () => {
  it('hold the one from which the point was set off, whatever the line, as far from the origin as sites lie', () => {
    const anyLine = fc
      .record({
        site: fc.constantFrom(...Object.values(SHAPES), ...Object.values(BLUNT)),
        away: fc.constantFrom(0, 100, 5000),
        pick: fc.nat(5),
      })
      .map(({ site, away, pick }) => {
        const lines = linesRound(wallsOf(movedBy(site.structures, away)), 0.75);
        // Five kilometres off, rounding in the short edges of an arc grows to 3 mm, a fifteenth of the audit's slack.
        return { line: lines[pick % lines.length], allowedMetres: away > 100 ? 0.01 : 1e-5 };
      });
    fc.assert(
      fc.property(
        anyLine,
        fc.double({ min: 0, max: 1, noNaN: true, maxExcluded: true }),
        fc.double({ min: -0.45, max: 0.45, noNaN: true }),
        ({ line, allowedMetres }, share, shiftMetres) => {
          if (line === undefined) throw new Error('a house without a line');
          const alongMetres = share * line.lengthMetres;
          const feet = listFeet(line, pointAt(line, alongMetres, shiftMetres), REACH_METRES);
          const missed = feet.map((foot) => {
            const apart = Math.abs(foot.alongMetres - alongMetres);
            return Math.min(apart, line.lengthMetres - apart) + Math.abs(foot.shiftMetres - shiftMetres);
          });
          expect(Math.min(...missed)).toBeLessThan(allowedMetres);
        },
      ),
      { numRuns: 2000 },
    );
  });

  it('each lead back to the point', () => {
    const [line] = linesRound(wallsOf(SHAPES['narrowSlot']?.structures ?? []), 0.75);
    if (line === undefined) throw new Error('no line');
    const p = { x: 5.5, y: 10.079 };
    const feet = listFeet(line, p, REACH_METRES);
    expect(feet.length).toBe(2);
    for (const { alongMetres, shiftMetres } of feet) {
      const back = pointAt(line, alongMetres, shiftMetres);
      expect(Math.hypot(back.x - p.x, back.y - p.y)).toBeLessThan(1e-6);
    }
  });

  it('are none in an inner corner and none beyond reach', () => {
    const [line] = linesRound(wallsOf(SHAPES['ell']?.structures ?? []), 0.75);
    if (line === undefined) throw new Error('no line');
    expect(listFeet(line, { x: 6.5, y: 5.5 }, REACH_METRES)).toEqual([]);
    expect(listFeet(line, { x: 3, y: -1.4 }, REACH_METRES)).toEqual([]);
    expect(listFeet(line, { x: 3, y: -1.25 }, REACH_METRES).length).toBe(1);
  });
});
