import { type Assignment, evaluateMove, type Job, type Problem, type Shift } from '@sillwatch/planner';
import { addDays, dayToText, findDay } from '@sillwatch/trade';
import type { Remedy } from './branchPlan.ts';
import type { PlanProblem } from './buildPlanProblem.ts';
import { momentText } from './clock.ts';
import { whyOff, withBreak } from './people.ts';

/** Overtime that is tried beyond what a person may be asked for, and days outside the window. */
const MOST_OVERTIME_SECONDS = 3 * 3600;
const DAYS_BEFORE = 7;
const DAYS_AFTER = 28;
/** Days without hours that are tried for "a day more". */
const MOST_EXTRA_DAYS = 14;
/** What giving up a property's hours, and learning a skill, stand for. */
const HOURS_GIVEN_UP_SECONDS = 3600;
const SKILL_SECONDS = 8 * 3600;

/**
 * What would make room for a visit that is in no round: the cheapest of each kind, cheapest first. Each is tried on the plan
 * with that one rule loosened, and kept only where it then breaks no rule that was kept before.
 */
export function findRemedies(built: PlanProblem, assignment: Assignment, job: number): readonly Remedy[] {
  const own = built.problem.jobs[job];
  if (own === undefined) throw new RangeError(`visit ${job} is not 0 to ${built.problem.jobs.length - 1}`);
  const found = [
    tryOvertime(built, assignment, job),
    tryAnotherDay(built, assignment, job, own),
    tryDayMore(built, assignment, job, own),
    own.windows.length === 0 ? undefined : tryWithoutHours(built, assignment, job, own),
    own.fixed?.vehicle === undefined ? undefined : tryAnotherPerson(built, assignment, job, own),
    own.skills === 0 ? undefined : trySkill(built, assignment, job, own),
    tryOneMore(built, job, own),
  ];
  return found.filter((remedy) => remedy !== undefined).sort((a, b) => a.costMinutes - b.costMinutes);
}

type Priced = Extract<Remedy, { readonly costMinutes: number }>;

export interface Tried {
  readonly vehicle: number;
  readonly day: number;
  readonly cost: number;
  readonly startSeconds: number;
  readonly endSeconds: number;
}

/** The cheapest way to put the job anywhere in a loosened problem without breaking a rule; `price` is added to its cost. */
export function tryEverywhere(
  problem: Problem,
  assignment: Assignment,
  job: number,
  mayBe: (vehicle: number, shift: Shift) => boolean = () => true,
  price: (tried: Tried) => number = () => 0,
): Tried | undefined {
  const days = new Set(problem.jobs[job]?.days.map(({ day }) => day));
  let best: Tried | undefined;
  problem.vehicles.forEach(({ shifts }, vehicle) => {
    for (const shift of shifts) {
      if (!days.has(shift.day) || !mayBe(vehicle, shift)) continue;
      const { costChange, addedViolations, to } = evaluateMove(problem, assignment, {
        job,
        vehicle,
        day: shift.day,
      });
      if (addedViolations > 0 || to.violations.some((violation) => violation.job === job)) continue;
      const bare = {
        vehicle,
        day: shift.day,
        cost: costChange,
        startSeconds: to.stops.find((stop) => stop.job === job)?.startSeconds ?? 0,
        endSeconds: to.endSeconds,
      };
      const tried = { ...bare, cost: costChange + price(bare) };
      if (best === undefined || tried.cost < best.cost) best = tried;
    }
  });
  return best;
}

