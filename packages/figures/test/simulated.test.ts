import { describe, expect, it } from 'vitest';
import { calibrate, hazardAt, hazardChance } from '../src/index.ts';
import { drawWorld, firstLooks, fitOf, TRUTH, trueEta, WORLD } from './support/hazardWorld.ts';

describe('hit risk, in worlds whose truth is known', () => {
  it('recovers what twelve worlds were drawn with, and its 90 % intervals cover it about nine times in ten', () => {
    let inside = 0;
    let asked = 0;
    let insideSlopes = 0;
    const spreads: number[] = [];
    for (let seed = 1; seed <= 12; seed += 1) {
      const world = drawWorld(seed, WORLD);
      const fit = fitOf(world.rows);
      spreads.push(fit.levels[1]?.spread ?? 0);
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
    expect(inside / asked).toBeGreaterThan(0.85);
    expect(inside / asked).toBeLessThan(0.95);
    const mean = spreads.reduce((sum, one) => sum + one, 0) / spreads.length;
    expect(mean).toBeGreaterThan(0.85);
    expect(mean).toBeLessThan(1.1);
  });

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
