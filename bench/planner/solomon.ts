/**
 * Gap to the best known value, one thread, one seed a run, in seconds of the processor.
 * `node bench/planner/solomon.ts [solomon|homberger|tsplib|pvrp|mdvrptw] [seconds] [runs] [name part]`
 */
import { createSolver } from '@sillwatch/planner';
import { FAMILIES, type Instance, listInstances } from './public.ts';

const [wanted = 'solomon', seconds = '1', runs = '1', part = ''] = process.argv.slice(2);
const family = FAMILIES.find((name) => name === wanted);
if (family === undefined) throw new Error(`Unknown family ${wanted}: use ${FAMILIES.join(', ')}.`);
const budget = 1000 * Number(seconds);
const gaps: number[] = [];
const gapsByKind = new Map<string, number[]>();
for (const instance of listInstances(family).filter(({ name }) => name.includes(part))) {
  const found = Array.from({ length: Number(runs) }, (_, seed) => run(instance, seed + 1)).sort(
    (a, b) => a.gap - b.gap,
  );
  const median = found[Math.floor(found.length / 2)];
  if (median === undefined) continue;
  gaps.push(median.gap);
  const kind =
    family === 'tsplib' || family === 'pvrp' || family === 'mdvrptw'
      ? family
      : instance.name.replace(/[0-9].*$/, '') + instance.name.replace(/^\D+/, '').slice(0, 1);
  gapsByKind.set(kind, [...(gapsByKind.get(kind) ?? []), median.gap]);
  console.log(
    `${instance.name.padEnd(10)} ${median.gap.toFixed(2).padStart(6)} %  ${(median.iterations / 1000).toFixed(0).padStart(5)} k iterations` +
      (median.missed > 0 ? `  ${median.missed} missed` : ''),
  );
}
for (const [kind, values] of gapsByKind)
  console.log(`${kind.padEnd(10)} ${mean(values).toFixed(2).padStart(6)} %`);
console.log(
  `mean of ${gaps.length} at ${seconds} s: ${mean(gaps).toFixed(3)} %, worst ${Math.max(...gaps).toFixed(2)} %`,
);

function run(instance: Instance, seed: number): { gap: number; iterations: number; missed: number } {
  const started = process.cpuUsage();
  // Seconds of the processor, so that other work on the machine takes none of them.
  const spent = (): number => {
    const { user, system } = process.cpuUsage(started);
    return (user + system) / 1000 / budget;
  };
  const solver = createSolver(instance.problem, seed);
  for (let share = spent(); share < 1; share = spent()) solver.step(50, share);
  const plan = solver.best();
  return {
    gap: (100 * (plan.cost - instance.bestKnown)) / instance.bestKnown,
    iterations: solver.iterations(),
    missed: plan.missed,
  };
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
