import { describe, expect, it } from 'vitest';
import { type Point, proposeStations, type Site } from '../../src/index.ts';
import { listUnguardable } from '../../src/placement/fewest.ts';
import { survey } from '../../src/placement/proposeStations.ts';
import { loadHighs } from '../support/highs.ts';
import { houseOf, loadRealHouses, RULES, SHAPES, seeded, withObstacles } from './support/sites.ts';

const highs = await loadHighs();

/**
 * Fewest stations on one line as a set cover, put to an exact solver of others (HiGHS, npm `highs`).
 *
 * The finite set of places contains an optimum: take any best placement and push its stations forward, one after
 * another, until each meets the far end of its arc or stands a whole spacing behind the next; every station then
 * stands a whole number of spacings from an arc's end, round the line at most once per station.
 */
function fewestByHighs(
  free: readonly { readonly from: number; readonly to: number }[],
  length: number,
  spacing: number,
): number {
  if (free.length === 0) return 0;
  const isWhole = free.length === 1 && (free[0]?.to ?? 0) - (free[0]?.from ?? 0) >= length - 1e-9;
  if (isWhole) return Math.max(1, Math.ceil(length / spacing - 1e-9));
  const most = Math.ceil(length / spacing) + free.length + 1;
  const isFree = (at: number) => free.some(({ from, to }) => at >= from - 1e-7 && at <= to + 1e-7);
  const places = new Set<number>();
  for (const { from, to } of free) {
    for (const anchor of [from, to]) {
      for (let steps = -most; steps <= most; steps++) {
        const at = (((anchor + steps * spacing) % length) + length) % length;
        if (isFree(at)) places.add(Math.round(at * 1e6) / 1e6);
      }
    }
  }
  const list = [...places].toSorted((a, b) => a - b);
  const ends = list
    .flatMap((at) => [at - spacing / 2, at + spacing / 2])
    .map((at) => ((at % length) + length) % length);
  const cuts = [0, length, ...ends].toSorted((a, b) => a - b);
  const rows = new Set<string>();
  for (let index = 1; index < cuts.length; index++) {
    const from = cuts[index - 1] ?? 0;
    const to = cuts[index] ?? 0;
    if (to - from < 1e-5) continue;
    const middle = (from + to) / 2;
    const guards = list.flatMap((at, place) => {
      const apart = Math.abs(at - middle);
      return Math.min(apart, length - apart) <= spacing / 2 ? [`x${place}`] : [];
    });
    if (guards.length > 0) rows.add(`${guards.join(' + ')} >= 1`);
  }
  const names = list.map((_, index) => `x${index}`);
  const solved = highs.solve(
    `Minimize\n obj: ${names.join(' + ')}\nSubject To\n${[...rows].map((row, index) => ` c${index}: ${row}`).join('\n')}\nBinary\n ${names.join(' ')}\nEnd\n`,
  );
  expect(solved.Status).toBe('Optimal');
  return Math.round(solved.ObjectiveValue);
}

function compare(site: Site): readonly string[] {
  const around = survey(site, RULES);
  const proposal = proposeStations({ ...site, concerns: [] }, RULES);
  return around.lines.flatMap((line, index) => {
    const free = around.grounds[index]?.free ?? [];
    const exact = fewestByHighs(free, line.lengthMetres, RULES.greatestSpacingMetres);
    const ours = proposal.lines[index]?.stationCount;
    const unguardable = listUnguardable(free, line.lengthMetres, RULES.greatestSpacingMetres);
    return ours === exact
      ? []
      : [`line ${index}: ${ours} where HiGHS needs ${exact}, ${unguardable.length} gaps`];
  });
}

/** Star-shaped outlines with random reaches, from a seed. */
function randomHouse(random: () => number): Site {
  const count = 4 + Math.floor(random() * 9);
  const outline: Point[] = Array.from({ length: count }, (_, index) => {
    const angle = (2 * Math.PI * (index + 0.8 * random())) / count;
    const reach = 3 + random() * 7;
    return { x: reach * Math.cos(angle), y: reach * Math.sin(angle) };
  });
  return houseOf(outline);
}

const real = loadRealHouses();

describe('the number of stations', () => {
  it('is the least an exact solver of others finds, round 200 random outlines among obstacles (HiGHS, gap 0)', () => {
    for (let seed = 1; seed <= 200; seed++) {
      const random = seeded(seed * 7919);
      const site = withObstacles(randomHouse(random), random, seed % 7);
      expect(compare(site), `seed ${seed}`).toEqual([]);
    }
  });

  it('is the least round every shape of our own, with and without obstacles', () => {
    for (const [name, site] of Object.entries(SHAPES)) {
      for (let seed = 1; seed <= 6; seed++) {
        expect(compare(withObstacles(site, seeded(seed), seed - 1)), `${name} ${seed}`).toEqual([]);
      }
    }
  });

  it.skipIf(real.length === 0)(
    'is the least round 150 real outlines among obstacles (none there: nothing to try)',
    () => {
      real
        .filter((_, index) => index % 5 === 0)
        .slice(0, 150)
        .forEach((site, index) => {
          expect(
            compare(withObstacles(site, seeded(index + 1), 1 + (index % 5))),
            `outline ${5 * index}`,
          ).toEqual([]);
        });
    },
  );
});
