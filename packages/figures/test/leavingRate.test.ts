import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { leavingRate, type StayLooks } from '../src/index.ts';

describe('how often termites leave', () => {
  it('is the share that stayed, as a rate, where all looks lie equally far apart', () => {
    expect(leavingRate([{ days: 30, stayed: 3, left: 1 }])).toBeCloseTo(-Math.log(3 / 4) / 30, 12);
    expect(leavingRate([{ days: 1, stayed: 1, left: 999 }])).toBeCloseTo(Math.log(1000), 9);
  });

  it('makes the looks likelier than any other rate does', () => {
    const look = fc.record({
      days: fc.integer({ min: 1, max: 400 }),
      stayed: fc.integer({ min: 0, max: 50 }),
      left: fc.integer({ min: 0, max: 50 }),
    });
    fc.assert(
      fc.property(fc.array(look, { minLength: 1, maxLength: 8 }), (drawn) => {
        const looks = [...drawn, { days: 45, stayed: 2, left: 1 }];
        const rate = leavingRate(looks);
        const best = logLikelihood(looks, rate);
        for (const factor of [0.5, 0.9, 0.99, 1.01, 1.1, 2])
          expect(logLikelihood(looks, factor * rate)).toBeLessThanOrEqual(best + 1e-9);
      }),
    );
  });

  it('refuses looks that tell no rate', () => {
    expect(() => leavingRate([{ days: 30, stayed: 3, left: 0 }])).toThrow(/found them gone/);
    expect(() => leavingRate([{ days: 30, stayed: 0, left: 3 }])).toThrow(/found them there/);
    expect(() => leavingRate([{ days: 0, stayed: 3, left: 1 }])).toThrow(/some days apart/);
  });
});

function logLikelihood(looks: readonly StayLooks[], rate: number): number {
  return looks.reduce(
    (sum, { days, stayed, left }) =>
      sum - stayed * rate * days + (left === 0 ? 0 : left * Math.log(-Math.expm1(-rate * days))),
    0,
  );
}
