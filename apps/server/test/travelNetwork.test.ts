import { existsSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { greatCircleMetres, tableTravel } from '@sillwatch/rounds';
import type { Place } from '@sillwatch/trade';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openTravelCache } from '../src/travel/cache.ts';
import { prepareTravel } from '../src/travel/prepareTravel.ts';
import { hasRoadLibrary, openRoadNetwork, type RoadNetwork } from '../src/travel/roadNetwork.ts';

/** ODbL 1.0, (c) OpenStreetMap contributors; not part of the project's own files. */
const EXTRACT = fileURLToPath(new URL('../../../../shared/data/roads/harrisburg.osm.pbf', import.meta.url));
const missing = !existsSync(EXTRACT)
  ? 'the folder of road extracts is not here'
  : hasRoadLibrary()
    ? undefined
    : 'the optional package @valhallajs/valhallajs is not installed (docs/how-to/use-road-travel.md)';

describe.skipIf(missing !== undefined)(
  `travel by a road network in process${missing === undefined ? '' : `: skipped, ${missing}`}`,
  () => {
    const folder = mkdtempSync(join(tmpdir(), 'sillwatch-roads-'));
    let network: RoadNetwork;
    let places: readonly Place[];
    const signal = new AbortController().signal;

    beforeAll(async () => {
      network = await openRoadNetwork(EXTRACT, folder);
      places = Array.from({ length: 40 }, (_, n) => ({
        latitude: 40.2545 + ((n * 37) % 41) / 6000,
        longitude: -76.858 + ((n * 53) % 43) / 3000,
      }));
    }, 120_000);
    afterAll(() => rmSync(folder, { recursive: true, force: true }));

    it('builds its tiles once', async () => {
      const before = readdirSync(folder);
      expect(before).toHaveLength(1);
      await openRoadNetwork(EXTRACT, folder);
      expect(readdirSync(folder)).toEqual(before);
    });

    it("agrees with the network's own route of most pairs and keeps the triangle inequality in nearly all", async () => {
      const answer = await network.askTable(places, places, signal);
      const seconds = (from: number, to: number): number => answer.seconds[from * 40 + to] ?? -1;
      let known = 0;
      let agreeing = 0;
      for (let n = 0; n < 40; n += 1) {
        const from = (n * 7) % 40;
        const to = (n * 11 + 3) % 40;
        if (from === to || seconds(from, to) < 0) continue;
        known += 1;
        const route = await network.route(places[from] ?? HERE, places[to] ?? HERE);
        const isNear = (a: number, b: number, slack: number): boolean => Math.abs(a - b) <= slack + b * 0.02;
        if (
          isNear(seconds(from, to), route.seconds, 2) &&
          isNear(answer.metres[from * 40 + to] ?? 0, route.metres, 20)
        )
          agreeing += 1;
      }
      expect(known).toBeGreaterThan(30);
      // A route leaves in the direction that the side of a divided road allows; a table may turn there. Measured: 30 of 40 agree.
      expect(agreeing / known).toBeGreaterThan(0.7);
      let triangles = 0;
      let kept = 0;
      for (let a = 0; a < 40; a += 1)
        for (let b = 0; b < 40; b += 1)
          for (let c = 0; c < 40; c += 3) {
            if (seconds(a, b) < 0 || seconds(b, c) < 0 || seconds(a, c) < 0) continue;
            triangles += 1;
            if (seconds(a, c) <= seconds(a, b) + seconds(b, c) + 5) kept += 1;
          }
      expect(triangles).toBeGreaterThan(1000);
      // Not all: who stops on the way may turn round there, who passes may not.
      expect(kept / triangles).toBeGreaterThan(0.97);
    });

    it('is no shorter than the great circle between the ends of the road, and fills a whole table', async () => {
      const table = await prepareTravel(network, openTravelCache(':memory:', Date.now), {
        places,
        hubs: [0],
        signal,
      });
      expect(table.source).toBe('road network in process');
      const travel = tableTravel(table)(places);
      let shorter = 0;
      let pairs = 0;
      for (let from = 0; from < 40; from += 1)
        for (let to = 0; to < 40; to += 1) {
          if (from === to) continue;
          pairs += 1;
          // Both ends are moved to the nearest road, up to some hundred metres.
          const straight = greatCircleMetres(places[from] ?? HERE, places[to] ?? HERE);
          if (travel.metres(from, to) < straight - 300) shorter += 1;
        }
      expect(shorter / pairs).toBeLessThan(0.02);
    });

    it('knows no way to the ocean, and says so instead of failing', async () => {
      const answer = await network.askTable(
        places.slice(0, 2),
        [{ latitude: 31.2, longitude: -47.6 }, places[2] ?? HERE],
        signal,
      );
      expect([answer.seconds[0], answer.seconds[2]]).toEqual([-1, -1]);
      expect(answer.seconds[1]).toBeGreaterThanOrEqual(0);
    });
  },
);

const HERE: Place = { latitude: 0, longitude: 0 };
