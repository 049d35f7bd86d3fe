/** `node bench/ring/walk.ts`: closed walks on TSPLIB instances, share over the optimum and seconds, worst of three seeds. Goal: under 1 %. */
import { existsSync, readFileSync } from 'node:fs';
import { buildCosts, shortestWalk } from '@sillwatch/ring';

/** Proven optima: TSPLIB, G. Reinelt, "Optimal solutions for symmetric TSPs". */
const OPTIMA = [
  ['eil51', 426],
  ['berlin52', 7542],
  ['st70', 675],
  ['eil76', 538],
  ['kroA100', 21282],
  ['eil101', 629],
  ['lin105', 14379],
  ['ch130', 6110],
  ['a280', 2579],
  ['pr1002', 259045],
] as const;

for (const [name, optimum] of OPTIMA) {
  const file = new URL(`../../../shared/data/routing/tsplib/${name}.tsp`, import.meta.url);
  if (!existsSync(file)) {
    console.log(`${name}: not on this machine`);
    continue;
  }
  const points = [...readFileSync(file, 'utf8').matchAll(/^\s*\d+\s+([-\d.e+]+)\s+([-\d.e+]+)\s*$/gm)].map(
    (match) => [Number(match[1]), Number(match[2])] as const,
  );
  const costs = buildCosts(points.length, (from, to) => {
    const [ax, ay] = points[from] ?? [0, 0];
    const [bx, by] = points[to] ?? [0, 0];
    return Math.floor(Math.hypot(ax - bx, ay - by) + 0.5);
  });
  let worst = 0;
  let seconds = 0;
  for (const seed of [1, 2, 3]) {
    const started = performance.now();
    const { cost, order } = shortestWalk(costs, 'start', { seed });
    seconds += (performance.now() - started) / 1000;
    if (new Set(order).size !== points.length || cost < optimum) throw new Error(`${name}: not a tour`);
    worst = Math.max(worst, cost);
  }
  console.log(
    `${name}: worst ${worst}, ${((worst / optimum - 1) * 100).toFixed(2)} % over ${optimum}, ${(seconds / 3).toFixed(2)} s`,
  );
}
