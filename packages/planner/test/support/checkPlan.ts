/**
 * Verifies a plan from the problem alone, slowly and plainly. Shares no code with the search: only the types of question and answer.
 * Answers what is wrong, in words; empty when the plan keeps every rule and its figures are true.
 */
import type { Break, Job, Plan, Problem, Shift } from '@sillwatch/planner';

export function checkPlan(problem: Problem, plan: Plan): readonly string[] {
  const wrong: string[] = [];
  const { travel } = problem;
  const secondsBetween = (from: number, to: number): number =>
    travel.kind === 'matrix' ? Number(travel.seconds[from * travel.places + to]) : travel.seconds(from, to);
  const costBetween = (from: number, to: number): number => {
    if (travel.cost === undefined) return secondsBetween(from, to);
    return travel.kind === 'matrix' ? Number(travel.cost[from * travel.places + to]) : travel.cost(from, to);
  };
  const seen = new Map<number, string>();
  let cost = 0;
  let travelCost = 0;
  const routesSeen = new Set<string>();

  for (const route of plan.routes) {
    const name = `vehicle ${route.vehicle} day ${route.day}`;
    if (routesSeen.has(name)) wrong.push(`${name}: two routes`);
    routesSeen.add(name);
    const vehicle = problem.vehicles[route.vehicle];
    const shift = vehicle?.shifts.find(({ day }) => day === route.day);
    if (vehicle === undefined || shift === undefined) {
      wrong.push(`${name}: no such shift`);
      continue;
    }
    if (route.stops.length === 0) wrong.push(`${name}: empty route listed`);
    let time = route.leaveSeconds ?? shift.startSeconds;
    let at = shift.startPlace;
    let load = 0;
    const rest = shift.break;
    const taken = route.break;
    let rested = false;
    // Each pause is the time between two moments at one place in which the break may lie.
    const pause = (place: number, from: number, until: number): void => {
      if (taken === undefined || rest === undefined || rested || taken.place !== place) return;
      rested = taken.startSeconds >= from && taken.startSeconds + rest.seconds <= until;
    };
    if ((route.leaveSeconds === undefined) !== (shift.longestSeconds === undefined))
      wrong.push(`${name}: a leaving without a longest time out, or none with one`);
    if (shift.longestSeconds !== undefined) {
      const out = route.endSeconds - time;
      if (time < shift.startSeconds) wrong.push(`${name}: leaves at ${time}, before ${shift.startSeconds}`);
      if (out > shift.longestSeconds) wrong.push(`${name}: out for ${out}, at most ${shift.longestSeconds}`);
      pause(at, shift.startSeconds, time);
      // A break before leaving stays before any later one.
      const owed = taken === undefined || rested ? undefined : rest;
      const order = route.stops.flatMap(({ job }) => problem.jobs[job] ?? []);
      if (isBackBy(route.endSeconds, order, shift, time + 1, owed, secondsBetween))
        wrong.push(`${name}: leaves at ${time}, could at ${time + 1}`);
    }
    const restAfterService = (next: number, arrive: number): number => {
      const leave = arrive - secondsBetween(at, next);
      pause(at, time, leave);
      // Leaving later than service ends is right only for a break, and no later than that ends.
      if (
        leave > time &&
        !(rested && rest !== undefined && taken !== undefined && leave === taken.startSeconds + rest.seconds)
      )
        wrong.push(`${name}: leaves place ${at} at ${leave}, could at ${time}`);
      return leave;
    };
    for (const stop of route.stops) {
      const job = problem.jobs[stop.job];
      if (job === undefined) {
        wrong.push(`${name}: no job ${stop.job}`);
        continue;
      }
      if (seen.has(stop.job)) wrong.push(`job ${stop.job}: on ${name} and on ${seen.get(stop.job)}`);
      seen.set(stop.job, name);
      time = restAfterService(job.place, stop.arriveSeconds) + secondsBetween(at, job.place);
      travelCost += costBetween(at, job.place);
      at = job.place;
      if (stop.arriveSeconds !== time)
        wrong.push(`job ${stop.job}: arrives ${stop.arriveSeconds}, is ${time}`);
      if (stop.startSeconds < time) wrong.push(`job ${stop.job}: starts before it arrives`);
      pause(at, stop.arriveSeconds, stop.startSeconds);
      const ofDay = job.days.find((allowed) => allowed.day === route.day)?.windows ?? job.windows;
      const windows = job.fixed?.startSeconds === undefined ? ofDay : [];
      const inside = windows.some(
        ({ open, close }) => stop.startSeconds >= open && stop.startSeconds <= close,
      );
      if (windows.length > 0 && !inside)
        wrong.push(`job ${stop.job}: starts ${stop.startSeconds}, no window`);
      if ((job.fixed?.startSeconds ?? stop.startSeconds) !== stop.startSeconds)
        wrong.push(`job ${stop.job}: starts ${stop.startSeconds}, promised ${job.fixed?.startSeconds}`);
      time = stop.startSeconds + job.serviceSeconds;
      load += job.load;
      for (let bit = 0; bit < 32; bit += 1)
        if (((job.skills >> bit) & 1) === 1 && ((vehicle.skills >> bit) & 1) === 0)
          wrong.push(`job ${stop.job}: ${name} lacks skill ${bit}`);
      const day = job.days.find((allowed) => allowed.day === route.day);
      if (day === undefined) wrong.push(`job ${stop.job}: not on day ${route.day}`);
      else cost += day.cost;
      if (job.preferred !== undefined && job.preferred.vehicle !== route.vehicle)
        cost += job.preferred.otherwise;
      if (job.fixed?.vehicle !== undefined && job.fixed.vehicle !== route.vehicle)
        wrong.push(`job ${stop.job}: promised vehicle ${job.fixed.vehicle}`);
      if (job.fixed?.day !== undefined && job.fixed.day !== route.day)
        wrong.push(`job ${stop.job}: promised day ${job.fixed.day}`);
    }
    time = restAfterService(shift.endPlace, route.endSeconds) + secondsBetween(at, shift.endPlace);
    travelCost += costBetween(at, shift.endPlace);
    if (taken !== undefined) {
      if (!rested) wrong.push(`${name}: its break from ${taken.startSeconds} lies in a drive or in service`);
      if (
        rest === undefined ||
        taken.startSeconds < rest.earliestSeconds ||
        taken.startSeconds > rest.latestSeconds
      )
        wrong.push(`${name}: its break begins at ${taken.startSeconds}`);
    } else if (rest !== undefined && time > rest.latestSeconds) wrong.push(`${name}: no break`);
    const unpaid = taken !== undefined && rest?.paid === false ? rest.seconds : 0;
    if (route.endSeconds !== time) wrong.push(`${name}: ends ${route.endSeconds}, is ${time}`);
    if (time > shift.latestEndSeconds) wrong.push(`${name}: ends ${time} after ${shift.latestEndSeconds}`);
    if (load > vehicle.capacity) wrong.push(`${name}: load ${load} above ${vehicle.capacity}`);
    cost += shift.useCost + shift.secondCost * (time - shift.startSeconds - unpaid);
    if (time > shift.regularEndSeconds) cost += shift.overtimeSecondCost * (time - shift.regularEndSeconds);
  }

  problem.vehicles.forEach((vehicle, index) => {
    for (const { day, frozen } of vehicle.shifts) {
      const stops = plan.routes.find((route) => route.vehicle === index && route.day === day)?.stops ?? [];
      for (const [position, job] of (frozen ?? []).entries())
        if (stops[position]?.job !== job) wrong.push(`vehicle ${index} day ${day}: frozen job ${job} moved`);
    }
  });
  for (const { name, jobs, patterns } of problem.groups ?? []) {
    const days = jobs.map((j) => plan.routes.find(({ stops }) => stops.some(({ job }) => job === j))?.day);
    const held = jobs.filter((j) =>
      problem.vehicles.some(({ shifts }) => shifts.some(({ frozen }) => frozen?.includes(j) === true)),
    );
    const loose = days.some((day, k) => day !== undefined && !held.includes(Number(jobs[k])));
    if (loose && !patterns.some((pattern) => pattern.every((day, k) => days[k] === day)))
      wrong.push(`${name}: days ${days.join(' ')} are no pattern`);
  }
  let missed = 0;
  const left = new Set(plan.unassigned.map(({ job }) => job));
  if (left.size !== plan.unassigned.length) wrong.push('a job is left out twice');
  problem.jobs.forEach((job, index) => {
    if (seen.has(index) === left.has(index))
      wrong.push(`job ${index}: neither, or both, planned and left out`);
    if (!left.has(index)) return;
    if (job.penalty === undefined) missed += 1;
    else cost += job.penalty;
  });
  if (missed !== plan.missed) wrong.push(`missed ${plan.missed}, is ${missed}`);
  if (travelCost !== plan.travelCost) wrong.push(`travel cost ${plan.travelCost}, is ${travelCost}`);
  if (cost + travelCost !== plan.cost) wrong.push(`cost ${plan.cost}, is ${cost + travelCost}`);
  return wrong;
}

