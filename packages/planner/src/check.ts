import { findTimeline } from './leaving.ts';
import type { Break, Job, Problem, Shift, TimeWindow } from './problem.ts';
import { getJob, listWindows } from './timeline.ts';

/** A fault in a problem: `refused` problems cannot be planned at all, a job `leftOut` only costs its own place in the plan. */
export interface ProblemFault {
  readonly severity: 'refused' | 'leftOut';
  readonly code: FaultCode;
  /** Where: `job 12 (Oak Street 4)`, `vehicle 2 (Van B), day 3`, `travel`. */
  readonly culprit: string;
  /** What is wrong and what to do about it. */
  readonly message: string;
}

export type FaultCode =
  | 'notWhole'
  | 'outOfRange'
  | 'matrixNotSquare'
  | 'placeUnknown'
  | 'dayUnknown'
  | 'vehicleUnknown'
  | 'vehicleWithoutHours'
  | 'shiftTwiceADay'
  | 'windowUpsideDown'
  | 'windowsOutOfOrder'
  | 'dayTwice'
  | 'noDayAllowed'
  | 'windowNoDayMeets'
  | 'longerThanAnyRoute'
  | 'breakOutsideShift'
  | 'groupJobUnknown'
  | 'groupJobTwice'
  | 'patternMisfit'
  | 'frozenJobUnknown'
  | 'frozenJobTwice'
  | 'frozenNotAllowed'
  | 'frozenOutOfTime'
  | 'totalsOverflow';

/** Times stay below this, so that no sum of a time and a travel leaves 32 bits. */
export const MAX_SECONDS = 1_000_000_000;
/** Pairs of places looked at when travel is a function: all of them would take too long. */
const SAMPLED_PAIRS = 20_000;

