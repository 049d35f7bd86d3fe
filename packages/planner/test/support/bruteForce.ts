/** The best plan of a small problem by trying every order on every route. Shares no code with the search. */
import type { Job, Problem, Shift } from '@sillwatch/planner';

/** Fewest jobs missed first, cost second. */
export interface Optimum {
  readonly missed: number;
  readonly cost: number;
}

/** Tries every choice of a pattern for each group: its jobs may then be done on the days of that pattern only, all or none. */
export function bruteForce(problem: Problem): Optimum {
  let choices: readonly (readonly (readonly number[])[])[] = [[]];
  for (const { patterns } of problem.groups ?? [])
    choices = choices.flatMap((chosen) => patterns.map((pattern) => [...chosen, pattern]));
  let best: Optimum = { missed: Infinity, cost: Infinity };
  for (const chosen of choices) {
    const dayOf = new Map<number, number | undefined>();
    (problem.groups ?? []).forEach(({ jobs }, g) => {
      for (const [k, j] of jobs.entries()) dayOf.set(j, chosen[g]?.[k]);
    });
    const found = bruteForcePatterns({
      ...problem,
      jobs: problem.jobs.map((job, j) =>
        dayOf.has(j) ? { ...job, days: job.days.filter(({ day }) => day === dayOf.get(j)) } : job,
      ),
    });
    if (found.missed < best.missed || (found.missed === best.missed && found.cost < best.cost)) best = found;
  }
  return best;
}

function bruteForcePatterns(problem: Problem): Optimum {
  const { travel, jobs } = problem;
  if (travel.kind !== 'matrix') throw new Error('brute force reads a matrix');
  const seconds = (a: number, b: number): number => Number(travel.seconds[a * travel.places + b]);
  const price = (a: number, b: number): number =>
    Number((travel.cost ?? travel.seconds)[a * travel.places + b]);
  const full = 1 << jobs.length;
  const together = (problem.groups ?? []).map((group) => group.jobs.reduce((mask, j) => mask | (1 << j), 0));
  // bestByServed[mask]: least cost of routes that serve exactly the jobs of the mask.
  let bestByServed = new Float64Array(full).fill(Infinity);
  bestByServed[0] = 0;
  problem.vehicles.forEach((vehicle, index) => {
    for (const shift of vehicle.shifts) {
      const byMask = new Float64Array(full).fill(Infinity);
      byMask[0] = 0;
      /** With a longest time out, the hours of an order by every leaving and every place of the break, tried one by one. */
      const hoursByLeaving = (order: readonly Job[], longest: number): number => {
        let least = Infinity;
        const places = shift.break === undefined ? 1 : 2 * order.length + 2;
        for (let pause = 0; pause < places; pause += 1)
          for (let leave = shift.startSeconds; leave <= shift.latestEndSeconds; leave += 1) {
            const back = endOf(shift, seconds, order, leave, pause);
            const lacksRest = pause === 0 && back > (shift.break?.latestSeconds ?? back);
            if (back > shift.latestEndSeconds || lacksRest || back - leave > longest) continue;
            const unpaid = pause > 0 && shift.break?.paid === false ? shift.break.seconds : 0;
            const late = shift.overtimeSecondCost * Math.max(0, back - shift.regularEndSeconds);
            least = Math.min(least, shift.secondCost * (back - shift.startSeconds - unpaid) + late);
            // Leaving later still is never back earlier.
            break;
          }
        return least;
      };
      const order: Job[] = [];
      const seen = new Map<string, number>();
      const rest = shift.break;
      /** After a break begun no earlier than `time`; undefined when that is too late. */
      const afterRest = (time: number): number | undefined => {
        if (rest === undefined) return undefined;
        const begin = Math.max(time, rest.earliestSeconds);
        return begin > rest.latestSeconds ? undefined : begin + rest.seconds;
      };
      const visit = (
        mask: number,
        at: number,
        time: number,
        cost: number,
        load: number,
        rested: boolean,
      ): void => {
        const later = rested ? undefined : afterRest(time);
        if (later !== undefined) visit(mask, at, later, cost, load, true);
        const back = time + seconds(at, shift.endPlace);
        const lacksRest = rest !== undefined && !rested && back > rest.latestSeconds;
        if (mask > 0 && back <= shift.latestEndSeconds && shift.longestSeconds !== undefined) {
          const key = order.map(({ name }) => name).join();
          const hours = seen.get(key) ?? hoursByLeaving(order, shift.longestSeconds);
          seen.set(key, hours);
          const whole = cost + price(at, shift.endPlace) + hours + shift.useCost;
          byMask[mask] = Math.min(Number(byMask[mask]), whole);
        } else if (mask > 0 && back <= shift.latestEndSeconds && !lacksRest) {
          const unpaid = rested && rest?.paid === false ? rest.seconds : 0;
          const hours = shift.secondCost * (back - shift.startSeconds - unpaid);
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
          const arrive = time + seconds(at, job.place);
          for (const [from, resting] of [
            [arrive, rested],
            [rested ? undefined : afterRest(arrive), true],
          ] as const) {
            if (from === undefined) continue;
            const start = startOf(job, shift.day, from);
            if (start === undefined || start > shift.latestEndSeconds) continue;
            const other =
              job.preferred !== undefined && job.preferred.vehicle !== index ? job.preferred.otherwise : 0;
            const paid = cost + price(at, job.place) + day.cost + other;
            order.push(job);
            visit(mask | (1 << j), job.place, start + job.serviceSeconds, paid, load + job.load, resting);
            order.pop();
          }
        });
      };
      visit(0, shift.startPlace, shift.startSeconds, 0, 0, false);
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
    const parted = together.some((all) => (mask & all) !== 0 && (mask & all) !== all);
    if (cost === Infinity || parted) continue;
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

/**
 * When an order that leaves then is back; infinite when a window is missed or the break begins too late. `pause`: 0 no break, 1 before leaving,
 * then on arrival at the first, after its service, on arrival at the second and so on.
 */
function endOf(
  shift: Shift,
  seconds: (a: number, b: number) => number,
  order: readonly Job[],
  leave: number,
  pause: number,
): number {
  const rest = shift.break;
  const pausing = (time: number): number => {
    if (rest === undefined) return Infinity;
    const begin = Math.max(time, rest.earliestSeconds);
    return begin > rest.latestSeconds ? Infinity : begin + rest.seconds;
  };
  if (pause === 1 && pausing(shift.startSeconds) > leave) return Infinity;
  let time = leave;
  let at = shift.startPlace;
  order.forEach((job, k) => {
    time += seconds(at, job.place);
    at = job.place;
    if (pause === 2 * k + 2) time = pausing(time);
    const start = startOf(job, shift.day, time);
    time = start === undefined ? Infinity : start + job.serviceSeconds;
    if (pause === 2 * k + 3) time = pausing(time);
  });
  return time + seconds(at, shift.endPlace);
}

function startOf(job: Job, day: number, arrive: number): number | undefined {
  const promised = job.fixed?.startSeconds;
  if (promised !== undefined) return arrive <= promised ? promised : undefined;
  const windows = job.days.find((allowed) => allowed.day === day)?.windows ?? job.windows;
  if (windows.length === 0) return arrive;
  const window = windows.find(({ close }) => close >= arrive);
  return window === undefined ? undefined : Math.max(arrive, window.open);
}
