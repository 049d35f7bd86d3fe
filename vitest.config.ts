import { defineConfig } from 'vitest/config';

/** Pure rooms run in `npm run check`; the rest needs files, databases or a browser and runs in `npm test`. */
const pureRooms = ['trade', 'ring', 'planner', 'figures', 'rounds'];

/** Long proofs of pure rooms (exact solvers, hundreds of real outlines): too slow for `npm run check`, part of `npm test`. */
const proofs = ['exact', 'shapes', 'realHouses', 'everyCombination', 'simulated'].map(
  (name) => `packages/*/test/**/${name}.test.ts`,
);

/** Checks that run R live: they need a program of the machine. */
const againstR = 'packages/*/test/**/againstR.test.ts';

/** The phone's store and sync against a real server in this process: files and databases, no browser. */
const phoneWithoutBrowser = ['apps/web/test/field/{store,sync}*.test.ts'];

/** What is asked until it holds has as long as a crowded machine needs; alone, a second would do (and is vitest's default). */
const patience = { poll: { timeout: 30_000 } };

export default defineConfig({
  test: {
    testTimeout: 60_000,
    hookTimeout: 60_000,
    projects: [
      {
        test: {
          name: 'pure',
          include: [
            ...pureRooms.map((room) => `packages/${room}/test/**/*.test.ts`),
            'tools/test/**/*.test.ts',
          ],
          exclude: [...proofs, againstR],
          testTimeout: 60_000,
        },
      },
      { test: { name: 'proofs', include: proofs, testTimeout: 120_000 } },
      {
        test: {
          name: 'effects',
          include: [
            'packages/ledger/test/**/*.test.ts',
            'packages/paper/test/**/*.test.ts',
            'apps/server/test/**/*.test.ts',
            'apps/cli/test/**/*.test.ts',
            'demo/test/**/*.test.ts',
            ...phoneWithoutBrowser,
            againstR,
          ],
          testTimeout: 120_000,
          hookTimeout: 120_000,
          expect: patience,
        },
      },
      {
        test: {
          name: 'browser',
          include: ['apps/web/test/**/*.test.ts'],
          exclude: phoneWithoutBrowser,
          testTimeout: 180_000,
          hookTimeout: 180_000,
          expect: patience,
        },
      },
    ],
  },
});