/** Every fault of a problem, each with its culprit; empty when it can be planned whole. Does not change or keep the problem. */
export function checkProblem(problem: Problem): readonly ProblemFault[] {
  const faults: ProblemFault[] = [];
  const refuse = (code: FaultCode, culprit: string, message: string): void => {
    faults.push({ severity: 'refused', code, culprit, message });
  };
  const whole = (value: number, low: number, high: number, culprit: string, name: string): boolean => {
    if (!Number.isInteger(value)) refuse('notWhole', culprit, `${name} is ${value}; give a whole number.`);
    else if (value < low || value > high)
      refuse('outOfRange', culprit, `${name} is ${value}; give ${low} to ${high}.`);
    else return true;
    return false;
  };

  whole(problem.days, 1, 10_000, 'problem', 'days');
  const { places } = problem.travel;
  whole(places, 1, 1_000_000, 'travel', 'places');
  const travel = checkTravel(problem, refuse);
  if (faults.length > 0) return faults;

  const isPlace = (place: number): boolean => Number.isInteger(place) && place >= 0 && place < places;
  const isDay = (day: number): boolean => Number.isInteger(day) && day >= 0 && day < problem.days;
  const shiftsByDay: Shift[][] = Array.from({ length: problem.days }, () => []);
  let dearestShift = 0;
  let shiftTotal = 0;
  problem.vehicles.forEach((vehicle, index) => {
    const culprit = `vehicle ${index} (${vehicle.name})`;
    whole(vehicle.skills, -2_147_483_648, 2_147_483_647, culprit, 'skills');
    whole(vehicle.capacity, 0, MAX_SECONDS, culprit, 'capacity');
    if (vehicle.shifts.length === 0)
      refuse('vehicleWithoutHours', culprit, 'It has no shift on any day; give it hours or leave it out.');
    const seen = new Set<number>();
    for (const shift of vehicle.shifts) {
      const at = `${culprit}, day ${shift.day}`;
      if (!isDay(shift.day)) {
        refuse('dayUnknown', at, `Days are 0 to ${problem.days - 1}.`);
        continue;
      }
      if (seen.has(shift.day))
        refuse('shiftTwiceADay', at, 'It has two shifts on that day; join them or add a vehicle.');
      seen.add(shift.day);
      if (!isPlace(shift.startPlace) || !isPlace(shift.endPlace))
        refuse(
          'placeUnknown',
          at,
          `Start ${shift.startPlace} or end ${shift.endPlace} is not 0 to ${places - 1}.`,
        );
      const timed =
        whole(shift.startSeconds, 0, MAX_SECONDS, at, 'startSeconds') &&
        whole(shift.regularEndSeconds, 0, MAX_SECONDS, at, 'regularEndSeconds') &&
        whole(shift.latestEndSeconds, 0, MAX_SECONDS, at, 'latestEndSeconds');
      if (timed && shift.latestEndSeconds <= shift.startSeconds)
        refuse(
          'vehicleWithoutHours',
          at,
          'It ends no later than it starts; give it hours or leave the day out.',
        );
      const limited =
        shift.longestSeconds === undefined ||
        whole(shift.longestSeconds, 1, MAX_SECONDS, at, 'longestSeconds, the longest time out');
      const rested = shift.break === undefined || checkBreak(shift, shift.break, at, whole, refuse);
      const priced =
        whole(shift.useCost, 0, Number.MAX_SAFE_INTEGER, at, 'useCost') &&
        whole(shift.secondCost, 0, Number.MAX_SAFE_INTEGER, at, 'secondCost') &&
        whole(shift.overtimeSecondCost, 0, Number.MAX_SAFE_INTEGER, at, 'overtimeSecondCost');
      if (timed && limited && rested && priced) {
        const cost = worstShift(shift);
        dearestShift = Math.max(dearestShift, cost);
        shiftTotal += cost;
        shiftsByDay[shift.day]?.push(shift);
      }
    }
  });

  let jobTotal = 0;
  problem.jobs.forEach((job, index) => {
    const culprit = `job ${index} (${job.name})`;
    if (!isPlace(job.place)) refuse('placeUnknown', culprit, `Place ${job.place} is not 0 to ${places - 1}.`);
    whole(job.serviceSeconds, 0, MAX_SECONDS, culprit, 'serviceSeconds');
    whole(job.load, 0, MAX_SECONDS, culprit, 'load');
    whole(job.skills, -2_147_483_648, 2_147_483_647, culprit, 'skills');
    if (job.penalty !== undefined) whole(job.penalty, 0, Number.MAX_SAFE_INTEGER, culprit, 'penalty');
    if (job.preferred !== undefined) {
      whole(job.preferred.otherwise, 0, Number.MAX_SAFE_INTEGER, culprit, 'the cost of another vehicle');
      vehicleExists(job.preferred.vehicle, culprit);
    }
    if (job.fixed?.vehicle !== undefined) vehicleExists(job.fixed.vehicle, culprit);
    if (job.fixed?.day !== undefined && !isDay(job.fixed.day))
      refuse(
        'dayUnknown',
        culprit,
        `It is promised for day ${job.fixed.day}; days are 0 to ${problem.days - 1}.`,
      );
    if (job.fixed?.startSeconds !== undefined)
      whole(job.fixed.startSeconds, 0, MAX_SECONDS, culprit, 'the promised start');
    checkWindows(job.windows, culprit, whole, refuse);
    for (const { day, windows } of job.days)
      if (windows !== undefined) checkWindows(windows, `${culprit}, day ${day}`, whole, refuse);
    const seen = new Set<number>();
    for (const { day, cost } of job.days) {
      if (!isDay(day)) refuse('dayUnknown', culprit, `Day ${day} is not 0 to ${problem.days - 1}.`);
      if (seen.has(day)) refuse('dayTwice', culprit, `Day ${day} is listed twice; keep the cheaper.`);
      seen.add(day);
      whole(cost, 0, MAX_SECONDS, culprit, `cost of day ${day}`);
    }
    leaveOut(job, culprit);
    jobTotal += worstJob(job, travel.dearest);
  });
  checkGroups(problem, isDay, refuse);
  if (faults.every(({ severity }) => severity === 'leftOut')) checkFrozen(problem, refuse);

  // The must-do penalty is one more than everything else together, once for each job: see `worst` in tables.ts.
  const everything =
    (jobTotal + shiftTotal + 2 * travel.dearest * (problem.jobs.length + 1) + 1) * (problem.jobs.length + 1);
  if (!(everything <= Number.MAX_SAFE_INTEGER)) {
    const dearestLeg = travel.dearest >= dearestShift ? 'travel' : 'vehicles';
    refuse(
      'totalsOverflow',
      jobTotal > shiftTotal ? 'jobs' : dearestLeg,
      `The worst total, ${everything}, is above ${Number.MAX_SAFE_INTEGER}; use a coarser unit of cost.`,
    );
  }
  return faults;

  function vehicleExists(vehicle: number, culprit: string): void {
    if (problem.vehicles[vehicle] === undefined)
      refuse('vehicleUnknown', culprit, `Vehicle ${vehicle} is not 0 to ${problem.vehicles.length - 1}.`);
  }

  function leaveOut(job: Job, culprit: string): void {
    const add = (code: FaultCode, message: string): void => {
      faults.push({ severity: 'leftOut', code, culprit, message });
    };
    const shifts = job.days.flatMap(({ day }) => shiftsByDay[day] ?? []);
    if (shifts.length === 0) {
      add('noDayAllowed', 'No vehicle works on any day it may be done; allow another day or add a shift.');
      return;
    }
    const met = shifts.some((shift) => {
      const windows = listWindows(job, shift.day);
      return (
        windows.length === 0 ||
        windows.some(
          ({ open, close }) =>
            close >= shift.startSeconds &&
            Math.max(open, shift.startSeconds) + job.serviceSeconds <= shift.latestEndSeconds,
        )
      );
    });
    if (!met)
      add(
        'windowNoDayMeets',
        'None of its windows lies within any shift of its days; widen a window or a shift.',
      );
    else if (shifts.every(({ longestSeconds: longest }) => job.serviceSeconds > (longest ?? MAX_SECONDS)))
      add(
        'longerThanAnyRoute',
        `Its service takes ${job.serviceSeconds}, longer than any shift of its days may be out; split it or allow more.`,
      );
  }
}

