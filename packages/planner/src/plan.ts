import type { Plan, Problem, Route, Stop, Unassigned } from './problem.ts';
import { earliestStart, type Tables } from './tables.ts';

/** Turns the links of a search into a plan with times, costs and the reason for every job left out. */
export function buildPlan(problem: Problem, tables: Tables, next: Int32Array): Plan {
  const {
    jobs,
    routes,
    place,
    service,
    startSeconds,
    regularEnd,
    vehicleOf,
    dayOf,
    assignCost,
    seconds,
    cost,
  } = tables;
  const planned = new Uint8Array(jobs);
  const found: Route[] = [];
  let total = 0;
  let travelCost = 0;
  for (let r = 0; r < routes; r += 1) {
    const first = jobs + 2 * r;
    let node = next[first] ?? first + 1;
    if (node >= jobs) continue;
    let at = place[first] ?? 0;
    let time = startSeconds[r] ?? 0;
    const stops: Stop[] = [];
    for (; ; node = next[node] ?? first + 1) {
      const to = place[node] ?? 0;
      time += seconds.between(at, to);
      travelCost += cost.between(at, to);
      at = to;
      if (node >= jobs) break;
      const start = earliestStart(tables, node, time);
      stops.push({ job: node, arriveSeconds: time, startSeconds: start });
      time = start + (service[node] ?? 0);
      total += assignCost(node, r);
      planned[node] = 1;
    }
    total += (tables.useCost[r] ?? 0) + (tables.secondCost[r] ?? 0) * (time - (startSeconds[r] ?? 0));
    total += (tables.overtimeCost[r] ?? 0) * Math.max(0, time - (regularEnd[r] ?? 0));
    found.push({ vehicle: vehicleOf[r] ?? 0, day: dayOf[r] ?? 0, stops, endSeconds: time });
  }
  found.sort((a, b) => a.vehicle - b.vehicle || a.day - b.day);
  const unassigned: Unassigned[] = [];
  let missed = 0;
  problem.jobs.forEach((job, j) => {
    if (planned[j] === 1) return;
    total += job.penalty ?? 0;
    if (job.penalty === undefined) missed += 1;
    unassigned.push({
      job: j,
      reason: tables.reasons[j] ?? (job.penalty === undefined ? 'noRoom' : 'notWorthIt'),
    });
  });
  return { routes: found, unassigned, cost: total + travelCost, travelCost, missed };
}
