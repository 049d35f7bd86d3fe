import { createSolver, type Plan } from '@sillwatch/planner';
import {
  type BranchPlan,
  buildPlanProblem,
  type PlanInput,
  type PlanProblem,
  planToRounds,
  readRounds,
} from '../../../src/index.ts';

export interface PlannedBranch {
  readonly built: PlanProblem;
  readonly plan: Plan;
  readonly rounds: BranchPlan;
}

/** Builds, searches so many steps (from what was published, if anything) and turns into rounds; new visits are numbered. */
export function planBranch(input: PlanInput, steps = 2000, seed = 1, prefix = 'visit'): PlannedBranch {
  const built = buildPlanProblem(input);
  const solver = createSolver(built.problem, seed, {
    horizon: steps,
    initial: readRounds(built, built.published).assignment,
  });
  solver.step(steps);
  const plan = solver.best();
  let count = 0;
  const newVisitId = (): string => {
    count += 1;
    return `${prefix}-${count}`;
  };
  return { built, plan, rounds: planToRounds(built, plan, { plan: `plan-${prefix}`, newVisitId }) };
}
