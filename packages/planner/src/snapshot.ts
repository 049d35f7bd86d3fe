import { isWhole } from './groups.ts';
import type { Assignment, Problem } from './problem.ts';
import type { Routes } from './routes.ts';
import type { Tables } from './tables.ts';

/** The jobs of one route in order; `route` counts shifts vehicle by vehicle. */
export interface Sequence {
  readonly route: number;
  readonly jobs: readonly number[];
}

export function takeSnapshot(tables: Tables, next: Int32Array): Int32Array {
  const { jobs, routes } = tables;
  const values: number[] = [];
  for (let r = 0; r < routes; r += 1) {
    const list: number[] = [];
    for (let node = next[jobs + 2 * r] ?? jobs; node < jobs; node = next[node] ?? jobs) list.push(node);
    if (list.length > 0) values.push(r, list.length, ...list);
  }
  return Int32Array.from(values);
}

/** Throws a RangeError for an array that is not a snapshot of the same problem. */
export function readSnapshot(tables: Tables, snapshot: Int32Array): readonly Sequence[] {
  const found: Sequence[] = [];
  for (let at = 0; at < snapshot.length; ) {
    const route = snapshot[at] ?? -1;
    const count = snapshot[at + 1] ?? 0;
    const jobs = [...snapshot.subarray(at + 2, at + 2 + count)];
    const sound =
      route >= 0 &&
      route < tables.routes &&
      count > 0 &&
      jobs.length === count &&
      jobs.every((j) => j >= 0 && j < tables.jobs);
    if (!sound)
      throw new RangeError(`snapshot: no route of this problem at entry ${at}; take one of the same problem`);
    found.push({ route, jobs });
    at += 2 + count;
  }
  return found;
}

/** Throws a RangeError for a job the problem does not have. */
export function numberRoutes(problem: Problem, assignment: Assignment): readonly Sequence[] {
  const numbers = new Map<string, number>();
  problem.vehicles.forEach(({ shifts }, vehicle) => {
    for (const { day } of shifts) numbers.set(`${vehicle} ${day}`, numbers.size);
  });
  return assignment.flatMap(({ vehicle, day, jobs }): readonly Sequence[] => {
    const unknown = jobs.find((j) => problem.jobs[j] === undefined);
    if (unknown !== undefined)
      throw new RangeError(`initial: job ${unknown} is not 0 to ${problem.jobs.length - 1}`);
    const route = numbers.get(`${vehicle} ${day}`);
    // A vehicle that no longer works that day: its jobs are placed anew.
    return route === undefined ? [] : [{ route, jobs }];
  });
}

/** Empties the routes down to their frozen starts and fills them again, leaving out each job that may not be where it is put. */
export function load(tables: Tables, state: Routes, sequences: readonly Sequence[]): void {
  const { jobs, routes, capacity, load: weight, assignCost } = tables;
  state.mark();
  for (let r = 0; r < routes; r += 1) clearRoute(tables, state, r);
  const mayJoin = (j: number, r: number): boolean =>
    state.routeOf[j] === -1 &&
    assignCost(j, r) >= 0 &&
    (state.routeLoad[r] ?? 0) + (weight[j] ?? 0) <= (capacity[r] ?? 0);
  const append = (j: number, r: number): void => state.insert(j, state.prev[jobs + 2 * r + 1] ?? 0, r);
  for (const { route: r, jobs: sequence } of sequences) {
    for (const j of sequence) if (mayJoin(j, r)) append(j, r);
    // As a whole first: a break, or a slow direct way, can make a stop reachable only together with a later one.
    if (state.refresh(r)) continue;
    clearRoute(tables, state, r);
    for (const j of sequence) {
      if (!mayJoin(j, r)) continue;
      append(j, r);
      if (state.refresh(r)) continue;
      state.take(j);
      state.refresh(r);
    }
  }
  for (const group of tables.groups) {
    if (isWhole(tables, state, group)) continue;
    for (const j of group.jobs) {
      const r = state.routeOf[j] ?? -1;
      if (r < 0 || state.isFrozen[j] === 1) continue;
      state.take(j);
      // Where the direct way is slower than a detour, a route can be late without the job: then all that may move comes out.
      if (!state.refresh(r)) clearRoute(tables, state, r);
    }
  }
  state.mark();
}

function clearRoute({ jobs }: Tables, state: Routes, r: number): void {
  let taken = 0;
  for (let node = state.next[state.tail[r] ?? 0] ?? jobs; node < jobs; ) {
    const after = state.next[node] ?? jobs;
    state.take(node);
    taken += 1;
    node = after;
  }
  if (taken > 0) state.refresh(r);
}
