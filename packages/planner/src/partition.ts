/**
 * Routes to choose from. Column c holds the jobs `rows[from[c]]` to `rows[from[c + 1] - 1]`, all different, at `cost[c]`. `kind[c]` is the
 * sort of route it needs, -1 for none; `room[k]` routes of kind k may be used.
 */
export interface Columns {
  readonly rows: Int32Array;
  /** One entry more than there are columns. */
  readonly from: Int32Array;
  readonly cost: Float64Array;
  readonly kind: Int32Array;
  readonly room: Int32Array;
}

/** Prices from which no choice costs less than `bound`; `kept` are the columns that a choice under the limit may still hold. */
interface Prices {
  readonly ofJob: Float64Array;
  readonly ofKind: Float64Array;
  readonly bound: number;
  readonly kept: Int32Array;
}

const ROUNDS = 400;
/** So many rounds without a gain halve the step; below the least one the ascent stands still. */
const PATIENCE = 20;
const LEAST_STEP = 1e-3;
/** A gain is one that closes so much of the gap. */
const GAIN = 1e-4;
/** Sums of many prices are not exact. */
const NOISE = 1e-6;

/**
 * The cheapest choice of columns that holds each job from 0 to `jobs` - 1 exactly once and costs less than `limit`; undefined where there
 * is none, or none was found before `most` nodes were looked at. A choice that is found within them costs least of all.
 *
 * Set partitioning by a Lagrangian bound, raised by subgradients (Held, Wolfe, Crowder: Validation of subgradient optimization,
 * Mathematical Programming 6, 1974); columns too dear for it are dropped, and a depth-first search tries the rest, always at the job that
 * has the fewest columns left.
 */
export function choosePartition(
  columns: Columns,
  jobs: number,
  limit: number,
  most: number,
): readonly number[] | undefined {
  const prices = raiseBound(columns, jobs, limit);
  return prices.bound >= limit ? undefined : search(columns, jobs, limit, most, prices);
}

function raiseBound(columns: Columns, jobs: number, limit: number): Prices {
  const { rows, from, cost, kind, room } = columns;
  const ofJob = sharePrices(columns, jobs);
  const ofKind = new Float64Array(room.length);
  const rest = new Float64Array(cost.length);
  /** How often the columns that pay for themselves leave a job out, and how many routes of a kind they leave over. */
  const missing = new Float64Array(jobs);
  const spare = new Float64Array(room.length);
  let kept = Int32Array.from(cost, (_, c) => c);
  const best = { ofJob: ofJob.slice(), ofKind: ofKind.slice(), bound: Number.NEGATIVE_INFINITY };
  let scale = 1;
  let idle = 0;
  for (let round = 0; round < ROUNDS && scale >= LEAST_STEP && best.bound < limit; round += 1) {
    const value = relax();
    if (value > best.bound) {
      idle = value > best.bound + GAIN * (limit - best.bound) ? 0 : idle + 1;
      best.bound = value;
      best.ofJob.set(ofJob);
      best.ofKind.set(ofKind);
      kept = kept.filter((c) => value + Math.max(0, rest[c] ?? 0) < limit);
    } else idle += 1;
    if (idle < PATIENCE) {
      if (!follow(value)) break;
    } else {
      scale /= 2;
      idle = 0;
      ofJob.set(best.ofJob);
      ofKind.set(best.ofKind);
    }
  }
  return { ...best, kept };

  /** What the columns cost at these prices if each may be used at will: a bound. */
  function relax(): number {
    let value = 0;
    for (const price of ofJob) value += price;
    room.forEach((routes, k) => {
      value -= (ofKind[k] ?? 0) * routes;
      spare[k] = routes;
    });
    missing.fill(1);
    for (const c of kept) {
      const beyond = priceOut(columns, c, ofJob, ofKind);
      rest[c] = beyond;
      if (beyond >= 0) continue;
      value += beyond;
      const end = from[c + 1] ?? 0;
      for (let i = from[c] ?? 0; i < end; i += 1) {
        const j = rows[i] ?? 0;
        missing[j] = (missing[j] ?? 0) - 1;
      }
      const k = kind[c] ?? -1;
      if (k >= 0) spare[k] = (spare[k] ?? 0) - 1;
    }
    return value;
  }

  /** Raises the prices of what is left out and lowers those of what is held twice; false where nothing is. */
  function follow(value: number): boolean {
    let length = 0;
    for (const much of missing) length += much * much;
    for (let k = 0; k < room.length; k += 1)
      if ((spare[k] ?? 0) < 0 || (ofKind[k] ?? 0) > 0) length += (spare[k] ?? 0) ** 2;
    if (length === 0) return false;
    const step = (scale * Math.max(limit - value, 1)) / length;
    for (let j = 0; j < jobs; j += 1) ofJob[j] = (ofJob[j] ?? 0) + step * (missing[j] ?? 0);
    for (let k = 0; k < room.length; k += 1)
      ofKind[k] = Math.max(0, (ofKind[k] ?? 0) - step * (spare[k] ?? 0));
    return true;
  }
}

