import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { leavingRate, leavingTime, type SeenAgain, stayChance } from '../src/index.ts';

describe('when termites leave', () => {
  const look = fc
    .record({
      from: fc.integer({ min: 0, max: 40 }),
      weeks: fc.integer({ min: 1, max: 30 }),
      stayed: fc.integer({ min: 0, max: 50 }),
      left: fc.integer({ min: 0, max: 50 }),
    })
    .map(({ from, weeks, stayed, left }) => ({ from: 7 * from, to: 7 * (from + weeks), stayed, left }));
  const prior = { from: 0, to: 45, stayed: 2, left: 1 };

  it('makes the looks likelier than any time near it does', () => {
    fc.assert(
      fc.property(fc.array(look, { minLength: 1, maxLength: 8 }), (drawn) => {
        const looks = [...drawn, prior];
        const found = leavingTime(looks);
        const best = worth(looks, found);
        for (const shape of [0.9, 0.98, 1, 1.02, 1.1])
          for (const scale of [0.9, 0.98, 1.02, 1.1]) {
            const near = { shape: shape * found.shape, scale: scale * found.scale };
            expect(worth(looks, near)).toBeLessThanOrEqual(best + 1e-6);
          }
      }),
      { numRuns: 200 },
    );
  });

  it('is an exponential time while looks tell no shape', () => {
    const found = leavingTime([prior]);
    expect(found.shape).toBeCloseTo(1, 4);
    expect(stayChance(found, 0, 45)).toBeCloseTo(2 / 3, 4);
    expect(stayChance(found, 90, 135)).toBeCloseTo(stayChance(found, 0, 45), 3);
    expect(1 / found.scale).toBeCloseTo(leavingRate([{ days: 45, stayed: 2, left: 1 }]), 4);
  });

  it('finds that they leave the sooner the longer they are there', () => {
    // Out of 1,000 that leave between day 50 and day 260, each day as likely as any other.
    const there = (day: number): number => 1000 * Math.min(1, Math.max(0, (260 - day) / 210));
    const looks = [0, 40, 90, 180].map((from, at): SeenAgain => {
      const to = [40, 90, 180, 270][at] ?? 0;
      return { from, to, stayed: Math.round(there(to)), left: Math.round(there(from) - there(to)) };
    });
    const found = leavingTime(looks);
    expect(found.shape).toBeGreaterThan(2);
    expect(stayChance(found, 0, 40)).toBeGreaterThan(0.95);
    expect(stayChance(found, 180, 270)).toBeLessThan(0.15);
    expect(stayChance(found, 90, 90)).toBe(1);
  });

  it('refuses looks before they came', () => {
    expect(() => leavingTime([{ ...prior, from: -7 }])).toThrow(/after they came/);
  });
});

function worth(
  looks: readonly SeenAgain[],
  time: { readonly shape: number; readonly scale: number },
): number {
  return looks.reduce(
    (sum, { from, to, stayed, left }) => {
      const chance = stayChance(time, from, to);
      return sum + stayed * Math.log(chance) + (left === 0 ? 0 : left * Math.log1p(-chance));
    },
    -0.5 * (Math.log(time.shape) / 0.5) ** 2,
  );
}
