import type { Run, RunPlan } from './fewest.ts';
import type { Interval } from './intervals.ts';

const SAME_METRES = 1e-6;
const SWEEPS = 60;

/**
 * Among the placements of a run with this count and this greatest gap, the one whose stations stand nearest to the
 * pulls (positions on the line): least sum of distances along the line from each pull to its nearest station.
 *
 * Exact over a finite set: for a fixed choice of which station serves which pull this is a linear programme in
 * differences of positions, so some optimum has every station at an arc's end or a pull, plus a whole number of
 * greatest gaps. The station numbers are layers of a shortest path over that set.
 */
export function pullRun(run: Run, plan: RunPlan, pulls: readonly number[]): readonly number[] {
  const first = plan.at[0];
  const { arcs, turnMetres } = run;
  const start = arcs[0]?.from ?? 0;
  const end = arcs[arcs.length - 1]?.to ?? 0;
  if (first === undefined || plan.at.length === 0) return plan.at;
  if (run.kind === 'chain') {
    const inside = unroll(pulls, turnMetres, start, end);
    if (inside.length === 0) return spreadRun(run, plan.at);
    const places = listPlaces(arcs, plan, inside, turnMetres, false);
    const steps = plan.at.length - 1;
    return bestPath(places, start, end, steps, plan.greatestGapMetres, inside)?.at ?? plan.at;
  }
  if (end - start >= turnMetres - SAME_METRES && arcs.length === 1) return slideLoop(plan, pulls, turnMetres);
  const onLoop = unroll(pulls, turnMetres, start, start + turnMetres);
  if (onLoop.length === 0) return spreadRun(run, plan.at);
  const places = listPlaces(arcs, plan, onLoop, turnMetres, true);
  // A window may begin in this turn and the path from its last place end two turns on.
  const all = [0, 1, 2].flatMap((turn) => places.map((place) => place + turn * turnMetres));
  let best: Path | undefined;
  for (const from of fewestIn(places, plan.greatestGapMetres, turnMetres)) {
    const to = from + turnMetres;
    const inside = all.filter((place) => place >= from - SAME_METRES && place <= to + SAME_METRES);
    const turned = unroll(pulls, turnMetres, from, to);
    const path = bestPath(inside, from, to, plan.at.length, plan.greatestGapMetres, turned);
    if (path !== undefined && (best === undefined || path.cost < best.cost - SAME_METRES)) best = path;
  }
  return best === undefined ? plan.at : best.at.slice(0, plan.at.length);
}

/** Evens the gaps out without making the greatest greater: every station to the middle between its neighbours. */
export function spreadRun(run: Run, at: readonly number[]): readonly number[] {
  const places = [...at];
  const count = places.length;
  const isLoop = run.kind === 'loop';
  if (count < 2) return places;
  const first = isLoop ? 0 : 1;
  const last = isLoop ? count - 1 : count - 2;
  for (let sweep = 0; sweep < SWEEPS; sweep++) {
    let moved = 0;
    for (let index = first; index <= last; index++) {
      const old = places[index] ?? 0;
      const before = index === 0 ? (places[count - 1] ?? 0) - run.turnMetres : (places[index - 1] ?? 0);
      const after = index === count - 1 ? (places[0] ?? 0) + run.turnMetres : (places[index + 1] ?? 0);
      const next = nearestFree(run, (before + after) / 2, old);
      places[index] = next;
      moved = Math.max(moved, Math.abs(next - old));
    }
    if (moved < 1e-4) break;
  }
  return places.toSorted((a, b) => a - b);
}

function nearestFree({ arcs, turnMetres }: Run, wanted: number, otherwise: number): number {
  let best = otherwise;
  for (const { from, to } of arcs) {
    for (const turn of [-turnMetres, 0, turnMetres]) {
      const place = Math.min(to + turn, Math.max(from + turn, wanted));
      if (Math.abs(place - wanted) < Math.abs(best - wanted) - 1e-9) best = place;
    }
  }
  return best;
}

/** On a line without forbidden ground only the whole ring can slide. */
function slideLoop(plan: RunPlan, pulls: readonly number[], turn: number): readonly number[] {
  const first = plan.at[0] ?? 0;
  const gap = turn / plan.at.length;
  let best = first;
  let bestCost = Infinity;
  for (const pull of pulls) {
    const cost = pulls.reduce((sum, other) => {
      const apart = (((other - pull) % gap) + gap) % gap;
      return sum + Math.min(apart, gap - apart);
    }, 0);
    if (cost < bestCost - SAME_METRES) {
      bestCost = cost;
      best = pull % gap;
    }
  }
  return plan.at.map((_, index) => best + index * gap);
}

