import {
  type Assignment,
  assignmentOf,
  evaluatePlan,
  type Plan,
  type PlanEvaluation,
  type RouteEvaluation,
  type UnassignedReason,
  type Violation,
} from '@sillwatch/planner';
import { addDays, dayToText, type RoundBody, type RoundVisit } from '@sillwatch/trade';
import { compareKeys } from '../figures/compareKeys.ts';
import type { BranchPlan, BrokenRule, BrokenRuleCode, PlanTotals, UnplannedWork } from './branchPlan.ts';
import type { PlanProblem } from './buildPlanProblem.ts';
import { momentText } from './clock.ts';
import { explainLate } from './lateReasons.ts';
import { findLateWorks } from './lateWorks.ts';
import { type UnplannedReason, unplacedKey, type VisitNeed } from './need.ts';
import { findRemedies } from './remedies.ts';

export interface RoundsOptions {
  /** The id of the plan. */
  readonly plan: string;
  /** An id for a visit that was not published before: the records made at it will carry it. Never the same twice. */
  readonly newVisitId: (need: VisitNeed) => string;
  /** Unplanned visits, and late ones, for which remedies are sought (each takes some tenths of a second); default 20 of either. */
  readonly mostRemedies?: number;
}

const MOST_REMEDIES = 20;

/** A plan of the planner as rounds, with what is not in it and why. */
export function planToRounds(built: PlanProblem, plan: Plan, options: RoundsOptions): BranchPlan {
  const reasons = new Map(plan.unassigned.map(({ job, reason }) => [job, reason]));
  return assignmentToRounds(built, assignmentOf(plan), options, reasons);
}

/** Rounds of any assignment, a lead's own too: rules that it breaks are listed, not refused. */
export function assignmentToRounds(
  built: PlanProblem,
  assignment: Assignment,
  options: RoundsOptions,
  reasons: ReadonlyMap<number, UnassignedReason> = new Map(),
): BranchPlan {
  const evaluation = evaluatePlan(built.problem, assignment);
  const rounds = evaluation.routes
    .map((route) => toRound(built, route, options))
    .sort((a, b) => compareKeys(a.day, b.day) || compareKeys(a.person, b.person));
  const late = findLateWorks(built, rounds);
  const { input, timeZone, from, to, travel, people, released } = built;
  return {
    plan: options.plan,
    branch: input.branch,
    timeZone,
    from: dayToText(from),
    to: dayToText(to),
    travel: travel.source,
    rounds,
    people: people.map(({ body }) => ({ person: body.person, name: body.name })),
    unplanned: listUnplanned(built, assignment, evaluation.unassigned, options, reasons),
    late: explainLate(built, assignment, late, options.mostRemedies ?? MOST_REMEDIES),
    released,
    broken: evaluation.violations.flatMap((violation) => toBroken(built, violation)),
    totals: totalsOf(built, evaluation, late),
  };
}

/** What an evaluated plan comes to. */
export function totalsOf(
  { needs, people, problem, travel }: PlanProblem,
  evaluation: PlanEvaluation,
  late: BranchPlan['late'],
): PlanTotals {
  const minutes = (seconds: number): number => Math.round(seconds / 60);
  let visits = 0;
  let driveMetres = 0;
  let otherPerson = 0;
  for (const route of evaluation.routes) {
    visits += route.stops.length;
    driveMetres += metresOf({ problem, travel }, route);
    for (const { job } of route.stops) {
      const last = needs[job]?.lastPerson ?? null;
      if (last !== null && last !== people[route.vehicle]?.body.person) otherPerson += 1;
    }
  }
  return {
    rounds: evaluation.routes.length,
    visits,
    unplannedVisits: evaluation.unassigned.length,
    driveMetres,
    driveMinutes: minutes(evaluation.driveSeconds),
    workMinutes: minutes(evaluation.workSeconds),
    waitMinutes: minutes(evaluation.routes.reduce((sum, route) => sum + waitOf({ problem }, route), 0)),
    breakMinutes: minutes(evaluation.breakSeconds),
    overtimeMinutes: minutes(evaluation.overtimeSeconds),
    lateWorks: late.length,
    lateBefore: late.filter(({ wasLate }) => wasLate).length,
    otherPerson,
  };
}

/** Metres of a route, out and back. */
export function metresOf(
  { problem, travel }: Pick<PlanProblem, 'problem' | 'travel'>,
  { vehicle, day, stops }: RouteEvaluation,
): number {
  const shift = problem.vehicles[vehicle]?.shifts.find((one) => one.day === day);
  if (shift === undefined || stops.length === 0) return 0;
  let at = shift.startPlace;
  let metres = 0;
  for (const { job } of stops) {
    const place = problem.jobs[job]?.place ?? at;
    metres += travel.metres(at, place);
    at = place;
  }
  return Math.round(metres + travel.metres(at, shift.endPlace));
}

