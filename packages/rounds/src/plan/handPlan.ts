import { type Assignment, evaluateRoute, type Job, type Problem } from '@sillwatch/planner';
import { findDay } from '@sillwatch/trade';
import type { PlanProblem } from './buildPlanProblem.ts';
import { getNeed } from './planToRounds.ts';

/**
 * The same visits as a careful person plans them by hand: one after the other by the day each aims at (promised and frozen
 * ones first), on that day, with the technician who starts nearest and has room within his regular hours, else the next
 * nearest, else the next day; overtime only where nothing else fits. Each round is driven to the nearest property next.
 * Honest to a fault: it has our merged visits and our windows, which a hand does not, and never forgets anything.
 */
export function planByHand(built: PlanProblem): Assignment {
  const { problem, needs } = built;
  const routes = new Map<
    string,
    { readonly vehicle: number; readonly day: number; jobs: readonly number[] }
  >();
  const order = needs
    .map(({ job, target }) => ({ job, target, isFixed: problem.jobs[job]?.fixed !== undefined }))
    .sort(
      (a, b) =>
        Number(b.isFixed) - Number(a.isFixed) ||
        (a.target < b.target ? -1 : a.target > b.target ? 1 : a.job - b.job),
    );
  for (const { job } of order) {
    if (!place(job, false)) place(job, true);
  }
  return [...routes.values()].sort((a, b) => a.vehicle - b.vehicle || a.day - b.day);

  function place(j: number, overtime: boolean): boolean {
    const job = problem.jobs[j];
    if (job === undefined) return false;
    for (const day of daysFor(built, j, job))
      for (const vehicle of nearestVehicles(built, job, day)) {
        const shift = problem.vehicles[vehicle]?.shifts.find((one) => one.day === day);
        if (shift === undefined) continue;
        const key = `${vehicle} ${day}`;
        const jobs = [...(routes.get(key)?.jobs ?? []), j];
        const driven = driveToNearest(problem, shift.startPlace, shift.startSeconds, jobs);
        const { violations, endSeconds } = evaluateRoute(problem, vehicle, day, driven);
        if (violations.length > 0 || (!overtime && endSeconds > shift.regularEndSeconds)) continue;
        routes.set(key, { vehicle, day, jobs: driven });
        return true;
      }
    return false;
  }
}

/** From the target on, then back from it. */
function daysFor({ from, needs }: PlanProblem, j: number, job: Job): readonly number[] {
  const target = (findDay(getNeed(needs, j).target) ?? from) - from;
  const days = job.days.map(({ day }) => day).filter((day) => (job.fixed?.day ?? day) === day);
  const later = days.filter((day) => day >= target).sort((a, b) => a - b);
  const earlier = days.filter((day) => day < target).sort((a, b) => b - a);
  return [...later, ...earlier];
}

/** Those who may do it that day, by how far they start from it. */
function nearestVehicles({ problem, travel }: PlanProblem, job: Job, day: number): readonly number[] {
  return problem.vehicles
    .flatMap(({ skills, shifts }, vehicle) => {
      const shift = shifts.find((one) => one.day === day);
      const isAble = (job.skills & ~skills) === 0 && (job.fixed?.vehicle ?? vehicle) === vehicle;
      return shift === undefined || !isAble
        ? []
        : [{ vehicle, metres: travel.metres(shift.startPlace, job.place) }];
    })
    .sort((a, b) => a.metres - b.metres || a.vehicle - b.vehicle)
    .map(({ vehicle }) => vehicle);
}

/** The nearest next, unless somebody who waits at a set time would be missed by it: then that one. */
function driveToNearest(
  problem: Problem,
  startPlace: number,
  startSeconds: number,
  jobs: readonly number[],
): readonly number[] {
  const left = [...jobs];
  const driven: number[] = [];
  let at = startPlace;
  let time = startSeconds;
  while (left.length > 0) {
    const arrivals = left.map((j) => {
      const place = problem.jobs[j]?.place ?? at;
      const seconds = drive(problem, at, place);
      const windows = problem.jobs[j]?.windows ?? [];
      const starts = Math.max(time + seconds, windows[0]?.open ?? 0);
      const close = windows[windows.length - 1]?.close ?? Number.POSITIVE_INFINITY;
      return { j, place, seconds, close, ends: starts + (problem.jobs[j]?.serviceSeconds ?? 0) };
    });
    const nearest = [...arrivals].sort((a, b) => a.seconds - b.seconds || a.j - b.j);
    const misses = (one: (typeof arrivals)[number]): boolean =>
      arrivals.some(
        (other) => other !== one && one.ends + drive(problem, one.place, other.place) > other.close,
      );
    const urgent = [...arrivals].sort((a, b) => a.close - b.close || a.j - b.j);
    const next = nearest.find((one) => !misses(one)) ?? urgent[0];
    if (next === undefined) break;
    driven.push(next.j);
    left.splice(left.indexOf(next.j), 1);
    at = next.place;
    time = next.ends;
  }
  return driven;
}

function drive({ travel }: Problem, from: number, to: number): number {
  return travel.kind === 'function'
    ? travel.seconds(from, to)
    : (travel.seconds[from * travel.places + to] ?? 0);
}
