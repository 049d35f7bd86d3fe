import { createSolver } from '@sillwatch/planner';
import { getDay } from '@sillwatch/trade';
import { expect, it } from 'vitest';
import { buildPlanProblem, PLAN_WEIGHTS } from '../../src/index.ts';
import { inventBranch } from './support/inventBranch.ts';

it('no visit of an invented branch stays late where its days are full of visits that can go elsewhere', () => {
  // Without the ruin of decision 0104 two to eight visits stay late after as many steps.
  const { problem } = buildPlanProblem(inventBranch(750, 2, 91, getDay('2026-11-25')));
  const solver = createSolver(problem, 1, { horizon: 4000 });
  solver.step(4000);
  const { routes, missed } = solver.best();
  const late = routes.flatMap(({ day, stops }) =>
    stops.filter(({ job }) => {
      const own = problem.jobs[job]?.days.find((allowed) => allowed.day === day);
      return own === undefined || own.cost >= PLAN_WEIGHTS.lateSeconds;
    }),
  );
  expect([missed, late]).toEqual([0, []]);
});
