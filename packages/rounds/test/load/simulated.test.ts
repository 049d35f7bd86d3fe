import { expect, it } from 'vitest';
import { TODAY } from '../support/demoFirm.ts';
import { tryLoads } from '../support/loadTrial.ts';

it('parts run out as seldom as promised: a year of the demo firm’s rounds, each loaded from the facts before its quarter', () => {
  const rounds = tryLoads({
    seed: 3,
    properties: 80,
    today: TODAY,
    fromMonthsAgo: 12,
    step: 3,
    visitsInRound: 4,
    chance: 0.05,
  });
  expect(rounds.length).toBeGreaterThan(80);
  const parts = new Map<
    string,
    { short: number; promised: number; variance: number; used: number; expected: number }
  >();
  for (const { load, used } of rounds) {
    expect(load.leftOut).toEqual([]);
    for (const { part, take, chanceShort, expected } of load.parts) {
      expect(chanceShort).toBeLessThanOrEqual(0.05);
      const of = parts.get(part) ?? { short: 0, promised: 0, variance: 0, used: 0, expected: 0 };
      parts.set(part, of);
      of.promised += chanceShort;
      of.variance += chanceShort * (1 - chanceShort);
      of.expected += expected;
      of.used += used.get(part) ?? 0;
      if ((used.get(part) ?? 0) > take) of.short += 1;
    }
  }
  expect(parts.size).toBeGreaterThan(6);
  for (const [part, { short, promised, variance, used, expected }] of parts) {
    // Nine parts, three standard deviations: chance would break this once in forty times.
    expect(short, part).toBeLessThan(promised + 3 * Math.sqrt(variance));
    if (expected < 100) continue;
    expect(used / expected, part).toBeGreaterThan(0.75);
    expect(used / expected, part).toBeLessThan(1.35);
  }
}, 300_000);
