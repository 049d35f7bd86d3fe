import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  chiSquareTail,
  exactBinomial,
  incompleteBeta,
  kaplanMeier,
  leastWithin,
  logGamma,
  logRank,
  normalQuantile,
  poissonBinomial,
  restrictedMean,
  sumOfCounts,
  type Watched,
} from '../src/index.ts';

const chance = fc.double({ min: 0, max: 1, noNaN: true });

describe('special functions', () => {
  it('gamma of whole and half numbers', () => {
    expect(logGamma(10)).toBeCloseTo(Math.log(362_880), 11);
    expect(logGamma(0.5)).toBeCloseTo(Math.log(Math.sqrt(Math.PI)), 12);
  });
  it('tail of chi-square at the tabulated 5 % points (NIST/SEMATECH e-Handbook 1.3.6.7.4; from memory)', () => {
    for (const [degrees, point] of [
      [1, 3.841],
      [2, 5.991],
      [5, 11.07],
      [10, 18.307],
      [30, 43.773],
    ] as const) {
      expect(chiSquareTail(point, degrees)).toBeCloseTo(0.05, 4);
    }
  });
  it('normal quantiles (NIST/SEMATECH e-Handbook 1.3.6.7.1; from memory)', () => {
    expect(normalQuantile(0.975)).toBeCloseTo(1.959_964, 6);
    expect(normalQuantile(0.025)).toBeCloseTo(-1.959_964, 6);
    expect(normalQuantile(0.95)).toBeCloseTo(1.644_854, 6);
  });
  it('incomplete beta equals the binomial tail that it stands for', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 40 }), fc.integer({ min: 1, max: 40 }), chance, (k, more, p) => {
        const n = k + more - 1;
        let tail = 0;
        for (let j = k; j <= n; j += 1)
          tail +=
            Math.exp(logGamma(n + 1) - logGamma(j + 1) - logGamma(n - j + 1)) * p ** j * (1 - p) ** (n - j);
        expect(incompleteBeta(p, k, n - k + 1)).toBeCloseTo(tail, 9);
      }),
    );
  });
});

describe('exact interval of a proportion', () => {
  it('of two published field studies: 18 of 19 (Webb 2017, Insects 8(3) 98), 10 of 12 (Evans 2010, J. Econ. Entomol. 103(2) 423)', () => {
    const webb = exactBinomial(18, 19, 0.95);
    expect([webb?.lower.toFixed(3), webb?.upper.toFixed(3)]).toEqual(['0.740', '0.999']);
    const evans = exactBinomial(10, 12, 0.95);
    expect([evans?.lower.toFixed(3), evans?.upper.toFixed(3)]).toEqual(['0.516', '0.979']);
  });
  it('NIST/SEMATECH e-Handbook 7.2.4.1: 4 of 20 at 90 % is 0.071354 to 0.401029 (from memory)', () => {
    const interval = exactBinomial(4, 20, 0.9);
    expect(interval?.lower).toBeCloseTo(0.071354, 5);
    expect(interval?.upper).toBeCloseTo(0.401029, 5);
  });
  it('says nothing without a trial, and 0 or 1 at the ends', () => {
    expect(exactBinomial(0, 0, 0.95)).toBeUndefined();
    // 1 - 0.025 ** (1 / n): the closed form at the end.
    expect(exactBinomial(0, 10, 0.95)).toMatchObject({ lower: 0, estimate: 0 });
    expect(exactBinomial(0, 10, 0.95)?.upper).toBeCloseTo(1 - 0.025 ** 0.1, 12);
    expect(() => exactBinomial(3, 2, 0.95)).toThrow(/from 0 to the trials/);
  });
});