function tryOvertime(built: PlanProblem, assignment: Assignment, job: number): Priced | undefined {
  const longer = (seconds: number): Problem => ({
    ...built.problem,
    vehicles: built.problem.vehicles.map((vehicle, index) => ({
      ...vehicle,
      shifts: vehicle.shifts.map((shift) =>
        withBreak(
          { ...shift, latestEndSeconds: shift.latestEndSeconds + seconds },
          built.people[index]?.body.breakMinutes ?? 0,
        ),
      ),
    })),
  });
  const tried = tryEverywhere(longer(MOST_OVERTIME_SECONDS), assignment, job);
  if (tried === undefined) return undefined;
  const shift = built.problem.vehicles[tried.vehicle]?.shifts.find(({ day }) => day === tried.day);
  const seconds = tried.endSeconds - (shift?.latestEndSeconds ?? 0);
  if (seconds <= 0) return undefined;
  return {
    kind: 'overtime',
    ...whoAndWhen(built, tried),
    minutes: Math.ceil(seconds / 60),
    costMinutes: toMinutes(tried.cost),
  };
}

function tryAnotherDay(
  built: PlanProblem,
  assignment: Assignment,
  job: number,
  own: Job,
): Priced | undefined {
  const need = built.needs[job];
  const earliest = indexOf(built, need?.earliest);
  const latest = indexOf(built, need?.latest);
  if (earliest === undefined || latest === undefined) return undefined;
  const last = own.days.reduce((late, { day }) => Math.max(late, day), latest);
  const known = new Set(own.days.map(({ day }) => day));
  const days = range(Math.max(0, earliest - DAYS_BEFORE), Math.min(built.problem.days - 1, last + DAYS_AFTER))
    .filter((day) => !known.has(day))
    .map((day) => ({ day, cost: built.weights.lateSeconds + built.weights.lateDaySeconds * outside(day) }));
  if (days.length === 0) return undefined;
  const tried = tryEverywhere(
    withJob(built.problem, job, { ...own, days, fixed: anyDay(own) }),
    assignment,
    job,
  );
  if (tried === undefined) return undefined;
  return {
    kind: 'another day',
    ...whoAndWhen(built, tried),
    daysOutside: tried.day < earliest ? tried.day - earliest : tried.day - latest,
    costMinutes: toMinutes(tried.cost),
  };

  function outside(day: number): number {
    return Math.max(0, (earliest ?? 0) - day, day - (latest ?? 0));
  }
}

/** A person who works on a day of the window on which he has no hours, as long as on his longest day. */
function tryDayMore(built: PlanProblem, assignment: Assignment, job: number, own: Job): Priced | undefined {
  const need = built.needs[job];
  const earliest = indexOf(built, need?.earliest);
  const latest = indexOf(built, need?.latest);
  if (earliest === undefined || latest === undefined) return undefined;
  const asked =
    own.fixed?.day === undefined ? range(earliest, latest).slice(0, MOST_EXTRA_DAYS) : [own.fixed.day];
  const problem: Problem = {
    ...withJob(built.problem, job, { ...own, days: asked.map((day) => ({ day, cost: 0 })) }),
    vehicles: built.problem.vehicles.map((vehicle, index) => ({
      ...vehicle,
      shifts: extraShifts(built, index, vehicle.shifts, asked),
    })),
  };
  const tried = tryEverywhere(
    problem,
    assignment,
    job,
    () => true,
    ({ vehicle, day, endSeconds }) => {
      const shift = problem.vehicles[vehicle]?.shifts.find((one) => one.day === day);
      return (endSeconds - (shift?.startSeconds ?? 0)) * built.weights.overtimeSecondCost;
    },
  );
  if (tried === undefined) return undefined;
  return { kind: 'a day more', ...whoAndWhen(built, tried), costMinutes: toMinutes(tried.cost) };
}

function extraShifts(
  built: PlanProblem,
  vehicle: number,
  shifts: readonly Shift[],
  days: readonly number[],
): readonly Shift[] {
  const person = built.people[vehicle]?.body.person ?? '';
  const works = new Set(shifts.map(({ day }) => day));
  const longest = shifts.reduce<Shift | undefined>(
    (best, shift) =>
      best === undefined ||
      shift.regularEndSeconds - shift.startSeconds > best.regularEndSeconds - best.startSeconds
        ? shift
        : best,
    undefined,
  );
  if (longest === undefined) return [];
  const { frozen: _, ...usual } = longest;
  return days
    .filter(
      (day) =>
        !works.has(day) &&
        whyOff(built.input, person, addDays(built.from, day)) === 'technician does not work that day',
    )
    .map((day) => ({ ...usual, day }));
}

