import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkRounds } from './support/checkRounds.ts';
import { demoInput } from './support/demoInput.ts';
import { expectLateAsListed } from './support/expectLate.ts';
import { planBranch } from './support/planBranch.ts';

describe('a plan lived through', () => {
  it('is sound for any firm, horizon and shortage of technicians', { timeout: 120_000 }, () => {
    const days = fc.integer({ min: 7, max: 91 });
    const seeds = fc.integer({ min: 1, max: 10_000 });
    fc.assert(
      fc.property(
        seeds,
        days,
        fc.integer({ min: 0, max: 4 }),
        fc.boolean(),
        (seed, horizon, technicians, harbour) => {
          const demo = demoInput(seed, {
            days: horizon,
            properties: 24,
            branch: harbour ? 'branch-harbour' : 'branch-upland',
          });
          const firm = {
            ...demo.input.firm,
            technicians: Object.fromEntries(
              Object.entries(demo.input.firm.technicians).slice(0, technicians),
            ),
          };
          const input = { ...demo.input, firm };
          const { rounds } = planBranch(input, 200);
          expect(checkRounds(input, rounds)).toEqual([]);
          expectLateAsListed(demo, input, rounds);
        },
      ),
      { numRuns: 24, seed: 20_261_125 },
    );
  });
});
