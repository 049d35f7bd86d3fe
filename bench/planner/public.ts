/** The public instances beside this repository; `ROUTING_DATA` names another folder. */
import { existsSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import type { Problem } from '@sillwatch/planner';
import { readMultiDepot, readPeriodic, readSolomon, readTsplib } from '@sillwatch/planner/instances';

export interface Instance {
  readonly name: string;
  /** Best known cost in the units of the problem, from the manifest. */
  readonly bestKnown: number;
  readonly problem: Problem;
}

interface Entry {
  readonly family: string;
  readonly file: string;
  readonly bks_distance_dimacs?: number;
  readonly optimum?: number;
  readonly reference_cost?: number;
  readonly bks?: number;
}

const folder = process.env['ROUTING_DATA'] ?? resolve(import.meta.dirname, '../../../shared/data/routing');

export const FAMILIES = ['solomon', 'homberger', 'tsplib', 'pvrp', 'mdvrptw'] as const;
export type Family = (typeof FAMILIES)[number];

/** All instances of a family with a known best value. Throws when the folder is not there. */
export function listInstances(family: Family): readonly Instance[] {
  const manifest = join(folder, 'manifest.json');
  if (!existsSync(manifest))
    throw new Error(
      `No public routing instances in ${folder}: set ROUTING_DATA to the folder with manifest.json.`,
    );
  const entries: readonly Entry[] = JSON.parse(readFileSync(manifest, 'utf8'));
  return entries
    .filter((entry) => entry.family === family)
    .flatMap((entry) => {
      const bestKnown = findBestKnown(entry);
      if (bestKnown === 0) return [];
      const text = readFileSync(join(folder, family, entry.file), 'utf8');
      return [{ name: entry.file.replace(/\..*$/, ''), bestKnown, problem: read(family, text) }];
    });
}

function read(family: Family, text: string): Problem {
  switch (family) {
    case 'solomon':
    case 'homberger':
      return readSolomon(text);
    case 'tsplib':
      return readTsplib(text);
    case 'pvrp':
      return readPeriodic(text);
    case 'mdvrptw':
      return readMultiDepot(text);
  }
}

/** In the units of the readers: whole numbers, tenths, thousandths. 0 for files that are no instances. */
function findBestKnown(entry: Entry): number {
  if (entry.optimum !== undefined) return entry.optimum;
  if (entry.bks !== undefined) return entry.bks;
  if (entry.reference_cost !== undefined) return Math.round(1000 * entry.reference_cost);
  return Math.round(10 * (entry.bks_distance_dimacs ?? 0));
}
