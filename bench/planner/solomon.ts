/**
 * Gap to the best known value, one seed a run, in seconds of the processor. With several threads each has a seed of its own and as many seconds,
 * and the best of them counts: two cores for that time, without exchange.
 * `node bench/planner/solomon.ts [solomon|homberger|tsplib|pvrp|mdvrptw] [seconds] [runs] [name part] [threads]`
 */
import { isMainThread, parentPort, Worker, workerData } from 'node:worker_threads';
import { createSolver } from '@sillwatch/planner';
import { FAMILIES, type Family, type Instance, listInstances } from './public.ts';

interface Found {
  readonly gap: number;
  readonly iterations: number;
  readonly missed: number;
}

const words: readonly string[] = isMainThread ? process.argv.slice(2) : workerData.words;
const [wanted = 'solomon', seconds = '1', runs = '1', part = '', threads = '1'] = words;
const family = findFamily();
const budget = 1000 * Number(seconds);
if (!isMainThread) {
  const instance = listInstances(family).find(({ name }) => name === workerData.instance);
  if (instance !== undefined) parentPort?.postMessage(run(instance, workerData.seed));
} else await runAll();

function findFamily(): Family {
  const found = FAMILIES.find((name) => name === wanted);
  if (found === undefined) throw new Error(`Unknown family ${wanted}: use ${FAMILIES.join(', ')}.`);
  return found;
}

async function runAll(): Promise<void> {
  const gaps: number[] = [];
  const gapsByKind = new Map<string, number[]>();
  for (const instance of listInstances(family).filter(({ name }) => name.includes(part))) {
    const found: Found[] = [];
    for (let seed = 1; seed <= Number(runs); seed += 1)
      found.push(await runOn(Number(threads), instance, seed));
    found.sort((a, b) => a.gap - b.gap);
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
}

async function runOn(count: number, instance: Instance, seed: number): Promise<Found> {
  if (count === 1) return run(instance, seed);
  const found = await Promise.all(
    Array.from(
      { length: count },
      (_, n) =>
        new Promise<Found>((resolve, reject) => {
          const worker = new Worker(new URL(import.meta.url), {
            workerData: { words, instance: instance.name, seed: count * (seed - 1) + n + 1 },
          });
          worker.once('message', resolve);
          worker.once('error', reject);
        }),
    ),
  );
  return found.reduce((best, one) => (one.gap < best.gap ? one : best));
}

function run(instance: Instance, seed: number): Found {
  const started = process.threadCpuUsage();
  // Seconds of the processor, so that other work on the machine takes none of them.
  const spent = (): number => {
    const { user, system } = process.threadCpuUsage(started);
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
