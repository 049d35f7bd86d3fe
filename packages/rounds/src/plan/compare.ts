import { type Assignment, evaluatePlan } from '@sillwatch/planner';
import type { RoundBody } from '@sillwatch/trade';
import { addDays, dayToText } from '@sillwatch/trade';
import type { PlanTotals } from './branchPlan.ts';
import type { PlanProblem } from './buildPlanProblem.ts';
import { planByHand } from './handPlan.ts';
import { findLateWorks } from './lateWorks.ts';
import { listMoves, type Moves } from './moves.ts';
import { getNeed, totalsOf } from './planToRounds.ts';
import { readRounds } from './readRounds.ts';

export interface PlanComparison {
  readonly plan: PlanTotals;
  /** The same visits as a careful person plans them (`planByHand`). */
  readonly byHand: PlanTotals;
  /** The rounds as they were sent out last, as far as they can still be driven; null = none were. */
  readonly last: PlanTotals | null;
  /** What the plan moves of them; null = none were. */
  readonly moves: Moves | null;
}

/** Rounds of a plan beside the ones sent out last and beside the work of a hand, all measured alike. */
export function comparePlans(built: PlanProblem, rounds: readonly RoundBody[]): PlanComparison {
  const { published, weights } = built;
  const hasLast = published.some(({ visits }) => visits.length > 0);
  return {
    plan: measureAssignment(built, readRounds(built, rounds).assignment),
    byHand: measureAssignment(built, planByHand(built)),
    last: hasLast ? measureAssignment(built, readRounds(built, published).assignment) : null,
    moves: hasLast ? listMoves(published, rounds, weights) : null,
  };
}

/** Miles, hours and late work of any assignment, whether it keeps the rules or not. */
export function measureAssignment(built: PlanProblem, assignment: Assignment): PlanTotals {
  const days = assignment.map(({ day, jobs }) => ({
    day: dayToText(addDays(built.from, day)),
    visits: jobs.map((job) => {
      const { property, works } = getNeed(built.needs, job);
      return { property, works };
    }),
  }));
  return totalsOf(built, evaluatePlan(built.problem, assignment), findLateWorks(built, days));
}
