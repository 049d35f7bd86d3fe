import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  balancedRisk,
  binomialLimits,
  calibrate,
  chanceOver,
  chiSquareWithTail,
  cholesky,
  choleskyInverse,
  compareRates,
  dampingDepthMetres,
  designEffect,
  exactPoisson,
  kaplanMeier,
  leastWithin,
  logRank,
  logRankGroups,
  meanCount,
  mixCounts,
  poissonBinomial,
  poissonLimits,
  soilTemperature,
  stockNeeded,
  survivalAt,
} from '../src/index.ts';
import { createRandom } from './support/random.ts';

describe('exact interval of a rate', () => {
  it('equals the tabulated limits of Garwood (Biometrika 28, 1936; as in tables of the Poisson distribution, from memory)', () => {
    // 95 %: 0 -> 0 to 3.689, 1 -> 0.0253 to 5.572, 5 -> 1.623 to 11.668, 10 -> 4.795 to 18.390
    for (const [events, lower, upper] of [
      [0, 0, 3.689],
      [1, 0.0253, 5.572],
      [5, 1.623, 11.668],
      [10, 4.795, 18.39],
    ] as const) {
      const found = exactPoisson(events, 1, 0.95);
      expect(found?.lower).toBeCloseTo(lower, 3);
      expect(found?.upper).toBeCloseTo(upper, 3);
    }
    expect(exactPoisson(0, 0, 0.95)).toBeUndefined();
    expect(chiSquareWithTail(0.05, 10)).toBeCloseTo(18.307, 3);
  });
});

describe('rates of two years', () => {
  it('with events in clusters differ by chance no oftener than promised', () => {
    const random = createRandom(11);
    const wrong = { plain: 0, widened: 0 };
    const worlds = 1000;
    for (let world = 0; world < worlds; world += 1) {
      // 60 houses; at each colony three stations are hit at once, in either year alike.
      const houses = Array.from({ length: 60 }, () => ({
        before: random.happens(0.3) ? 3 : 0,
        now: random.happens(0.3) ? 3 : 0,
      }));
      const sum = (key: 'before' | 'now'): number => houses.reduce((all, one) => all + one[key], 0);
      const rates = [
        { events: sum('now'), exposure: 100 },
        { events: sum('before'), exposure: 100 },
      ] as const;
      const effect = designEffect(houses.map(({ now, before }) => ({ events: now, trials: now + before })));
      if ((compareRates(...rates, 0.95)?.p ?? 1) < 0.05) wrong.plain += 1;
      if ((compareRates(...rates, 0.95, effect)?.p ?? 1) < 0.05) wrong.widened += 1;
    }
    expect(wrong.plain / worlds).toBeGreaterThan(0.12);
    expect(wrong.widened / worlds).toBeLessThan(0.06);
  });
});

describe('funnel limits', () => {
  it('hold the share of simulated technicians that they promise', () => {
    const random = createRandom(4);
    const { lower, upper } = binomialLimits(0.1, 200, 0.95);
    let inside = 0;
    for (let one = 0; one < 4000; one += 1) {
      let events = 0;
      for (let trial = 0; trial < 200; trial += 1) if (random.happens(0.1)) events += 1;
      if (events / 200 >= lower && events / 200 <= upper) inside += 1;
    }
    // Interpolated limits of a coarse count: within two points of 95 %.
    expect(Math.abs(inside / 4000 - 0.95)).toBeLessThan(0.02);
  });
  it('enclose the target, narrow with trials, and come near the normal ones where trials are many', () => {
    const wide = binomialLimits(0.3, 20, 0.998);
    const narrow = binomialLimits(0.3, 5000, 0.998);
    expect(wide.lower).toBeLessThan(narrow.lower);
    expect(wide.upper).toBeGreaterThan(narrow.upper);
    const reach = 3.0902 * Math.sqrt((0.3 * 0.7) / 5000);
    expect(narrow.lower).toBeCloseTo(0.3 - reach, 3);
    expect(narrow.upper).toBeCloseTo(0.3 + reach, 3);
    const ratio = poissonLimits(2000, 0.95);
    expect(ratio.lower).toBeCloseTo(1 - 1.96 / Math.sqrt(2000), 3);
    expect(ratio.upper).toBeCloseTo(1 + 1.96 / Math.sqrt(2000), 3);
    expect(poissonLimits(0.5, 0.95)).toMatchObject({ lower: 0 });
    expect(binomialLimits(0, 10, 0.95)).toEqual({ lower: 0, upper: 0 });
  });
  it('need more trials where hits come in clusters', () => {
    const even = Array.from({ length: 50 }, () => ({ events: 2, trials: 20 }));
    expect(designEffect(even)).toBe(1);
    const clustered = Array.from({ length: 50 }, (_, n) => ({ events: n % 5 === 0 ? 10 : 0, trials: 20 }));
    // Between-cluster variance of the share over the binomial one, by hand: (50/49) x 50 x 16/(1000²) / (0.09/1000).
    expect(designEffect(clustered)).toBeCloseTo(((50 / 49) * (10 * 64 + 40 * 4)) / 1e6 / (0.09 / 1000), 9);
  });
});

