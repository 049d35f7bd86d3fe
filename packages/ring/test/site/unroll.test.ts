import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { unroll } from '../../src/index.ts';

const HOUSE = [
  { x: 0, y: 0 },
  { x: 12, y: 0 },
  { x: 12, y: 8 },
  { x: 0, y: 8 },
];

describe('unroll', () => {
  it('goes clockwise from the first corner and names the side that each wall faces', () => {
    const { lengthMetres, walls } = unroll(HOUSE, []);
    expect(lengthMetres).toBe(40);
    expect(walls).toEqual([
      { fromMetres: 0, faces: 'west' },
      { fromMetres: 8, faces: 'north' },
      { fromMetres: 20, faces: 'east' },
      { fromMetres: 28, faces: 'south' },
    ]);
  });

  it('is the same whichever way round the outline was drawn', () => {
    const other = [HOUSE[0], ...HOUSE.slice(1).reverse()].filter((corner) => corner !== undefined);
    expect(unroll(other, [{ x: 13, y: 4 }])).toEqual(unroll(HOUSE, [{ x: 13, y: 4 }]));
  });

  it('finds a place on a wall where it stands, however far off the wall it is', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.1, max: 11.9, noNaN: true }),
        fc.double({ min: 0, max: 3, noNaN: true }),
        (x, off) => {
          const [along] = unroll(HOUSE, [{ x, y: 8 + off }]).alongMetres;
          expect(along).toBeCloseTo(8 + x, 9);
        },
      ),
    );
  });

  it('refuses what is no outline', () => {
    expect(() => unroll(HOUSE.slice(0, 2), [])).toThrow(/three corners/);
  });
});