type Refuse = (code: FaultCode, culprit: string, message: string) => void;
type Whole = (value: number, low: number, high: number, culprit: string, name: string) => boolean;

function checkGroups(problem: Problem, isDay: (day: number) => boolean, refuse: Refuse): void {
  const seen = new Set<number>();
  (problem.groups ?? []).forEach(({ name, jobs, patterns }, index) => {
    const culprit = `group ${index} (${name})`;
    for (const j of jobs) {
      if (problem.jobs[j] === undefined)
        refuse('groupJobUnknown', culprit, `Job ${j} is not 0 to ${problem.jobs.length - 1}.`);
      if (seen.has(j)) refuse('groupJobTwice', culprit, `Job ${j} is in a group twice; keep one.`);
      seen.add(j);
    }
    if (jobs.length === 0 || patterns.length === 0)
      refuse('patternMisfit', culprit, 'It has no jobs or no patterns; give it some or leave it out.');
    for (const pattern of patterns) {
      const sound = pattern.every(isDay) && new Set(pattern).size === jobs.length;
      if (sound && pattern.length === jobs.length) continue;
      const found = `days ${pattern.join(', ')} for ${jobs.length} jobs`;
      refuse('patternMisfit', culprit, `A pattern has ${found}; give each job a day of its own.`);
    }
  });
}

function checkBreak(shift: Shift, rest: Break, culprit: string, whole: Whole, refuse: Refuse): boolean {
  const sound =
    whole(rest.earliestSeconds, 0, MAX_SECONDS, culprit, 'earliest begin of the break') &&
    whole(rest.latestSeconds, 0, MAX_SECONDS, culprit, 'latest begin of the break') &&
    whole(rest.seconds, 0, MAX_SECONDS, culprit, 'length of the break');
  if (!sound) return false;
  const { earliestSeconds, latestSeconds, seconds } = rest;
  if (latestSeconds < earliestSeconds)
    refuse(
      'windowUpsideDown',
      culprit,
      `Its break begins by ${latestSeconds}, before ${earliestSeconds}; swap them.`,
    );
  const from = Math.max(shift.startSeconds, earliestSeconds);
  if (from > latestSeconds || from + seconds > shift.latestEndSeconds)
    refuse(
      'breakOutsideShift',
      culprit,
      `Its break of ${seconds} between ${earliestSeconds} and ${latestSeconds} does not fit the shift; move it or leave it out.`,
    );
  return true;
}

function checkWindows(windows: readonly TimeWindow[], culprit: string, whole: Whole, refuse: Refuse): void {
  let before = -1;
  for (const { open, close } of windows) {
    whole(open, 0, MAX_SECONDS, culprit, 'window opening');
    whole(close, 0, MAX_SECONDS, culprit, 'window closing');
    if (close < open)
      refuse(
        'windowUpsideDown',
        culprit,
        `A window closes at ${close} before it opens at ${open}; swap them.`,
      );
    if (open <= before)
      refuse(
        'windowsOutOfOrder',
        culprit,
        `The window from ${open} overlaps or precedes another; sort and join them.`,
      );
    before = Math.max(before, close);
  }
}