describe('log-rank of groups', () => {
  it('equals the two-group test where there are two', () => {
    const watched = fc.array(fc.record({ time: fc.integer({ min: 1, max: 12 }), event: fc.boolean() }), {
      minLength: 2,
      maxLength: 30,
    });
    fc.assert(
      fc.property(watched, watched, (a, b) => {
        const two = logRank(a, b);
        const many = logRankGroups([a, b]);
        if (two === undefined) expect(many).toBeUndefined();
        else expect(many?.chiSquare).toBeCloseTo(two.chiSquare, 8);
      }),
    );
  });
  it('passes over an empty group, and says nothing of one group', () => {
    const group = [1, 3, 4].map((time) => ({ time, event: true }));
    const other = [2, 5, 6].map((time) => ({ time, event: true }));
    expect(logRankGroups([group, [], other])?.degrees).toBe(1);
    expect(logRankGroups([group])).toBeUndefined();
  });
  it('reads a curve at any time', () => {
    const curve = kaplanMeier(
      [1, 2, 3, 4].map((time) => ({ time, event: true })),
      0.95,
    );
    if (curve === undefined) throw new Error('no curve');
    expect(survivalAt(curve, 0.5).survival).toBe(1);
    expect(survivalAt(curve, 2.5).survival).toBe(0.5);
  });
});

describe('calibration', () => {
  it('finds kept promises kept, and broken ones broken', () => {
    const random = createRandom(9);
    const kept = Array.from({ length: 8000 }, () => {
      const chance = random.fraction() ** 3;
      return { chance, happened: random.happens(chance) };
    });
    const found = calibrate(kept, 10, 0.95);
    expect(found?.p).toBeGreaterThan(0.01);
    expect(
      found?.bands.filter(({ promised, seen }) => promised < seen.lower || promised > seen.upper).length,
    ).toBeLessThan(3);
    expect(found?.bands.reduce((sum, { cases }) => sum + cases, 0)).toBe(8000);
    const broken = calibrate(
      kept.map((one) => ({ ...one, chance: one.chance / 2 })),
      10,
      0.95,
    );
    expect(broken?.p).toBeLessThan(1e-6);
    expect(calibrate([], 10, 0.95)).toBeUndefined();
  });
});

