import { choosePartition } from './partition.ts';
import type { Routes } from './routes.ts';
import type { Sequence } from './snapshot.ts';
import type { Tables } from './tables.ts';

/** Good routes met on the way, each set of jobs once and in its cheapest order, to make a plan of. */
export interface RoutePool {
  /** Keeps the routes that were touched since the last mark. */
  readonly record: () => void;
  readonly recordAll: () => void;
  /** The plan that costs least of all that can be made of the pool, if that is less than `total`. */
  readonly combine: (total: number) => readonly Sequence[] | undefined;
}

interface Kept {
  readonly kind: number;
  readonly cost: number;
  readonly jobs: Int32Array;
  /** When it was last met. */
  readonly seen: number;
}

/** When so many are kept, the half that was not met for longest goes. */
const MOST_KEPT = 20_000;
const MOST_NODES = 2_000;
/** Two numbers under this in one double, exactly. */
const KEY = 2 ** 26;

/** Undefined where visits hang together: no route by itself can see to the days of the others. */
export function createRoutePool(tables: Tables, state: Routes): RoutePool | undefined {
  if (tables.groups.some((group) => group.jobs.length > 1)) return undefined;
  const { jobs, routes, kinds, kindOf, frozen, penalty } = tables;
  const { next, count, routeCost } = state;
  // A route with a frozen start is like no other.
  const kindOn = Int32Array.from(kindOf, (kind, r) => ((frozen[r]?.length ?? 0) > 0 ? kinds + r : kind));
  const routesOfKind = Map.groupBy(
    Array.from(kindOn, (_, r) => r),
    (r) => kindOn[r] ?? 0,
  );
  const highKey = Int32Array.from({ length: jobs }, (_, j) => mix(2 * j) % KEY);
  const lowKey = Int32Array.from({ length: jobs }, (_, j) => mix(2 * j + 1) % KEY);
  /** By kind of route. */
  const pools = new Map<number, Map<number, Kept>>();
  let size = 0;
  let now = 0;

  return {
    record: () => {
      now += 1;
      for (const r of state.touchedRoutes()) if ((count[r] ?? 0) > 0) keep(r);
      if (size > MOST_KEPT) forgetHalf();
    },
    recordAll: () => {
      now += 1;
      for (let r = 0; r < routes; r += 1) if ((count[r] ?? 0) > 0) keep(r);
    },
    combine,
  };

  function keep(r: number): void {
    const first = next[jobs + 2 * r] ?? jobs;
    let high = 0;
    let low = 0;
    for (let node = first; node < jobs; node = next[node] ?? jobs) {
      high ^= highKey[node] ?? 0;
      low ^= lowKey[node] ?? 0;
    }
    const key = high * KEY + low;
    const kind = kindOn[r] ?? 0;
    let pool = pools.get(kind);
    if (pool === undefined) {
      pool = new Map();
      pools.set(kind, pool);
    }
    const before = pool.get(key);
    const cost = routeCost[r] ?? 0;
    if (before !== undefined && before.cost <= cost) {
      if (before.seen < now) pool.set(key, { ...before, seen: now });
      return;
    }
    const list = new Int32Array(count[r] ?? 0);
    let at = 0;
    for (let node = first; node < jobs; node = next[node] ?? jobs) {
      list[at] = node;
      at += 1;
    }
    if (before === undefined) size += 1;
    pool.set(key, { kind, cost, jobs: list, seen: now });
  }

  function forgetHalf(): void {
    const seen = [...pools.values()].flatMap((pool) => [...pool.values()].map((kept) => kept.seen));
    const middle = Float64Array.from(seen).sort()[Math.floor(seen.length / 2)] ?? 0;
    for (const pool of pools.values())
      for (const [key, kept] of pool)
        if (kept.seen <= middle) {
          pool.delete(key);
          size -= 1;
        }
  }

  function combine(total: number): readonly Sequence[] | undefined {
    const usable = [...pools.values()].flatMap((pool) => [...pool.values()]);
    const rows: number[] = [];
    const from = [0];
    for (const kept of usable) {
      for (const j of kept.jobs) rows.push(j);
      from.push(rows.length);
    }
    // Any job may be left out at its penalty.
    for (let j = 0; j < jobs; j += 1) {
      rows.push(j);
      from.push(rows.length);
    }
    const chosen = choosePartition(
      {
        rows: Int32Array.from(rows),
        from: Int32Array.from(from),
        cost: Float64Array.from([...usable.map(({ cost }) => cost), ...penalty]),
        kind: Int32Array.from([...usable.map(({ kind }) => kind), ...penalty.map(() => -1)]),
        room: Int32Array.from({ length: kinds + routes }, (_, k) => routesOfKind.get(k)?.length ?? 0),
      },
      jobs,
      total,
      MOST_NODES,
    );
    const taken = new Int32Array(kinds + routes);
    return chosen?.flatMap((c): readonly Sequence[] => {
      const kept = usable[c];
      if (kept === undefined) return [];
      const at = taken[kept.kind] ?? 0;
      taken[kept.kind] = at + 1;
      return [{ route: routesOfKind.get(kept.kind)?.[at] ?? 0, jobs: Array.from(kept.jobs) }];
    });
  }
}

/** Spreads a number over 32 bits: the finisher of MurmurHash3 (A. Appleby, public domain), by its constants. */
function mix(value: number): number {
  let h = value + 0x9e3779b9;
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return (h ^ (h >>> 16)) >>> 0;
}