describe('parts that stations need, summed exactly', () => {
  it('equals brute force over every outcome', () => {
    fc.assert(
      fc.property(fc.array(chance, { maxLength: 9 }), (chances) => {
        const expected = new Float64Array(chances.length + 1);
        for (let outcome = 0; outcome < 2 ** chances.length; outcome += 1) {
          const weight = chances.reduce((product, p, bit) => product * ((outcome >> bit) & 1 ? p : 1 - p), 1);
          const count = chances.filter((_, bit) => (outcome >> bit) & 1).length;
          expected[count] = (expected[count] ?? 0) + weight;
        }
        const got = poissonBinomial(chances);
        for (const [count, value] of expected.entries()) expect(got[count] ?? 0).toBeCloseTo(value, 12);
      }),
    );
  });
  it('is the binomial where all chances are equal', () => {
    const got = poissonBinomial(Array.from({ length: 30 }, () => 0.2));
    for (let k = 0; k <= 30; k += 1) {
      const binomial =
        Math.exp(logGamma(31) - logGamma(k + 1) - logGamma(31 - k)) * 0.2 ** k * 0.8 ** (30 - k);
      expect(got[k] ?? 0).toBeCloseTo(binomial, 12);
    }
  });
  it('sums needs of several pieces, and adds to 1', () => {
    const got = sumOfCounts([Float64Array.of(0.5, 0.3, 0.2), Float64Array.of(0.9, 0, 0.1)]);
    for (const [count, value] of [0.45, 0.27, 0.23, 0.03, 0.02].entries())
      expect(got[count]).toBeCloseTo(value, 12);
    const many = poissonBinomial(Array.from({ length: 5000 }, (_, n) => ((n * 7919) % 1000) / 4000));
    expect(many.reduce((sum, value) => sum + value, 0)).toBeCloseTo(1, 9);
  });
  it('takes the least number that keeps the promised risk', () => {
    fc.assert(
      fc.property(
        fc.array(chance, { maxLength: 40 }),
        fc.double({ min: 0.001, max: 0.5, noNaN: true }),
        (chances, risk) => {
          const counts = poissonBinomial(chances);
          const above = (number: number): number =>
            counts.slice(number + 1).reduce((sum, value) => sum + value, 0);
          const taken = leastWithin(risk, counts);
          expect(above(taken)).toBeLessThanOrEqual(risk + 1e-12);
          if (taken > 0) expect(above(taken - 1)).toBeGreaterThan(risk - 1e-12);
        },
      ),
    );
  });
});

/** Remission in weeks, Freireich et al. 1963 (Blood 21, 699-716), as tabulated in textbooks of survival analysis; values from memory. */
const TREATED: readonly Watched[] = watched(
  [6, 6, 6, 7, 10, 13, 16, 22, 23],
  [6, 9, 10, 11, 17, 19, 20, 25, 32, 32, 34, 35],
);
const PLACEBO: readonly Watched[] = watched(
  [1, 1, 2, 2, 3, 4, 4, 5, 5, 8, 8, 8, 8, 11, 11, 12, 12, 15, 17, 22, 23],
  [],
);

function watched(events: readonly number[], censored: readonly number[]): Watched[] {
  return [
    ...events.map((time) => ({ time, event: true })),
    ...censored.map((time) => ({ time, event: false })),
  ];
}

describe('time until an event', () => {
  it('Freireich’s remission data: the curve, its errors and medians as textbooks give them', () => {
    const curve = kaplanMeier(TREATED, 0.95);
    expect(
      curve?.steps.map((step) => [step.time, step.atRisk, step.events, step.survival.toFixed(4)]),
    ).toEqual([
      [6, 21, 3, '0.8571'],
      [7, 17, 1, '0.8067'],
      [10, 15, 1, '0.7529'],
      [13, 12, 1, '0.6902'],
      [16, 11, 1, '0.6275'],
      [22, 7, 1, '0.5378'],
      [23, 6, 1, '0.4482'],
    ]);
    expect(curve?.steps.map((step) => step.standardError.toFixed(4))).toEqual([
      '0.0764',
      '0.0869',
      '0.0963',
      '0.1068',
      '0.1141',
      '0.1282',
      '0.1346',
    ]);
    expect([curve?.median, kaplanMeier(PLACEBO, 0.95)?.median]).toEqual([23, 8]);
  });
  it('log-rank of the two groups: 16.79 (the same textbooks)', () => {
    const test = logRank(TREATED, PLACEBO);
    expect(test?.chiSquare).toBeCloseTo(16.79, 2);
    expect(test?.observed).toEqual([9, 21]);
    expect(test?.expected.map((value) => value.toFixed(2))).toEqual(['19.25', '10.75']);
    expect(test?.p).toBeLessThan(0.0001);
  });
  it('without censoring it is the share still waiting, and the restricted mean is the mean of capped times', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 1, max: 60 }), { minLength: 1, maxLength: 40 }),
        fc.integer({ min: 1, max: 80 }),
        (times, horizon) => {
          const curve = kaplanMeier(watched(times, []), 0.95);
          if (curve === undefined) throw new Error('no curve');
          for (const step of curve.steps)
            expect(step.survival).toBeCloseTo(
              times.filter((time) => time > step.time).length / times.length,
              10,
            );
          const capped = times.reduce((sum, time) => sum + Math.min(time, horizon), 0) / times.length;
          expect(restrictedMean(curve, horizon)).toBeCloseTo(capped, 9);
        },
      ),
    );
  });
  it('says nothing where there is nothing', () => {
    expect(kaplanMeier([], 0.95)).toBeUndefined();
    expect(logRank([], PLACEBO)).toBeUndefined();
    expect(kaplanMeier(watched([], [5, 6]), 0.95)).toMatchObject({ steps: [], median: null });
  });
});
