/** The public instances beside this repository; `ROUTING_DATA` names another folder. */
import { existsSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import type { Problem } from '@sillwatch/planner';
import { readSolomon, readTsplib } from '@sillwatch/planner/instances';

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
}

const folder = process.env['ROUTING_DATA'] ?? resolve(import.meta.dirname, '../../../shared/data/routing');

export type Family = 'solomon' | 'homberger' | 'tsplib';

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
      const bestKnown = entry.optimum ?? Math.round(10 * (entry.bks_distance_dimacs ?? 0));
      if (bestKnown === 0) return [];
      const text = readFileSync(join(folder, family, entry.file), 'utf8');
      const problem = family === 'tsplib' ? readTsplib(text) : readSolomon(text);
      return [{ name: entry.file.replace(/\..*$/, ''), bestKnown, problem }];
    });
}
