import type { Leg } from './legs.ts';
import { NEVER, type Tables } from './tables.ts';

/**
 * A lower bound on the cost of any plan that misses no possible job, the better of two. Each job pays its cheapest day, its share of
 * what a working second costs at least, and its share of the driving, or its penalty where that is less. The share of the driving is half
 * of its cheapest legs in and out; or, as a route drives at least out to its farthest job and home, that way by the job's part of the
 * longest working day or the greatest load (M. Haimovich, A. Rinnooy Kan, "Bounds and heuristics for capacitated routing problems",
 * Mathematics of Operations Research 10(4), 1985). Without a matrix driving counts nothing: to ask for every pair would take too long.
 */
export function findBound(tables: Tables): number {
  const { jobs, routes, days, dayCost, penalty, reasons, cost, seconds, service, load } = tables;
  if (routes === 0) return 0;
  const isKnown = cost.matrix !== undefined;
  const nothing = new Float64Array(jobs);
  const byCost = isKnown ? findHalfLegs(tables, cost) : nothing;
  const bySeconds = !isKnown || seconds === cost ? byCost : findHalfLegs(tables, seconds);
  const rate = findRate(tables);
  const wayRound = isKnown ? findWaysRound(tables) : nothing;
  const longestWork = most(routes, (r) =>
    Math.min(tables.longest[r] ?? 0, (tables.latestEnd[r] ?? 0) - (tables.startSeconds[r] ?? 0)),
  );
  const greatestLoad = most(routes, (r) => tables.capacity[r] ?? 0);
  const sums = [0, 0, 0];
  for (let j = 0; j < jobs; j += 1) {
    let cheapest = Number.POSITIVE_INFINITY;
    for (let day = 0; day < days; day += 1) {
      const price = dayCost[j * days + day] ?? NEVER;
      if (price >= 0) cheapest = Math.min(cheapest, price);
    }
    const fee = reasons[j] === undefined ? (penalty[j] ?? 0) : 0;
    const hours = rate * ((service[j] ?? 0) + (bySeconds[j] ?? 0));
    const round = wayRound[j] ?? 0;
    const driving = [
      byCost[j] ?? 0,
      longestWork === 0 ? 0 : (round * (service[j] ?? 0)) / longestWork,
      greatestLoad === 0 ? 0 : (round * (load[j] ?? 0)) / greatestLoad,
    ];
    driving.forEach((share, way) => {
      sums[way] = (sums[way] ?? 0) + Math.min(fee, cheapest + hours + share);
    });
  }
  // A thousandth is far more than sums of so few fractions are out by.
  return Math.ceil(Math.max(...sums) - 0.001);
}

/** Half of the cheapest legs in and out of each job. Legs to and from a start or end have a job at one end only, and so count once. */
function findHalfLegs({ jobs, routes, place, near, nearCount, groupOf }: Tables, leg: Leg): Float64Array {
  const ends = new Set<number>();
  for (let node = jobs; node < jobs + 2 * routes; node += 1) ends.add(place[node] ?? 0);
  // Jobs that cannot share a route are not on the list; it serves where it holds all others, and visits of a group are never joined.
  const whole = nearCount >= jobs - 1 && groupOf.every((group) => group < 0);
  return Float64Array.from({ length: jobs }, (_, j) => {
    const at = place[j] ?? 0;
    let into = Number.POSITIVE_INFINITY;
    let outOf = Number.POSITIVE_INFINITY;
    const look = (there: number): void => {
      into = Math.min(into, leg.between(there, at));
      outOf = Math.min(outOf, leg.between(at, there));
    };
    for (const end of ends) look(end);
    for (let k = 0; k < (whole ? nearCount : jobs); k += 1) {
      const other = whole ? (near[j * nearCount + k] ?? -1) : k;
      if (other >= 0 && other !== j) look(place[other] ?? 0);
    }
    return (into + outOf) / 2;
  });
}

/** The least that a second out on any route costs, driving out shared over the cheapest length of a day. */
function findRate(tables: Tables): number {
  const { routes, startSeconds, regularEnd, latestEnd, useCost, secondCost, overtimeCost } = tables;
  let least = Number.POSITIVE_INFINITY;
  for (let r = 0; r < routes; r += 1) {
    const longest = (latestEnd[r] ?? 0) - (startSeconds[r] ?? 0);
    const regular = Math.min(longest, Math.max(0, (regularEnd[r] ?? 0) - (startSeconds[r] ?? 0)));
    const unpaid = tables.breakUnpaid[r] === 1 ? (tables.breakSeconds[r] ?? 0) : 0;
    const out = (useCost[r] ?? 0) - unpaid * (secondCost[r] ?? 0);
    for (const length of [regular, longest]) {
      if (length <= 0) continue;
      const overtime = (overtimeCost[r] ?? 0) * (length - regular);
      least = Math.min(least, (out + overtime) / length + (secondCost[r] ?? 0));
    }
    // With out below 0 a second costs least on the shortest day; then nothing is sure.
    if (out < 0) return 0;
  }
  return Number.isFinite(least) ? Math.max(0, least) : 0;
}

/** For each job the cheapest way from any start by way of any places to it, and on to any end. */
function findWaysRound(tables: Tables): Float64Array {
  const { jobs, routes, place, cost } = tables;
  const starts: number[] = [];
  const ends: number[] = [];
  for (let r = 0; r < routes; r += 1) {
    starts.push(place[jobs + 2 * r] ?? 0);
    ends.push(place[jobs + 2 * r + 1] ?? 0);
  }
  const out = findCheapestWays(cost.places, starts, cost.between);
  const home = findCheapestWays(cost.places, ends, (from, to) => cost.between(to, from));
  return Float64Array.from(
    { length: jobs },
    (_, j) => (out[place[j] ?? 0] ?? 0) + (home[place[j] ?? 0] ?? 0),
  );
}

/** E. Dijkstra, "A note on two problems in connexion with graphs", Numerische Mathematik 1, 1959, on the full graph. */
function findCheapestWays(
  places: number,
  from: readonly number[],
  between: (from: number, to: number) => number,
): Float64Array {
  const way = new Float64Array(places).fill(Number.POSITIVE_INFINITY);
  const settled = new Uint8Array(places);
  for (const place of from) way[place] = 0;
  for (;;) {
    let at = -1;
    for (let place = 0; place < places; place += 1)
      if (settled[place] === 0 && (at < 0 || (way[place] ?? 0) < (way[at] ?? 0))) at = place;
    if (at < 0) return way;
    settled[at] = 1;
    for (let to = 0; to < places; to += 1)
      if (settled[to] === 0) way[to] = Math.min(way[to] ?? 0, (way[at] ?? 0) + between(at, to));
  }
}

function most(count: number, amount: (index: number) => number): number {
  let greatest = 0;
  for (let index = 0; index < count; index += 1) greatest = Math.max(greatest, amount(index));
  return greatest;
}