/** Frozen starts are taken as they are, so each must be allowed and in time by itself, the way back included. */
function checkFrozen(problem: Problem, refuse: Refuse): void {
  const frozen = new Set<number>();
  problem.vehicles.forEach((vehicle, index) => {
    for (const shift of vehicle.shifts) {
      const culprit = `vehicle ${index} (${vehicle.name}), day ${shift.day}`;
      const held = shift.frozen ?? [];
      let load = 0;
      for (const j of held) {
        const job = problem.jobs[j];
        if (job === undefined) {
          refuse('frozenJobUnknown', culprit, `Frozen job ${j} is not 0 to ${problem.jobs.length - 1}.`);
          continue;
        }
        if (frozen.has(j)) refuse('frozenJobTwice', culprit, `Job ${j} is frozen twice; keep one.`);
        frozen.add(j);
        load += job.load;
        const allowed =
          job.days.some(({ day }) => day === shift.day) &&
          (job.fixed?.day ?? shift.day) === shift.day &&
          (job.fixed?.vehicle ?? index) === index &&
          (job.skills & ~vehicle.skills) === 0 &&
          load <= vehicle.capacity;
        if (!allowed)
          refuse(
            'frozenNotAllowed',
            culprit,
            `Job ${j} (${job.name}) is frozen where its day, skills, promise or load forbid it.`,
          );
      }
      if (held.length === 0 || held.some((j) => problem.jobs[j] === undefined)) continue;
      const { stops, leaveSeconds, endSeconds, breakMissed } = findTimeline(problem, shift, held);
      for (const { job, startSeconds } of stops) {
        const windows = listWindows(getJob(problem, job), shift.day);
        if (windows.length > 0 && windows.every(({ close }) => close < startSeconds))
          refuse(
            'frozenOutOfTime',
            culprit,
            `Frozen job ${job} is reached at ${startSeconds}, after its windows; thaw it or move a window.`,
          );
      }
      if (breakMissed) refuse('frozenOutOfTime', culprit, 'Its frozen jobs leave no room for its break.');
      const out = endSeconds - leaveSeconds;
      if (out > (shift.longestSeconds ?? out))
        refuse(
          'frozenOutOfTime',
          culprit,
          `Its frozen jobs keep it out for ${out}, longer than ${shift.longestSeconds}; thaw some or allow more.`,
        );
      if (endSeconds > shift.latestEndSeconds)
        refuse(
          'frozenOutOfTime',
          culprit,
          `Its frozen jobs end at ${endSeconds}, after ${shift.latestEndSeconds}; thaw some or end later.`,
        );
    }
  });
}

/** The dearest leg; refuses a matrix that is not square or holds anything but whole numbers from 0 to MAX_SECONDS. */
function checkTravel(problem: Problem, refuse: Refuse): { readonly dearest: number } {
  const { travel } = problem;
  const { places } = travel;
  let dearest = 0;
  if (travel.kind === 'matrix') {
    for (const [name, values] of [
      ['seconds', travel.seconds],
      ['cost', travel.cost ?? travel.seconds],
    ] as const) {
      if (values.length !== places * places) {
        const found = `${values.length} entries for ${places} places`;
        refuse('matrixNotSquare', 'travel', `${name} has ${found}; a square one has ${places * places}.`);
        continue;
      }
      const bad = values.findIndex((value) => value < 0 || value > MAX_SECONDS);
      if (bad >= 0) {
        const pair = `from place ${Math.floor(bad / places)} to place ${bad % places}`;
        refuse('outOfRange', 'travel', `${name} ${pair} is ${values[bad]}; give 0 to ${MAX_SECONDS}.`);
      }
      if (name === 'cost') for (const value of values) if (value > dearest) dearest = value;
    }
    return { dearest };
  }
  if (travel.x.length !== places || travel.y.length !== places) {
    const found = `${travel.x.length} and ${travel.y.length} coordinates for ${places} places`;
    refuse('matrixNotSquare', 'travel', `There are ${found}; give one of each a place.`);
    return { dearest };
  }
  const { most } = travel;
  if (!Number.isInteger(most) || most < 0 || most > MAX_SECONDS) {
    refuse('outOfRange', 'travel', `most is ${most}; give a whole number from 0 to ${MAX_SECONDS}.`);
    return { dearest };
  }
  const stride = Math.max(1, Math.floor((places * places) / SAMPLED_PAIRS));
  for (let pair = 0; pair < places * places; pair += stride) {
    const from = Math.floor(pair / places);
    const to = pair % places;
    for (const ask of [travel.seconds, travel.cost ?? travel.seconds]) {
      const value = ask(from, to);
      if (!Number.isInteger(value) || value < 0 || value > most) {
        refuse(
          'outOfRange',
          'travel',
          `From place ${from} to place ${to} it answers ${value}; give a whole number from 0 to ${most}, its own most.`,
        );
        return { dearest };
      }
    }
  }
  return { dearest: most };
}

/** The most that one shift can cost beside its travel. */
export function worstShift(shift: Shift): number {
  const hours = shift.latestEndSeconds - shift.startSeconds;
  const overtime = Math.max(0, shift.latestEndSeconds - shift.regularEndSeconds);
  return shift.useCost + hours * shift.secondCost + overtime * shift.overtimeSecondCost;
}

/** The most that one job can cost: its dearest day, another vehicle, its penalty and two legs. */
export function worstJob(job: Job, dearestLeg: number): number {
  let dearestDay = 0;
  for (const { cost } of job.days) dearestDay = Math.max(dearestDay, cost);
  return Math.max(job.penalty ?? 0, dearestDay + (job.preferred?.otherwise ?? 0) + 2 * dearestLeg);
}
