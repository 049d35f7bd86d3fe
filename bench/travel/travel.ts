/** What travel costs a plan: near pairs, a table, questions to it, and a road network where one is at hand. */
import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { greatCircleTable, nearPlaces, tableTravel } from '@sillwatch/rounds';
import type { Place } from '@sillwatch/trade';
import { openTravelCache } from '../../apps/server/src/travel/cache.ts';
import { prepareTravel } from '../../apps/server/src/travel/prepareTravel.ts';
import { hasRoadLibrary, openRoadNetwork } from '../../apps/server/src/travel/roadNetwork.ts';

const PLACES = 3000;
const EXTRACT = fileURLToPath(new URL('../../../shared/data/roads/harrisburg.osm.pbf', import.meta.url));

/** A low-discrepancy spread (Roberts 2018, the R2 sequence), the same every time. */
function spread(count: number, south: number, west: number, high: number, wide: number): readonly Place[] {
  return Array.from({ length: count }, (_, n) => ({
    latitude: south + ((0.5 + n * 0.754_877_666_246_693) % 1) * high,
    longitude: west + ((0.5 + n * 0.569_840_290_998_053) % 1) * wide,
  }));
}

function time<T>(what: string, work: () => T): T {
  const begun = performance.now();
  const result = work();
  process.stdout.write(`${what}: ${(performance.now() - begun).toFixed(1)} ms\n`);
  return result;
}

const places = spread(PLACES, 31, -48, 0.6, 0.7);
const near = time(`60 nearest of each of ${PLACES} places`, () => nearPlaces(places, 60));
if (near.some((list) => list.length !== 60)) throw new Error('a place has not its 60 nearest');
const travel = time('great circle, made ready', () => tableTravel(greatCircleTable(places))(places));
let sum = 0;
time('a million questions to it', () => {
  for (let n = 0; n < 1_000_000; n += 1) sum += travel.seconds(n % PLACES, (n * 7919) % PLACES);
});
if (sum <= 0) throw new Error('no seconds at all');

if (!existsSync(EXTRACT) || !hasRoadLibrary()) {
  process.stdout.write('road network: skipped, no extract or no library here\n');
} else {
  const folder = mkdtempSync(join(tmpdir(), 'sillwatch-travel-bench-'));
  const begun = performance.now();
  const network = await openRoadNetwork(EXTRACT, folder);
  process.stdout.write(`tiles of the extract, built: ${(performance.now() - begun).toFixed(0)} ms\n`);
  const town = spread(400, 40.254, -76.862, 0.008, 0.02);
  const cache = openTravelCache(join(folder, 'travel.db'), Date.now);
  for (const round of ['asked', 'from the cache']) {
    const from = performance.now();
    const table = await prepareTravel(network, cache, {
      places: town,
      hubs: [0],
      signal: new AbortController().signal,
    });
    const milliseconds = performance.now() - from;
    process.stdout.write(
      `road network, ${table.to.length} near pairs ${round}: ${milliseconds.toFixed(0)} ms, ` +
        `${((milliseconds * 1000) / table.to.length).toFixed(0)} µs a pair\n`,
    );
  }
  cache.close();
  rmSync(folder, { recursive: true, force: true });
}
