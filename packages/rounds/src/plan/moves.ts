import { findMoment, type RoundBody, type RoundVisit } from '@sillwatch/trade';
import { compareKeys } from '../figures/compareKeys.ts';
import type { PlanWeights } from './weights.ts';
import { PLAN_WEIGHTS } from './weights.ts';

export const MOVE_KINDS = ['day', 'technician', 'time', 'gone', 'new'] as const;
export type MoveKind = (typeof MOVE_KINDS)[number];

export interface VisitPlace {
  readonly day: string;
  readonly person: string;
  /** RFC 3339 */
  readonly startsAt: string;
}

/** A visit that stands elsewhere than before. */
export interface MovedVisit {
  readonly visit: string;
  readonly property: string;
  readonly kinds: readonly MoveKind[];
  /** null = it is new */
  readonly before: VisitPlace | null;
  /** null = it is in no round any more */
  readonly after: VisitPlace | null;
  readonly wasFrozen: boolean;
}

export interface Moves {
  /** By the day before, then by the day after. */
  readonly moved: readonly MovedVisit[];
  readonly kept: number;
  /** Visits by what changed; one may count under several. */
  readonly counts: Readonly<Record<MoveKind, number>>;
  /** What the change stands for in technician's minutes, by the weights of the plan; new visits cost nothing. */
  readonly costMinutes: number;
}

/** A start that shifts by fewer minutes is no change that anybody notices. */
const SAME_TIME_MINUTES = 15;

/** What changes for customers and technicians between rounds that were sent out and others, visit by visit. */
export function listMoves(
  before: readonly RoundBody[],
  after: readonly RoundBody[],
  weights: PlanWeights = PLAN_WEIGHTS,
): Moves {
  const old = byVisit(before);
  const now = byVisit(after);
  const counts: Record<MoveKind, number> = { day: 0, technician: 0, time: 0, gone: 0, new: 0 };
  const moved: MovedVisit[] = [];
  let seconds = 0;
  for (const visit of new Set([...old.keys(), ...now.keys()])) {
    const was = old.get(visit);
    const is = now.get(visit);
    const one = was ?? is;
    if (one === undefined) continue;
    const kinds = kindsOf(was, is);
    if (kinds.length === 0) continue;
    for (const kind of kinds) counts[kind] += 1;
    seconds += kinds.reduce((sum, kind) => sum + costOf(kind, weights), 0);
    moved.push({
      visit,
      property: one.visit.property,
      kinds,
      before: was === undefined ? null : placeOf(was),
      after: is === undefined ? null : placeOf(is),
      wasFrozen: was?.visit.frozen ?? false,
    });
  }
  moved.sort(
    (a, b) =>
      compareKeys(a.before?.startsAt ?? '9', b.before?.startsAt ?? '9') ||
      compareKeys(a.after?.startsAt ?? '9', b.after?.startsAt ?? '9') ||
      compareKeys(a.visit, b.visit),
  );
  const changed = moved.filter((one) => one.before !== null).length;
  return { moved, kept: old.size - changed, counts, costMinutes: Math.round(seconds / 60) };
}

interface Sent {
  readonly round: RoundBody;
  readonly visit: RoundVisit;
}

function byVisit(rounds: readonly RoundBody[]): ReadonlyMap<string, Sent> {
  return new Map(
    rounds.flatMap((round) => round.visits.map((visit) => [visit.visit, { round, visit }] as const)),
  );
}

function placeOf({ round, visit }: Sent): VisitPlace {
  return { day: round.day, person: round.person, startsAt: visit.startsAt };
}

function kindsOf(was: Sent | undefined, is: Sent | undefined): readonly MoveKind[] {
  if (was === undefined) return ['new'];
  if (is === undefined) return ['gone'];
  const kinds: MoveKind[] = [];
  if (was.round.day !== is.round.day) kinds.push('day');
  if (was.round.person !== is.round.person) kinds.push('technician');
  if (kinds.length === 0 && minutesApart(was.visit.startsAt, is.visit.startsAt) >= SAME_TIME_MINUTES)
    kinds.push('time');
  return kinds;
}

function costOf(kind: MoveKind, weights: PlanWeights): number {
  switch (kind) {
    case 'day':
      return weights.movedDaySeconds;
    case 'technician':
      return weights.movedPersonSeconds;
    case 'gone':
      return weights.movedDaySeconds + weights.movedPersonSeconds;
    case 'time':
    case 'new':
      return 0;
  }
}

function minutesApart(a: string, b: string): number {
  const [from, to] = [findMoment(a), findMoment(b)];
  return from === undefined || to === undefined ? 0 : Math.abs(to.epochMs - from.epochMs) / 60_000;
}