function tryWithoutHours(
  built: PlanProblem,
  assignment: Assignment,
  job: number,
  own: Job,
): Priced | undefined {
  const days = own.days.map(({ day, cost }) => ({ day, cost }));
  const tried = tryEverywhere(withJob(built.problem, job, { ...own, days, windows: [] }), assignment, job);
  if (tried === undefined) return undefined;
  const { input, timeZone, from } = built;
  return {
    kind: 'give up the hours',
    ...whoAndWhen(built, tried),
    startsAt: momentText(input.clock, timeZone, addDays(from, tried.day), tried.startSeconds),
    costMinutes: toMinutes(tried.cost + HOURS_GIVEN_UP_SECONDS),
  };
}

function tryAnotherPerson(
  built: PlanProblem,
  assignment: Assignment,
  job: number,
  own: Job,
): Priced | undefined {
  const { day } = own.fixed ?? {};
  const fixed = day === undefined ? {} : { day };
  const tried = tryEverywhere(withJob(built.problem, job, { ...own, fixed }), assignment, job);
  if (tried === undefined) return undefined;
  return { kind: 'another technician', ...whoAndWhen(built, tried), costMinutes: toMinutes(tried.cost) };
}

function trySkill(built: PlanProblem, assignment: Assignment, job: number, own: Job): Priced | undefined {
  const tried = tryEverywhere(
    withJob(built.problem, job, { ...own, skills: 0 }),
    assignment,
    job,
    (vehicle) => (own.skills & ~(built.problem.vehicles[vehicle]?.skills ?? 0)) !== 0,
  );
  if (tried === undefined) return undefined;
  const missing = own.skills & ~(built.problem.vehicles[tried.vehicle]?.skills ?? 0);
  return {
    kind: 'a skill',
    ...whoAndWhen(built, tried),
    skills: built.skills.filter((_, bit) => (missing & (1 << bit)) !== 0),
    costMinutes: toMinutes(tried.cost + SKILL_SECONDS),
  };
}

/** A technician more, like one that there is but with every skill, who makes only this visit that day. */
function tryOneMore(built: PlanProblem, job: number, own: Job): Priced | undefined {
  const { fixed, ...free } = own;
  const onDay = fixed?.day === undefined ? {} : { fixed: { day: fixed.day } };
  const problem = withJob(built.problem, job, { ...free, ...onDay, skills: 0 });
  const tried = tryEverywhere(problem, [], job);
  if (tried === undefined) return undefined;
  return {
    kind: 'one technician more',
    day: dayToText(addDays(built.from, tried.day)),
    costMinutes: toMinutes(tried.cost + SKILL_SECONDS),
  };
}

function withJob(problem: Problem, job: number, changed: Job): Problem {
  return { ...problem, jobs: problem.jobs.with(job, changed) };
}

function anyDay({ fixed }: Job): NonNullable<Job['fixed']> {
  return fixed?.vehicle === undefined ? {} : { vehicle: fixed.vehicle };
}

function whoAndWhen(
  built: PlanProblem,
  { vehicle, day }: Pick<Tried, 'vehicle' | 'day'>,
): { readonly person: string; readonly day: string } {
  return {
    person: built.people[vehicle]?.body.person ?? '',
    day: dayToText(addDays(built.from, day)),
  };
}

function indexOf({ from }: PlanProblem, text: string | undefined): number | undefined {
  const day = text === undefined ? undefined : findDay(text);
  return day === undefined ? undefined : day - from;
}

function range(from: number, to: number): readonly number[] {
  return Array.from({ length: Math.max(0, to - from + 1) }, (_, index) => from + index);
}

function toMinutes(costSeconds: number): number {
  return Math.round(costSeconds / 60);
}
