import { NEVER, type Tables } from './tables.ts';

/**
 * A lower bound on the cost of any plan that misses no possible job: each job pays its cheapest day and half of its cheapest legs in and
 * out, or its penalty where that is less. Legs back to a start or end have a job at one end only, and so count once.
 */
export function findBound(tables: Tables): number {
  const { jobs, routes, days, place, dayCost, penalty, reasons, cost, near, nearCount } = tables;
  if (cost.matrix === undefined) return 0;
  const ends = new Set<number>();
  for (let node = jobs; node < jobs + 2 * routes; node += 1) ends.add(place[node] ?? 0);
  const whole = nearCount >= jobs - 1;
  let sum = 0;
  for (let j = 0; j < jobs; j += 1) {
    const at = place[j] ?? 0;
    let into = Number.POSITIVE_INFINITY;
    let outOf = Number.POSITIVE_INFINITY;
    const look = (there: number): void => {
      into = Math.min(into, cost.between(there, at));
      outOf = Math.min(outOf, cost.between(at, there));
    };
    for (const end of ends) look(end);
    for (let k = 0; k < (whole ? nearCount : jobs); k += 1) {
      const other = whole ? (near[j * nearCount + k] ?? -1) : k;
      if (other >= 0 && other !== j) look(place[other] ?? 0);
    }
    let cheapest = Number.POSITIVE_INFINITY;
    for (let day = 0; day < days; day += 1) {
      const price = dayCost[j * days + day] ?? NEVER;
      if (price >= 0) cheapest = Math.min(cheapest, price);
    }
    const fee = reasons[j] === undefined ? (penalty[j] ?? 0) : 0;
    sum += Math.min(fee, cheapest + (into + outOf) / 2);
  }
  return Math.ceil(sum);
}