/** Whether the jobs, begun by leaving then, can all be in time and the route back by `end`, with the break on the way where one is owed. */
function isBackBy(
  end: number,
  order: readonly Job[],
  shift: Shift,
  leave: number,
  owed: Break | undefined,
  secondsBetween: (from: number, to: number) => number,
): boolean {
  // Each state: where it stands after so many stops, and whether the break is behind.
  const go = (done: number, at: number, time: number, rested: boolean): boolean => {
    const job = order[done];
    if (job === undefined) return rested && time + secondsBetween(at, shift.endPlace) <= end;
    const arrive = time + secondsBetween(at, job.place);
    const serve = (from: number, after: boolean): boolean => {
      const start = startOf(job, shift.day, from);
      if (start === undefined) return false;
      const over = start + job.serviceSeconds;
      const later = after ? undefined : restFrom(over);
      return (
        go(done + 1, job.place, over, after) || (later !== undefined && go(done + 1, job.place, later, true))
      );
    };
    const pausedUntil = rested ? undefined : restFrom(arrive);
    return serve(arrive, rested) || (pausedUntil !== undefined && serve(pausedUntil, true));
  };
  const restFrom = (time: number): number | undefined => {
    if (owed === undefined || time > owed.latestSeconds) return undefined;
    return Math.max(time, owed.earliestSeconds) + owed.seconds;
  };
  return go(0, shift.startPlace, leave, owed === undefined);
}

function startOf(job: Job, day: number, arrive: number): number | undefined {
  const promised = job.fixed?.startSeconds;
  if (promised !== undefined) return arrive <= promised ? promised : undefined;
  const windows = job.days.find((allowed) => allowed.day === day)?.windows ?? job.windows;
  if (windows.length === 0) return arrive;
  const window = windows.find(({ close }) => close >= arrive);
  return window === undefined ? undefined : Math.max(arrive, window.open);
}