/** One evaluated route as a round. */
export function toRound(built: PlanProblem, route: RouteEvaluation, options: RoundsOptions): RoundBody {
  const { problem, people, needs, input, timeZone, from, travel } = built;
  const day = addDays(from, route.day);
  const moment = (seconds: number): string => momentText(input.clock, timeZone, day, seconds);
  const shift = problem.vehicles[route.vehicle]?.shifts.find((one) => one.day === route.day);
  let at = shift?.startPlace ?? 0;
  const visits = route.stops.map(({ job, startSeconds }): RoundVisit => {
    const need = getNeed(needs, job);
    const place = problem.jobs[job]?.place ?? at;
    const visit: RoundVisit = {
      visit: need.published?.visit ?? options.newVisitId(need),
      property: need.property,
      startsAt: moment(startSeconds),
      endsAt: moment(startSeconds + (problem.jobs[job]?.serviceSeconds ?? 0)),
      driveMinutes: Math.round(travel.seconds(at, place) / 60),
      driveMetres: Math.round(travel.metres(at, place)),
      works: need.works,
      asks: need.asks,
      frozen: need.published?.frozen ?? false,
    };
    at = place;
    return visit;
  });
  return {
    plan: options.plan,
    branch: input.branch,
    person: people[route.vehicle]?.body.person ?? '',
    day: dayToText(day),
    startsAt: moment(leavingSeconds(built, route)),
    endsAt: moment(route.endSeconds),
    breakMinutes: Math.round(route.breakSeconds / 60),
    travel: travel.source,
    visits,
  };
}

/** Leaves so as not to wait at the first property. */
function leavingSeconds({ problem }: Pick<PlanProblem, 'problem'>, route: RouteEvaluation): number {
  const shift = problem.vehicles[route.vehicle]?.shifts.find((one) => one.day === route.day);
  const first = route.stops[0];
  if (shift === undefined || first === undefined) return 0;
  const restsFirst = route.break !== undefined && route.break.startSeconds < first.startSeconds;
  return restsFirst ? shift.startSeconds : shift.startSeconds + first.startSeconds - first.arriveSeconds;
}

/** Waiting between leaving and coming back: not the wait that a later start spares. */
function waitOf(built: Pick<PlanProblem, 'problem'>, route: RouteEvaluation): number {
  const shift = built.problem.vehicles[route.vehicle]?.shifts.find((one) => one.day === route.day);
  return route.waitSeconds - (leavingSeconds(built, route) - (shift?.startSeconds ?? 0));
}

function listUnplanned(
  built: PlanProblem,
  assignment: Assignment,
  jobs: readonly number[],
  { mostRemedies = MOST_REMEDIES }: RoundsOptions,
  reasons: ReadonlyMap<number, UnassignedReason>,
): readonly UnplannedWork[] {
  const visits = jobs.map((job, index): UnplannedWork => {
    const need = getNeed(built.needs, job);
    const { property, works, asks, earliest, latest, published } = need;
    return {
      property,
      works,
      asks,
      reason: toReason(reasons.get(job) ?? 'noRoom'),
      earliest,
      latest,
      visit: published?.visit ?? null,
      key: unplacedKey(need),
      remedies: index < mostRemedies ? findRemedies(built, assignment, job) : null,
    };
  });
  const hopeless = built.hopeless.map(
    ({ property, works, asks, reason }): UnplannedWork => ({
      property,
      works,
      asks,
      reason,
      earliest: null,
      latest: null,
      visit: null,
      remedies:
        reason === 'no position'
          ? [{ kind: 'enter its position' }]
          : reason === 'no label profile'
            ? [{ kind: 'enter its label profile' }]
            : [],
    }),
  );
  return [...visits, ...hopeless];
}

function toReason(reason: UnassignedReason): UnplannedReason {
  switch (reason) {
    case 'noShiftOnItsDays':
      return 'nobody works on its days';
    case 'noVehicleWithSkills':
      return 'nobody has the skills';
    case 'promisedVehicleOff':
      return 'its person is away';
    case 'outOfReach':
      return 'too far or too long for a day';
    case 'noRoom':
      return 'no room';
    case 'tooMuchLoad':
    case 'notWorthIt':
      throw new Error(
        `a visit has neither a load nor a price of being left out, yet it is left out as ${reason}`,
      );
  }
}

/** Nothing for what an assignment of visits cannot do: load, a frozen start parted, a visit twice. */
export function toBroken(built: PlanProblem, violation: Violation): readonly BrokenRule[] {
  const { vehicle, day, job, amount, code } = violation;
  const found = brokenRuleOf(code);
  if (found === undefined) return [];
  const text = dayToText(addDays(built.from, day));
  const need = job === undefined ? undefined : getNeed(built.needs, job);
  const isInWindow = need !== undefined && need.earliest <= text && text <= need.latest;
  const rule = code === 'dayNotAllowed' && isInWindow ? 'not a visiting day of the property' : found;
  return [
    {
      rule,
      person: built.people[vehicle]?.body.person ?? '',
      day: text,
      property: need?.property ?? null,
      minutes: amount === undefined ? null : Math.ceil(amount / 60),
    },
  ];
}

function brokenRuleOf(code: Violation['code']): BrokenRuleCode | undefined {
  switch (code) {
    case 'late':
      return 'past the hours of the property';
    case 'pastLatestEnd':
      return 'past the working hours';
    case 'breakMissed':
      return 'no room for the break';
    case 'dayNotAllowed':
      return 'outside the due window';
    case 'promisedOtherDay':
      return 'promised for another day';
    case 'promisedOtherVehicle':
      return 'frozen with another technician';
    case 'skillMissing':
      return 'skill missing';
    // A person's shift has no longest time out.
    case 'outTooLong':
    case 'overloaded':
    case 'frozenMoved':
    case 'plannedTwice':
    case 'groupBroken':
      return undefined;
  }
}

export function getNeed(needs: readonly VisitNeed[], job: number): VisitNeed {
  const need = needs[job];
  if (need === undefined) throw new RangeError(`visit ${job} is not 0 to ${needs.length - 1}`);
  return need;
}