describe('stock', () => {
  const halves = (count: number) => poissonBinomial(Array.from({ length: count }, () => 0.5));
  const asked = {
    overLead: halves(20),
    overCover: halves(60),
    comesInTime: 0,
    packSize: 12,
    risk: 0.05,
  };
  it('reorders at the binomial quantile of the lead time, in whole packs', () => {
    // 20 fair coins: 14 or more heads with chance 0.0577, 15 or more 0.0207 (tables of the binomial).
    const answer = stockNeeded({ ...asked, onHand: 10, onOrder: 3 });
    expect(answer.reorderPoint).toBe(14);
    expect(answer.orderUpTo).toBe(36);
    expect(answer.orderNow).toBe(24);
    expect(answer.riskNow).toBeCloseTo(0.4119, 4);
    const covered = stockNeeded({ ...asked, onHand: 10, onOrder: 3, comesInTime: 3 });
    expect(covered.riskNow).toBeCloseTo(0.0577, 4);
  });
  it('orders nothing above the point, or twice', () => {
    expect(stockNeeded({ ...asked, onHand: 15, onOrder: 0 }).orderNow).toBe(0);
    expect(stockNeeded({ ...asked, onHand: 2, onOrder: 24 }).orderNow).toBe(0);
    expect(balancedRisk(1, 19)).toBe(0.05);
  });
  it('worked example of docs/rules/load.md: chances 0.1 and 0.4', () => {
    const counts = poissonBinomial([0.1, 0.4]);
    expect([...counts]).toEqual([0.54, 0.42, 0.04].map((chance) => expect.closeTo(chance, 12)));
    expect([leastWithin(0.05, counts), leastWithin(0.01, counts)]).toEqual([1, 2]);
  });
  it('mixes and means', () => {
    const mixed = mixCounts([
      { weight: 0.25, counts: halves(1) },
      { weight: 0.75, counts: Float64Array.of(0, 0, 1) },
    ]);
    expect([...mixed]).toEqual([0.125, 0.125, 0.75]);
    expect(meanCount(mixed)).toBe(1.625);
    expect(chanceOver(mixed, 0)).toBe(0.875);
    expect(chanceOver(mixed, 2)).toBe(0);
  });
});

describe('soil temperature', () => {
  const year = { meanCelsius: 15, amplitudeCelsius: 10, warmestDayOfYear: 200, diffusivity: 5e-7 };
  it('damping depths of a usual soil: about 0.12 m a day, 2.2 m a year, 19.1 times as deep (textbooks of soil physics; from memory)', () => {
    expect(dampingDepthMetres(5e-7, 86_400)).toBeCloseTo(0.117, 3);
    expect(dampingDepthMetres(5e-7)).toBeCloseTo(2.24, 2);
    expect(dampingDepthMetres(5e-7) / dampingDepthMetres(5e-7, 86_400)).toBeCloseTo(Math.sqrt(365.25), 9);
  });
  it('at the damping depth the wave is 1/e as high, and a radian (58 days) late', () => {
    const depth = dampingDepthMetres(5e-7);
    expect(soilTemperature(year, depth, 200 + 365.25 / (2 * Math.PI))).toBeCloseTo(15 + 10 / Math.E, 9);
    expect(soilTemperature(year, 0, 200)).toBe(25);
  });
  it('obeys the heat equation, solved step by step over three years', () => {
    // Explicit differences, 5 cm to 15 m deep; a year is enough to forget the start near the surface.
    const step = 0.05;
    const seconds = (0.4 * step * step) / year.diffusivity;
    let profile = Float64Array.from({ length: 301 }, () => 15);
    const days = 3 * 365.25;
    for (let time = 0; time < days * 86_400; time += seconds) {
      const next = Float64Array.from(profile);
      next[0] = soilTemperature(year, 0, (time + seconds) / 86_400);
      for (let at = 1; at < 300; at += 1) {
        const here = profile[at] ?? 0;
        next[at] = here + 0.4 * ((profile[at - 1] ?? 0) - 2 * here + (profile[at + 1] ?? 0));
      }
      profile = next;
    }
    for (const depth of [0.5, 1, 2])
      expect(profile[Math.round(depth / step)]).toBeCloseTo(soilTemperature(year, depth, days), 0);
  });
});

describe('Cholesky', () => {
  it('inverts, and sees that a matrix is not positive definite', () => {
    const matrix = Float64Array.of(4, 2, 0, 2, 5, 1, 0, 1, 3);
    const lower = cholesky(matrix, 3);
    if (lower === undefined) throw new Error('refused');
    const inverse = choleskyInverse(lower, 3);
    for (let a = 0; a < 3; a += 1)
      for (let b = 0; b < 3; b += 1) {
        let sum = 0;
        for (let k = 0; k < 3; k += 1) sum += (matrix[a * 3 + k] ?? 0) * (inverse[k * 3 + b] ?? 0);
        expect(sum).toBeCloseTo(a === b ? 1 : 0, 12);
      }
    expect(cholesky(Float64Array.of(1, 2, 2, 1), 2)).toBeUndefined();
  });
});
