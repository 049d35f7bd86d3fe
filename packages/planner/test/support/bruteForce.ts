/** The best plan of a small problem by trying every order on every route. Shares no code with the search. */
import type { Problem } from '@sillwatch/planner';

/** Fewest jobs missed first, cost second. */
export interface Optimum {
  readonly missed: number;
  readonly cost: number;
}

export function bruteForce(problem: Problem): Optimum {
  const { travel, jobs } = problem;
  if (travel.kind !== 'matrix') throw new Error('brute force reads a matrix');
  const seconds = (a: number, b: number): number => Number(travel.seconds[a * travel.places + b]);
  const price = (a: number, b: number): number =>
    Number((travel.cost ?? travel.seconds)[a * travel.places + b]);
  const full = 1 << jobs.length;
  // bestByServed[mask]: least cost of routes that serve exactly the jobs of the mask.
  let bestByServed = new Float64Array(full).fill(Infinity);
  bestByServed[0] = 0;
  problem.vehicles.forEach((vehicle, index) => {
    for (const shift of vehicle.shifts) {
      const byMask = new Float64Array(full).fill(Infinity);
      byMask[0] = 0;
      const visit = (mask: number, at: number, time: number, cost: number, load: number): void => {
        const back = time + seconds(at, shift.endPlace);
        if (mask > 0 && back <= shift.latestEndSeconds) {
          const hours = shift.secondCost * (back - shift.startSeconds);
          const late = shift.overtimeSecondCost * Math.max(0, back - shift.regularEndSeconds);
          const whole = cost + price(at, shift.endPlace) + hours + late + shift.useCost;
          byMask[mask] = Math.min(Number(byMask[mask]), whole);
        }
        jobs.forEach((job, j) => {
          if ((mask & (1 << j)) !== 0 || load + job.load > vehicle.capacity) return;
          const day = job.days.find((allowed) => allowed.day === shift.day);
          if (day === undefined || (job.skills & ~vehicle.skills) !== 0) return;
          if (job.fixed?.vehicle !== undefined && job.fixed.vehicle !== index) return;
          if (job.fixed?.day !== undefined && job.fixed.day !== shift.day) return;
          let start: number | undefined = time + seconds(at, job.place);
          if (job.windows.length > 0) {
            const arrive = start;
            const window = job.windows.find(({ close }) => close >= arrive);
            start = window === undefined ? undefined : Math.max(arrive, window.open);
          }
          if (start === undefined || start > shift.latestEndSeconds) return;
          const other =
            job.preferred !== undefined && job.preferred.vehicle !== index ? job.preferred.otherwise : 0;
          const paid = cost + price(at, job.place) + day.cost + other;
          visit(mask | (1 << j), job.place, start + job.serviceSeconds, paid, load + job.load);
        });
      };
      visit(0, shift.startPlace, shift.startSeconds, 0, 0);
      const joined = new Float64Array(full).fill(Infinity);
      for (let mask = 0; mask < full; mask += 1)
        for (let part = mask; ; part = (part - 1) & mask) {
          joined[mask] = Math.min(
            Number(joined[mask]),
            Number(byMask[part]) + Number(bestByServed[mask ^ part]),
          );
          if (part === 0) break;
        }
      bestByServed = joined;
    }
  });
  let best: Optimum = { missed: Infinity, cost: Infinity };
  for (let mask = 0; mask < full; mask += 1) {
    let cost = Number(bestByServed[mask]);
    if (cost === Infinity) continue;
    let missed = 0;
    jobs.forEach((job, j) => {
      if ((mask & (1 << j)) !== 0) return;
      if (job.penalty === undefined) missed += 1;
      else cost += job.penalty;
    });
    if (missed < best.missed || (missed === best.missed && cost < best.cost)) best = { missed, cost };
  }
  return best;
}
