import { evaluatePlan } from './evaluate.ts';
import type { Assignment, Plan, Problem } from './problem.ts';
import type { Tables } from './tables.ts';

/** Turns the links of a search into a plan with times, costs and the reason for every job left out. */
export function buildPlan(problem: Problem, tables: Tables, next: Int32Array): Plan {
  const { routes, unassigned, cost, travelCost, missed } = evaluatePlan(problem, listRoutes(tables, next));
  return {
    routes: routes.map(({ vehicle, day, stops, leaveSeconds, endSeconds, break: rest }) => ({
      vehicle,
      day,
      stops: stops.map(({ job, arriveSeconds, startSeconds }) => ({ job, arriveSeconds, startSeconds })),
      ...(leaveSeconds === undefined ? {} : { leaveSeconds }),
      endSeconds,
      ...(rest === undefined ? {} : { break: rest }),
    })),
    unassigned: unassigned.map((job) => ({
      job,
      reason: tables.reasons[job] ?? (problem.jobs[job]?.penalty === undefined ? 'noRoom' : 'notWorthIt'),
    })),
    cost,
    travelCost,
    missed,
  };
}

/** Routes in use by vehicle and then by day. */
export function listRoutes(tables: Tables, next: Int32Array): Assignment {
  const { jobs, routes, vehicleOf, dayOf } = tables;
  const found = Array.from({ length: routes }, (_, r) => {
    const list: number[] = [];
    for (let node = next[jobs + 2 * r] ?? jobs; node < jobs; node = next[node] ?? jobs) list.push(node);
    return { vehicle: vehicleOf[r] ?? 0, day: dayOf[r] ?? 0, jobs: list };
  });
  return found
    .filter((route) => route.jobs.length > 0)
    .sort((a, b) => a.vehicle - b.vehicle || a.day - b.day);
}
