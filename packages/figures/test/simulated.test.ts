import { describe, expect, it } from 'vitest';
import { calibrate, correctSpreads, hazardAt, hazardChance } from '../src/index.ts';
import { drawWorld, firstLooks, fitOf, NESTED, TRUTH, trueEta, WORLD } from './support/hazardWorld.ts';

describe('hit risk, in worlds whose truth is known', () => {
  it.each([
    ['stations alike', WORLD.spreads, 0.87],
    ['stations as different as structures', [0.7, 0.7, 0.3], 0.84],
  ] as const)(
    'recovers what twelve worlds were drawn with, nine-in-ten intervals cover it: %s',
    (_, spreads, least) => {
      let inside = 0;
      let asked = 0;
      let insideSlopes = 0;
      const found = [0, 0, 0];
      const found0 = [0, 0, 0];
      for (let seed = 1; seed <= 12; seed += 1) {
        const world = drawWorld(seed, { ...WORLD, spreads });
        const plain = fitOf(world.rows);
        const fit = correctSpreads(world.rows, plain, NESTED, { seed, draws: 2 });
        fit.levels.forEach(({ spread }, level) => {
          found[level] = (found[level] ?? 0) + spread / 12;
          found0[level] = (found0[level] ?? 0) + (plain.levels[level]?.spread ?? 0) / 12;
        });
        for (const j of [1, 2]) {
          const error = Math.sqrt(fit.covariance[j * 3 + j] ?? 0);
          if (Math.abs((fit.coefficients[j] ?? 0) - (TRUTH[j] ?? 0)) < 1.645 * error) insideSlopes += 1;
        }
        for (let unit = 0; unit < (world.rows.nodes[0] ?? 0); unit += 1) {
          const at = hazardAt(fit, [1, 0, 0], { level: 0, node: unit });
          asked += 1;
          if (Math.abs(trueEta(world, unit) - at.eta) < 1.645 * at.standardError) inside += 1;
        }
      }
      // 24 slopes, 90 % each: 17 or fewer would come once in fifty times.
      expect(insideSlopes).toBeGreaterThan(17);
      expect(inside / asked).toBeGreaterThan(least);
      expect(inside / asked).toBeLessThan(0.95);
      // Spreads of station and structure come out within a tenth (or 0.06) of the truth, nearer than without the correction.
      for (const level of [0, 1]) {
        const truth = spreads[level] ?? 0;
        const miss = Math.abs((found[level] ?? 0) - truth);
        expect(miss).toBeLessThan(Math.max(0.06, truth / 10));
        expect(found0[level]).toBeLessThan(truth);
      }
    },
  );

  it('says chances that come true: calibrated on looks it has not seen', () => {
    const world = drawWorld(31, WORLD);
    const { rows } = world;
    const early = firstLooks(rows, 9);
    const fit = fitOf(early);
    const promises = [];
    for (let unit = 0; unit < (rows.nodes[0] ?? 0); unit += 1) {
      for (let look = 9; look < 12; look += 1) {
        const row = unit * 12 + look;
        const at = hazardAt(fit, rows.x.subarray(row * 3, row * 3 + 3), { level: 0, node: unit });
        promises.push({ chance: hazardChance(at, 0.9).chance, happened: rows.hit[row] === 1 });
      }
    }
    const found = calibrate(promises, 8, 0.99);
    expect(found?.p).toBeGreaterThan(0.01);
    for (const band of found?.bands ?? []) {
      expect(band.promised).toBeGreaterThan(band.seen.lower);
      expect(band.promised).toBeLessThan(band.seen.upper);
    }
    expect(found?.bands.length).toBeGreaterThan(5);
  });
});
