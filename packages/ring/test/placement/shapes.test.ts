import { describe, expect, it } from 'vitest';
import { proposeStations } from '../../src/index.ts';
import { loadRealHouses, RULES, SHAPES, seeded, withObstacles } from './support/sites.ts';
import { checkSlowly } from './support/slowChecker.ts';

const real = loadRealHouses();

describe('a proposal', () => {
  for (const [name, site] of Object.entries(SHAPES)) {
    it(`stands up to the slow checker: ${name}`, () => {
      const proposal = proposeStations(site, RULES);
      const slow = checkSlowly(site, RULES, proposal);
      expect(slow.faults).toEqual([]);
      expect(slow.unguardedMetres).toBeCloseTo(proposal.unguardedMetres, 0);
      expect(proposal.stations.length).toBeGreaterThan(0);
    });

    it(`stands up to it among obstacles: ${name}`, () => {
      for (let seed = 1; seed <= 12; seed++) {
        const crowded = withObstacles(site, seeded(seed), 1 + (seed % 6));
        const proposal = proposeStations(crowded, RULES);
        const slow = checkSlowly(crowded, RULES, proposal);
        expect(slow.faults, `seed ${seed}`).toEqual([]);
        expect(Math.abs(slow.unguardedMetres - proposal.unguardedMetres), `seed ${seed}`).toBeLessThan(
          0.1 + 0.1 * proposal.unguarded.length,
        );
      }
    });
  }

  it.skipIf(real.length === 0)(
    'stands up to it round every real outline beside the project (OpenStreetMap, ODbL); none there: nothing to try',
    () => {
      const faults = real.flatMap((site, index) => {
        const proposal = proposeStations(site, RULES);
        const slow = checkSlowly(site, RULES, proposal);
        const off = Math.abs(slow.unguardedMetres - proposal.unguardedMetres);
        return [
          ...slow.faults.map((fault) => `${index}: ${fault}`),
          ...(off > 0.1 + 0.1 * proposal.unguarded.length ? [`${index}: unguarded differs by ${off}`] : []),
        ];
      });
      expect(faults).toEqual([]);
    },
  );
});
