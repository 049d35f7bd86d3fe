import { describe, expect, it } from 'vitest';
import { buildCosts, costOfOrder } from '../../src/walk/costs.ts';
import { improveTour } from '../../src/walk/improveTour.ts';
import { shortestWalk } from '../../src/walk/shortestWalk.ts';

/** Instances of our own whose optimum is a theorem, for machines without the TSPLIB collection. */
describe('walks with a proven length', () => {
  it('goes round points in convex position in the order of their hull', () => {
    // A shortest tour never crosses itself and so keeps the order of the hull (M. Flood 1956, "The traveling-salesman problem").
    const count = 60;
    const places = Array.from({ length: count }, (_, index) => {
      const angle = (((index * 37) % count) / count) * 2 * Math.PI;
      return { x: 90 * Math.cos(angle), y: 25 * Math.sin(angle), rank: (index * 37) % count };
    });
    const costs = buildCosts(count, (from, to) => {
      const a = places[from];
      const b = places[to];
      if (a === undefined || b === undefined) throw new Error('no such place');
      return Math.hypot(a.x - b.x, a.y - b.y);
    });
    const hull = places
      .map((_, index) => index)
      .sort((a, b) => (places[a]?.rank ?? 0) - (places[b]?.rank ?? 0));
    expect(shortestWalk(costs, 'start', { seed: 5 }).cost).toBeCloseTo(costOfOrder(costs, hull, 'start'), 6);
  });

  it('walks an even grid with no step longer than one', () => {
    const width = 8;
    const costs = buildCosts(width * width, (from, to) =>
      Math.hypot((from % width) - (to % width), Math.floor(from / width) - Math.floor(to / width)),
    );
    // 64 steps of at least 1 each; a grid with an even side has such a tour.
    const { cost } = shortestWalk(costs, 'start', { seed: 2 });
    expect(cost).toBeGreaterThanOrEqual(64 - 1e-9);
    expect(cost).toBeLessThanOrEqual(64 * 1.01);
    expect(shortestWalk(costs, 'anywhere', { seed: 2 }).cost).toBeLessThanOrEqual(63 * 1.01);
  });

  it('never makes a tour longer by searching on', () => {
    const costs = buildCosts(90, (from, to) => ((from * 7919 + to * 104_729 + from * to * 31) % 977) + 1);
    const lengths = [0, 50, 500, 5000].map((kicks) =>
      costOfOrder(costs, Array.from(improveTour(costs, { seed: 9, kicks })), 'start'),
    );
    expect(lengths).toEqual([...lengths].sort((a, b) => b - a));
    expect(lengths.at(-1)).toBeLessThan(lengths[0] ?? 0);
  });
});
