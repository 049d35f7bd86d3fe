/**
 * One invented branch planned with growing budgets in seconds of the processor: how far each stays behind the longest, and the bound.
 * `node bench/rounds/budgets.ts [properties] [technicians] [days] [seconds …]`
 */
import { createSolver } from '@sillwatch/planner';
import { buildPlanProblem, readRounds } from '@sillwatch/rounds';
import { getDay } from '@sillwatch/trade';
import { inventBranch } from '../../packages/rounds/test/plan/support/inventBranch.ts';

const [properties = 3000, technicians = 8, days = 65, ...given] = process.argv.slice(2).map(Number);
const budgets = given.length === 0 ? [5, 60, 3600] : given;
const built = buildPlanProblem(inventBranch(properties, technicians, days, getDay('2026-11-25')));

const rows = budgets.map((seconds) => {
  const started = process.cpuUsage();
  const spent = (): number => {
    const { user, system } = process.cpuUsage(started);
    return (user + system) / 1e6 / seconds;
  };
  const solver = createSolver(built.problem, 1, {
    initial: readRounds(built, built.published).assignment,
  });
  for (let share = spent(); share < 1; share = spent()) solver.step(50, share);
  const { cost, missed, travelCost } = solver.best();
  const row = { seconds, cost, missed, travelCost, bound: solver.bound(), iterations: solver.iterations() };
  console.log(row);
  return row;
});
const least = Math.min(...rows.map(({ cost }) => cost));
for (const { seconds, cost } of rows)
  console.log(`${seconds} s: ${((100 * (cost - least)) / least).toFixed(2)} % above the best of these`);