function unroll(pulls: readonly number[], turn: number, from: number, to: number): readonly number[] {
  return pulls
    .flatMap((pull) => [0, 1, 2, 3].map((turns) => pull + turns * turn))
    .filter((pull) => pull >= from && pull <= to)
    .toSorted((a, b) => a - b);
}

function listPlaces(
  arcs: readonly Interval[],
  plan: RunPlan,
  pulls: readonly number[],
  turn: number,
  isLoop: boolean,
): readonly number[] {
  const start = arcs[0]?.from ?? 0;
  const anchors = [...arcs.flatMap(({ from, to }) => [from, to]), ...pulls, ...plan.at];
  const count = plan.at.length;
  const places: number[] = [];
  for (const anchor of anchors) {
    for (let steps = -count; steps <= count; steps++) {
      const raw = anchor + steps * plan.greatestGapMetres;
      const place = isLoop ? start + ((((raw - start) % turn) + turn) % turn) : raw;
      if (arcs.some(({ from, to }) => place >= from - SAME_METRES && place <= to + SAME_METRES)) {
        places.push(place);
      }
    }
  }
  places.sort((a, b) => a - b);
  return places.filter((place, index) => place - (places[index - 1] ?? -Infinity) > SAME_METRES / 10);
}

/** Every placement has a station in any window as long as the gap: take the window with the fewest places. */
function fewestIn(places: readonly number[], gap: number, turn: number): readonly number[] {
  const turned = [...places, ...places.map((place) => place + turn)];
  let best: readonly number[] = places;
  for (const place of places) {
    const within = turned.filter((other) => other >= place && other <= place + gap + SAME_METRES);
    if (within.length < best.length) best = within;
  }
  return best;
}

interface Path {
  readonly cost: number;
  readonly at: readonly number[];
}

function bestPath(
  places: readonly number[],
  from: number,
  to: number,
  steps: number,
  gap: number,
  pulls: readonly number[],
): Path | undefined {
  const count = places.length;
  let costs = Float64Array.from(places, (place) => (Math.abs(place - from) <= SAME_METRES ? 0 : Infinity));
  const cameFrom: Int32Array[] = [];
  // Only places that can be reached in `step` steps and from which the rest can be done are looked at.
  let low = 0;
  let high = count - 1;
  for (let step = 1; step <= steps; step++) {
    const next = new Float64Array(count).fill(Infinity);
    const came = new Int32Array(count).fill(-1);
    const slack = SAME_METRES * (steps + 1);
    const earliest = to - (steps - step) * gap - slack;
    const latest = from + step * gap + slack;
    let nextLow = low;
    while (nextLow < count && (places[nextLow] ?? 0) < earliest) nextLow++;
    let nextHigh = nextLow - 1;
    while (nextHigh + 1 < count && (places[nextHigh + 1] ?? 0) <= latest) nextHigh++;
    for (let before = low; before <= high; before++) {
      const cost = costs[before] ?? Infinity;
      if (cost === Infinity) continue;
      const a = places[before] ?? 0;
      for (let after = Math.max(before + 1, nextLow); after <= nextHigh; after++) {
        const b = places[after] ?? 0;
        if (b - a > gap + 2 * SAME_METRES) break;
        const sum = cost + pullCost(a, b, pulls);
        if (sum < (next[after] ?? Infinity) - 1e-12) {
          next[after] = sum;
          came[after] = before;
        }
      }
    }
    if (nextHigh < nextLow) return undefined;
    low = nextLow;
    high = nextHigh;
    cameFrom.push(came);
    costs = next;
  }
  const last = places.findLastIndex(
    (place, index) => Math.abs(place - to) <= SAME_METRES && (costs[index] ?? Infinity) < Infinity,
  );
  if (last < 0) return undefined;
  const at: number[] = [];
  let index = last;
  for (let step = steps - 1; step >= -1; step--) {
    at.push(places[index] ?? 0);
    index = cameFrom[step]?.[index] ?? -1;
  }
  return { cost: costs[last] ?? Infinity, at: at.toReversed() };
}

/** Pulls between two neighbours, each to the nearer one; a pull on a station costs nothing. */
function pullCost(a: number, b: number, pulls: readonly number[]): number {
  let sum = 0;
  for (const pull of pulls) if (pull > a && pull < b) sum += Math.min(pull - a, b - pull);
  return sum;
}
