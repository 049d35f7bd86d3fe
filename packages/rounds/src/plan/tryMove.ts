import { evaluateMove, evaluateRoute, type RouteEvaluation } from '@sillwatch/planner';
import { type Day, dayToText, findDay, type RoundBody } from '@sillwatch/trade';
import type { BrokenRule } from './branchPlan.ts';
import type { PlanProblem } from './buildPlanProblem.ts';
import { listMoves, type MovedVisit } from './moves.ts';
import { type ReleaseReason, unplacedKey } from './need.ts';
import { whyOff } from './people.ts';
import { getNeed, metresOf, type RoundsOptions, toBroken, toRound } from './planToRounds.ts';
import { type ReadRounds, readRounds } from './readRounds.ts';

/** A visit dragged to a person and a day; `position` (0 = first) where it is dropped between two others. */
export interface WantedMove {
  readonly day: string;
  readonly person: string;
  readonly position?: number;
}

export type MoveOutcome =
  | { readonly ok: true; readonly move: MoveResult }
  | { readonly ok: false; readonly why: MoveRefusal };

export type MoveRefusal =
  | { readonly code: 'no such visit' | 'no such technician' | 'day outside the plan' | 'no such position' }
  | { readonly code: 'cannot drive that day'; readonly reason: ReleaseReason };

/** What a move does, as differences to the rounds before it: more is positive. */
export interface MoveResult {
  readonly visit: string;
  readonly property: string;
  readonly driveMinutes: number;
  readonly driveMetres: number;
  readonly overtimeMinutes: number;
  /** All of it by the weights of the plan: driving, another day than aimed at, another technician, moved from what was published. */
  readonly costMinutes: number;
  /** How the day lies to the days on which every window is kept; `days` is 0 within them. */
  readonly due: { readonly standing: 'too early' | 'in its window' | 'late'; readonly days: number };
  /** Rules that the two rounds break after the move and did not before. */
  readonly broken: readonly BrokenRule[];
  /** The visit itself and every other whose time changes with it. */
  readonly moved: readonly MovedVisit[];
  /** The rounds it leaves and joins as they are then (an emptied one has no visits): to replace those of the same person and day. */
  readonly rounds: readonly RoundBody[];
}

/**
 * Tries a visit elsewhere without changing anything: minutes, miles and broken windows as data. `visit` is an id of the rounds or the
 * `key` of unplanned work; one that was in no round gets the id `newVisitId`, and its key where there is none.
 */
export function tryMove(
  built: PlanProblem,
  rounds: readonly RoundBody[],
  visit: string,
  wanted: WantedMove,
  read: ReadRounds = readRounds(built, rounds),
  newVisitId: RoundsOptions['newVisitId'] = unplacedKey,
): MoveOutcome {
  const job =
    [...read.visitByJob].find(([, id]) => id === visit)?.[0] ??
    built.needs.find((need) => !read.visitByJob.has(need.job) && unplacedKey(need) === visit)?.job;
  if (job === undefined) return { ok: false, why: { code: 'no such visit' } };
  const vehicle = built.people.findIndex(({ body }) => body.person === wanted.person);
  if (built.input.firm.technicians[wanted.person] === undefined)
    return { ok: false, why: { code: 'no such technician' } };
  const day = findDay(wanted.day);
  if (day === undefined || day < built.from || day > built.to)
    return { ok: false, why: { code: 'day outside the plan' } };
  const off = whyOff(built.input, wanted.person, day);
  if (off !== undefined || vehicle < 0)
    return {
      ok: false,
      why: { code: 'cannot drive that day', reason: off ?? 'technician does not work that day' },
    };
  const index = day - built.from;
  const { assignment } = read;
  const others = assignment.find((route) => route.vehicle === vehicle && route.day === index)?.jobs ?? [];
  const room = others.filter((other) => other !== job).length;
  if (
    wanted.position !== undefined &&
    !(Number.isInteger(wanted.position) && wanted.position >= 0 && wanted.position <= room)
  )
    return { ok: false, why: { code: 'no such position' } };
  const evaluation = evaluateMove(built.problem, assignment, {
    job,
    vehicle,
    day: index,
    ...(wanted.position === undefined ? {} : { position: wanted.position }),
  });
  const home = assignment.find(({ jobs }) => jobs.includes(job));
  const before = assignment
    .filter((route) => route === home || (route.vehicle === vehicle && route.day === index))
    .map((route) => evaluateRoute(built.problem, route.vehicle, route.day, route.jobs));
  const after = [evaluation.to, ...(evaluation.from === undefined ? [] : [evaluation.from])];
  const options: RoundsOptions = {
    plan: rounds[0]?.plan ?? '',
    newVisitId: (need) => read.visitByJob.get(need.job) ?? newVisitId(need),
  };
  const keepId = (route: RouteEvaluation): RoundBody => toRound(built, route, options);
  const changed = after.map(keepId);
  const placed = changed
    .flatMap(({ visits }) => visits)
    .find(
      (one) =>
        one.property === getNeed(built.needs, job).property && one.works === getNeed(built.needs, job).works,
    );
  const seconds = (of: 'driveSeconds' | 'overtimeSeconds'): number =>
    sum(after, (route) => route[of]) - sum(before, (route) => route[of]);
  const known = new Set(
    before.flatMap(({ violations }) =>
      violations.map((one) => `${one.code} ${one.job} ${one.vehicle} ${one.day}`),
    ),
  );
  return {
    ok: true,
    move: {
      visit: placed?.visit ?? visit,
      property: getNeed(built.needs, job).property,
      driveMinutes: Math.round(seconds('driveSeconds') / 60),
      driveMetres:
        sum(after, (route) => metresOf(built, route)) - sum(before, (route) => metresOf(built, route)),
      overtimeMinutes: Math.round(seconds('overtimeSeconds') / 60),
      costMinutes: Math.round(evaluation.costChange / 60),
      due: standingOn(built, job, day),
      broken: after
        .flatMap(({ violations }) => violations)
        .filter((one) => !known.has(`${one.code} ${one.job} ${one.vehicle} ${one.day}`))
        .flatMap((violation) => toBroken(built, violation)),
      moved: listMoves(before.map(keepId), changed, built.weights).moved,
      rounds: changed,
    },
  };
}

/** The rounds with those of a move in place of the old ones; emptied ones fall away. */
export function applyMove(rounds: readonly RoundBody[], move: MoveResult): readonly RoundBody[] {
  const keyOf = ({ person, day }: RoundBody): string => `${day} ${person}`;
  const changed = new Map(move.rounds.map((round) => [keyOf(round), round]));
  const kept = rounds.filter((round) => !changed.has(keyOf(round)));
  return [...kept, ...changed.values()]
    .filter(({ visits }) => visits.length > 0)
    .sort((a, b) => (keyOf(a) < keyOf(b) ? -1 : 1));
}

function standingOn(built: PlanProblem, job: number, day: Day): MoveResult['due'] {
  const { earliest, latest } = getNeed(built.needs, job);
  const text = dayToText(day);
  if (text < earliest) return { standing: 'too early', days: (findDay(earliest) ?? day) - day };
  if (text > latest) return { standing: 'late', days: day - (findDay(latest) ?? day) };
  return { standing: 'in its window', days: 0 };
}

function sum<T>(list: readonly T[], amount: (item: T) => number): number {
  return list.reduce((total, item) => total + amount(item), 0);
}
