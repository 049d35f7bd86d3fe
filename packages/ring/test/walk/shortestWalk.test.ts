import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { buildCosts, type CostTable, costOfOrder, type WalkEnd } from '../../src/walk/costs.ts';
import { exactWalk } from '../../src/walk/exactWalk.ts';
import { shortestWalk } from '../../src/walk/shortestWalk.ts';
import { findTsplib, findTsplibTour, TSPLIB_OPTIMA } from './tsplib.ts';

/** Every order, one after the other. */
function bruteForce(costs: CostTable, end: WalkEnd): number {
  let least = Number.POSITIVE_INFINITY;
  const others = Array.from({ length: costs.size - 1 }, (_, index) => index + 1);
  const permute = (order: readonly number[], left: readonly number[]): void => {
    if (left.length === 0) {
      if (typeof end === 'number' && end !== 0 && order.at(-1) !== end) return;
      least = Math.min(least, costOfOrder(costs, order, end === 0 ? 'start' : end));
    }
    for (const place of left)
      permute(
        [...order, place],
        left.filter((other) => other !== place),
      );
  };
  permute([0], others);
  return least;
}

const anyCosts = (minSize: number, maxSize: number) =>
  fc
    .integer({ min: minSize, max: maxSize })
    .chain((size) =>
      fc
        .array(fc.integer({ min: 0, max: 1000 }), { minLength: size * size, maxLength: size * size })
        .map((values) => buildCosts(size, (from, to) => values[from * size + to] ?? 0)),
    );

const points = (size: number) =>
  fc
    .array(fc.tuple(fc.integer({ min: 0, max: 3000 }), fc.integer({ min: 0, max: 3000 })), {
      minLength: size,
      maxLength: size,
    })
    .map((places) =>
      buildCosts(size, (from, to) => {
        const [ax, ay] = places[from] ?? [0, 0];
        const [bx, by] = places[to] ?? [0, 0];
        return Math.hypot(ax - bx, ay - by);
      }),
    );

describe('exactWalk', () => {
  it('is never beaten by trying every order, closed, open, or to a given end', () => {
    fc.assert(
      fc.property(anyCosts(1, 8), fc.nat(), (costs, pick) => {
        for (const end of ['start', 'anywhere', pick % costs.size] as const) {
          const order = exactWalk(costs, end);
          expect([...order].sort((a, b) => a - b)).toEqual(Array.from({ length: costs.size }, (_, i) => i));
          expect(order[0]).toBe(0);
          if (typeof end === 'number' && end !== 0) expect(order.at(-1)).toBe(end);
          expect(costOfOrder(costs, order, end === 0 ? 'start' : end)).toBe(bruteForce(costs, end));
        }
      }),
      { numRuns: 120 },
    );
  });

  it('solves 15 stations and refuses 16', () => {
    const ring = (size: number) =>
      buildCosts(
        size,
        (a, b) => 2 * Math.sin((Math.PI * Math.min(Math.abs(a - b), size - Math.abs(a - b))) / size),
      );
    const order = exactWalk(ring(16), 'start');
    expect(costOfOrder(ring(16), order, 'start')).toBeCloseTo(32 * Math.sin(Math.PI / 16), 9);
    expect(() => exactWalk(ring(17), 'start')).toThrow(/exact up to 15/);
  });
});

describe('shortestWalk beyond the exact size', () => {
  it('finds what the exact method finds on 14 to 16 places, closed and open', () => {
    fc.assert(
      fc.property(points(14), (costs) => {
        for (const end of ['start', 'anywhere', 5] as const) {
          const exact = costOfOrder(costs, exactWalk(costs, end), end);
          // The same search with a far-off place added so that it is no longer small enough to be solved exactly.
          const searched = searchOnly(costs, end);
          expect(searched).toBeLessThanOrEqual(exact * 1.01 + 1e-9);
          expect(searched).toBeGreaterThanOrEqual(exact - 1e-9);
        }
      }),
      { numRuns: 15 },
    );
  });

  it('gives the same walk for the same seed and visits every place once', () => {
    fc.assert(
      fc.property(points(40), fc.nat(), (costs, seed) => {
        for (const end of ['start', 'anywhere', 7] as const) {
          const once = shortestWalk(costs, end, { seed, kicksPerPlace: 2 });
          expect(shortestWalk(costs, end, { seed, kicksPerPlace: 2 })).toEqual(once);
          expect(new Set(once.order).size).toBe(40);
          expect(once.order[0]).toBe(0);
          expect(once.isExact).toBe(false);
          if (end === 7) expect(once.order.at(-1)).toBe(7);
        }
      }),
      { numRuns: 20 },
    );
  });

  it('refuses an end that is no place', () => {
    expect(() =>
      shortestWalk(
        buildCosts(3, () => 1),
        3,
        { seed: 1 },
      ),
    ).toThrow(/no place 3/);
  });
});

/** Two copies of each place, no distance apart, make the instance too large to solve exactly and leave its optimum as it is. */
function searchOnly(costs: CostTable, end: WalkEnd): number {
  const { size, values } = costs;
  const doubled = buildCosts(size * 2, (a, b) => values[(a % size) * size + (b % size)] ?? 0);
  return shortestWalk(doubled, typeof end === 'number' ? end + size : end, { seed: 3 }).cost;
}

describe('TSPLIB', () => {
  for (const [name, optimum] of TSPLIB_OPTIMA) {
    const costs = findTsplib(name);
    if (costs === undefined) {
      it.skip(`${name}: the TSPLIB collection is not on this machine; bundled.test.ts holds a small one`, () => {});
      continue;
    }
    it(`${name}: within 1 % of the optimum ${optimum}`, () => {
      // The published tour measured with our costs: the distances are read and rounded as TSPLIB means them.
      const published = findTsplibTour(name);
      if (published !== undefined) expect(costOfOrder(costs, published, 'start')).toBe(optimum);
      const { cost } = shortestWalk(costs, 'start', { seed: 1 });
      expect(cost).toBeGreaterThanOrEqual(optimum);
      expect(cost).toBeLessThanOrEqual(optimum * 1.01);
    });
  }
});
