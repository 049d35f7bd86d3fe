import { execFile } from 'node:child_process';
import { existsSync, mkdirSync, renameSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { basename, dirname, join, resolve } from 'node:path';
import { promisify } from 'node:util';
import type { Place } from '@sillwatch/trade';
import { flattenRows, type RoadSource, RoadSourceError } from './roadSource.ts';

/** A package of its own choice: nearly 300 MB of ready-made programs, for who wants roads without a service. */
const LIBRARY = '@valhallajs/valhallajs';
const MOST_PLACES = 120;
/** A place farther than this from any road of the extract is not on it. */
const FARTHEST_ROAD_METRES = 1000;

export interface RoadNetwork extends RoadSource {
  /** Driving from one place to the next by the same network, for checks: seconds and metres. */
  route(from: Place, to: Place): Promise<{ readonly seconds: number; readonly metres: number }>;
}

/** Whether the optional package is installed. */
export function hasRoadLibrary(): boolean {
  try {
    createRequire(import.meta.url).resolve(LIBRARY);
    return true;
  } catch {
    return false;
  }
}

/**
 * Roads of an OpenStreetMap extract (`.osm.pbf`) in this process. The tiles are built beside the data when the extract is
 * new: seconds for a county, many minutes for a state. Throws a RangeError that names what is missing.
 */
export async function openRoadNetwork(extract: string, folder: string): Promise<RoadNetwork> {
  if (!existsSync(extract))
    throw new RangeError(`there is no road extract ${extract}; give the path of an .osm.pbf file`);
  const library = loadLibrary();
  const { size, mtimeMs } = statSync(extract);
  const stamp = `${basename(extract)} ${size} ${Math.round(mtimeMs)}`;
  const tiles = join(resolve(folder), `road-tiles-${stamp.replaceAll(/[^\w.-]+/g, '-')}`);
  if (!existsSync(tiles)) await buildTiles(library, resolve(extract), tiles);
  const actor = new library.Actor(await configFor(library, tiles));
  return {
    source: 'road network in process',
    name: `the road network ${basename(extract)}`,
    cacheKey: `road network ${stamp}`,
    mostPlaces: MOST_PLACES,
    askTable: (origins, destinations, signal) => askTable(actor, origins, destinations, signal),
    route: async (from, to) => {
      const { trip } = await actor.route({ locations: [toLocation(from), toLocation(to)], costing: 'auto' });
      return { seconds: trip.summary.time, metres: trip.summary.length * 1000 };
    },
  };
}

async function askTable(
  actor: Actor,
  origins: readonly Place[],
  destinations: readonly Place[],
  signal: AbortSignal,
): ReturnType<RoadSource['askTable']> {
  signal.throwIfAborted();
  // One place off the map would refuse the whole question: those are left out first, and know no way.
  const isOnRoad = await findOnRoad(actor, [...origins, ...destinations]);
  const from = origins.flatMap((place, n) => (isOnRoad[n] === true ? [{ place, n }] : []));
  const to = destinations.flatMap((place, n) =>
    isOnRoad[origins.length + n] === true ? [{ place, n }] : [],
  );
  const seconds = new Int32Array(origins.length * destinations.length).fill(-1);
  const metres = seconds.slice();
  if (from.length === 0 || to.length === 0) return { seconds, metres };
  const { sources_to_targets: table } = await orExplain(() =>
    actor.matrix({
      sources: from.map(({ place }) => toLocation(place)),
      targets: to.map(({ place }) => toLocation(place)),
      costing: 'auto',
      units: 'kilometers',
      verbose: false,
    }),
  );
  const someSeconds = flattenRows(table.durations, from.length, to.length, 1, 'durations');
  const someMetres = flattenRows(table.distances, from.length, to.length, 1000, 'distances');
  from.forEach(({ n }, row) => {
    to.forEach(({ n: m }, column) => {
      seconds[n * destinations.length + m] = someSeconds[row * to.length + column] ?? -1;
      metres[n * destinations.length + m] = someMetres[row * to.length + column] ?? -1;
    });
  });
  return { seconds, metres };
}

async function findOnRoad(actor: Actor, places: readonly Place[]): Promise<readonly boolean[]> {
  const found = await orExplain(() =>
    actor.locate({ locations: places.map(toLocation), costing: 'auto', verbose: false }),
  );
  return found.map(({ edges }) => (edges?.length ?? 0) > 0);
}

async function orExplain<T>(ask: () => Promise<T>): Promise<T> {
  try {
    return await ask();
  } catch (error) {
    throw new RoadSourceError(error instanceof Error ? error.message : String(error));
  }
}

function toLocation({ latitude, longitude }: Place): Location {
  return { lat: latitude, lon: longitude, search_cutoff: FARTHEST_ROAD_METRES };
}

async function buildTiles(library: Library, extract: string, tiles: string): Promise<void> {
  const building = `${tiles}.building-${process.pid}`;
  mkdirSync(building, { recursive: true });
  try {
    const config = join(building, 'config.json');
    writeFileSync(config, JSON.stringify(await configFor(library, building)));
    const program = join(library.folder, 'bin', 'valhalla-cli.js');
    await promisify(execFile)(process.execPath, [program, 'build_tiles', '-c', config, extract], {
      // It leaves lists of its own in the working folder.
      cwd: building,
      maxBuffer: 64 * 1024 * 1024,
    });
    // Whole or not there: another process that builds the same ends with the same.
    if (!existsSync(tiles)) renameSync(building, tiles);
  } catch (error) {
    throw new RangeError(
      `the road extract ${extract} could not be made into tiles: ${error instanceof Error ? error.message.slice(0, 500) : String(error)}`,
    );
  } finally {
    rmSync(building, { recursive: true, force: true });
  }
}

/** The library's own settings (its maker of settings is a Python 3 script), with room for our questions. */
async function configFor(library: Library, tiles: string): Promise<Config> {
  try {
    const config = await library.getConfig({ tileDir: tiles });
    config.service_limits.auto.max_matrix_location_pairs = MOST_PLACES * MOST_PLACES;
    config.service_limits.auto.max_locations = 2 * MOST_PLACES;
    return { ...config, mjolnir: { ...config.mjolnir, tile_extract: '' } };
  } catch (error) {
    throw new RangeError(
      `the settings of ${LIBRARY} could not be made; it needs python3 on the PATH (${error instanceof Error ? error.message : String(error)})`,
    );
  }
}

interface Location {
  readonly lat: number;
  readonly lon: number;
  readonly search_cutoff: number;
}

/** As much of the library as is used here. */
interface Actor {
  locate(query: unknown): Promise<readonly { readonly edges: readonly unknown[] | null }[]>;
  matrix(query: unknown): Promise<{
    readonly sources_to_targets: { readonly durations: unknown; readonly distances: unknown };
  }>;
  route(query: unknown): Promise<{
    readonly trip: { readonly summary: { readonly time: number; readonly length: number } };
  }>;
}

interface Config {
  readonly mjolnir: Readonly<Record<string, unknown>>;
  readonly service_limits: {
    readonly auto: { max_matrix_location_pairs: number; max_locations: number };
  };
}

interface Library {
  readonly folder: string;
  readonly Actor: new (config: Config) => Actor;
  readonly getConfig: (options: { readonly tileDir: string }) => Promise<Config>;
}

function loadLibrary(): Library {
  const require = createRequire(import.meta.url);
  try {
    const loaded: Omit<Library, 'folder'> = require(LIBRARY);
    return { folder: dirname(require.resolve(LIBRARY)), Actor: loaded.Actor, getConfig: loaded.getConfig };
  } catch (error) {
    throw new RangeError(
      `roads in process need the optional package ${LIBRARY}: npm install ${LIBRARY} (${error instanceof Error ? error.message.split('\n')[0] : String(error)})`,
    );
  }
}