/** Each job at its share of the column that holds it at the least share. */
function sharePrices({ rows, from, cost }: Columns, jobs: number): Float64Array {
  const ofJob = new Float64Array(jobs).fill(Number.POSITIVE_INFINITY);
  for (let c = 0; c < cost.length; c += 1) {
    const start = from[c] ?? 0;
    const end = from[c + 1] ?? 0;
    const share = (cost[c] ?? 0) / (end - start);
    for (let i = start; i < end; i += 1) {
      const j = rows[i] ?? 0;
      if (share < (ofJob[j] ?? 0)) ofJob[j] = share;
    }
  }
  return ofJob;
}

/** The reduced cost: what a column costs beyond the prices of its jobs and of its kind of route. */
function priceOut(
  { rows, from, cost, kind }: Columns,
  c: number,
  ofJob: Float64Array,
  ofKind: Float64Array,
): number {
  const k = kind[c] ?? -1;
  let value = (cost[c] ?? 0) + (k < 0 ? 0 : (ofKind[k] ?? 0));
  const end = from[c + 1] ?? 0;
  for (let i = from[c] ?? 0; i < end; i += 1) value -= ofJob[rows[i] ?? 0] ?? 0;
  return value;
}

function search(
  columns: Columns,
  jobs: number,
  limit: number,
  most: number,
  prices: Prices,
): readonly number[] | undefined {
  const { rows, from, cost, kind, room } = columns;
  const { bound, ofJob, ofKind } = prices;
  // What pays for itself is in the bound already: to use it adds nothing.
  const dear = new Float64Array(cost.length);
  for (const c of prices.kept) dear[c] = Math.max(0, priceOut(columns, c, ofJob, ofKind));
  const rest = prices.kept
    .filter((c) => bound + (dear[c] ?? 0) < limit)
    .sort((a, b) => (dear[a] ?? 0) - (dear[b] ?? 0));
  const columnsOf = listByJob(columns, jobs, rest);
  const isHeld = new Uint8Array(jobs);
  const used = new Int32Array(room.length);
  const chosen: number[] = [];
  let least = limit;
  let best: readonly number[] | undefined;
  let nodes = 0;
  deepen(0, bound, 0);
  return best;

  function deepen(held: number, low: number, paid: number): void {
    nodes += 1;
    if (held === jobs) {
      if (paid < least - NOISE) {
        least = paid;
        best = [...chosen];
      }
      return;
    }
    for (const c of columnsOf[pickJob(low)] ?? []) {
      const above = low + (dear[c] ?? 0);
      if (above >= least || nodes > most) return;
      if (!fits(c)) continue;
      const start = from[c] ?? 0;
      const end = from[c + 1] ?? 0;
      mark(c, 1);
      chosen.push(c);
      deepen(held + end - start, above, paid + (cost[c] ?? 0));
      chosen.pop();
      mark(c, 0);
    }
  }

  function pickJob(low: number): number {
    let pick = -1;
    let fewest = Number.POSITIVE_INFINITY;
    for (let j = 0; j < jobs && fewest > 0; j += 1) {
      if (isHeld[j] === 1) continue;
      let count = 0;
      for (const c of columnsOf[j] ?? []) {
        if (count >= fewest || low + (dear[c] ?? 0) >= least) break;
        if (fits(c)) count += 1;
      }
      if (count >= fewest) continue;
      fewest = count;
      pick = j;
    }
    return pick;
  }

  function fits(c: number): boolean {
    const k = kind[c] ?? -1;
    if (k >= 0 && (used[k] ?? 0) >= (room[k] ?? 0)) return false;
    const end = from[c + 1] ?? 0;
    for (let i = from[c] ?? 0; i < end; i += 1) if (isHeld[rows[i] ?? 0] === 1) return false;
    return true;
  }

  function mark(c: number, value: 0 | 1): void {
    const end = from[c + 1] ?? 0;
    for (let i = from[c] ?? 0; i < end; i += 1) isHeld[rows[i] ?? 0] = value;
    const k = kind[c] ?? -1;
    if (k >= 0) used[k] = (used[k] ?? 0) + (value === 1 ? 1 : -1);
  }
}

function listByJob({ rows, from }: Columns, jobs: number, list: Int32Array): readonly (readonly number[])[] {
  const columnsOf: number[][] = Array.from({ length: jobs }, () => []);
  for (const c of list)
    for (let i = from[c] ?? 0; i < (from[c + 1] ?? 0); i += 1) columnsOf[rows[i] ?? 0]?.push(c);
  return columnsOf;
}
