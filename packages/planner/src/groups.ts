import type { Problem } from './problem.ts';
import type { Routes } from './routes.ts';
import type { Tables } from './tables.ts';

/** A group laid out for the search; only patterns whose days have a route that may take the visit. */
export interface GroupTable {
  readonly jobs: Int32Array;
  readonly patterns: readonly Int32Array[];
  /** 1 on each day that is in one of the patterns. */
  readonly days: Uint8Array;
  /** Members that differ in nothing: what one costs on a day, the others do too. */
  readonly alike: boolean;
  /** May be left out: a member has a penalty of its own. */
  readonly optional: boolean;
}

/** `mayTake(job, day)` asks whether any route of the day may take the job. */
export function createGroups(
  problem: Problem,
  mayTake: (job: number, day: number) => boolean,
): readonly GroupTable[] {
  return (problem.groups ?? []).map(({ jobs, patterns }) => {
    const possible = patterns
      .filter((pattern) => jobs.every((j, k) => mayTake(j, pattern[k] ?? -1)))
      .map((pattern) => Int32Array.from(pattern));
    const days = new Uint8Array(problem.days);
    for (const pattern of possible) for (const day of pattern) days[day] = 1;
    return {
      jobs: Int32Array.from(jobs),
      patterns: possible,
      days,
      alike: new Set(jobs.map((j) => JSON.stringify({ ...problem.jobs[j], name: '' }))).size === 1,
      optional: jobs.some((j) => problem.jobs[j]?.penalty !== undefined),
    };
  });
}

/** Whether the members on routes are all of them, on the days of one pattern; or none. */
export function isWhole(tables: Tables, state: Pick<Routes, 'routeOf'>, group: GroupTable): boolean {
  const on = group.jobs.map((j) => {
    const r = state.routeOf[j] ?? -1;
    return r < 0 ? -1 : (tables.dayOf[r] ?? -1);
  });
  return (
    on.every((day) => day < 0) || group.patterns.some((pattern) => pattern.every((day, k) => on[k] === day))
  );
}
