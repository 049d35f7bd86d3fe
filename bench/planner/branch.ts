/**
 * An invented branch: properties in clusters on a plane, each due on a stretch of days; seconds to the first plan, cost over time, memory.
 * `node bench/planner/branch.ts [properties] [vehicles] [days] [seconds]`
 */
import { createSolver, type Job, type Problem, type Shift } from '@sillwatch/planner';

const [properties = 3000, vehicles = 8, days = 65, seconds = 20] = process.argv.slice(2).map(Number);
const METRES_A_SECOND = 11;
const DETOUR = 1.3;

const started = performance.now();
const problem = invent();
const solver = createSolver(problem, 1);
report('first plan');
for (let part = 1; part <= 4; part += 1) {
  const until = started + 1000 * seconds * (part / 4);
  while (performance.now() < until)
    solver.step(50, Math.min(1, (performance.now() - started) / (1000 * seconds)));
  report(`${(seconds * part) / 4} s`);
}

function report(name: string): void {
  const plan = solver.best();
  const megabytes = Math.round(process.memoryUsage().rss / 1_048_576);
  console.log(
    `${name.padEnd(12)} ${((performance.now() - started) / 1000).toFixed(1).padStart(6)} s  cost ${plan.cost}  missed ${plan.missed}` +
      `  routes ${plan.routes.length}  ${Math.round(solver.iterations() / 1000)} k iterations  ${megabytes} MB  bound ${solver.bound()}`,
  );
}

/** Places by a congruence, so that every run plans the same branch. */
function invent(): Problem {
  let state = 12_345;
  const random = (): number => {
    state = (Math.imul(state, 1_103_515_245) + 12_345) & 0x7fffffff;
    return (state >>> 8) / 0x800000;
  };
  const towns = Array.from({ length: 12 }, () => ({ x: 60_000 * random(), y: 60_000 * random() }));
  const x = new Float64Array(properties + 1).fill(30_000);
  const y = new Float64Array(properties + 1).fill(30_000);
  for (let p = 1; p <= properties; p += 1) {
    const town = towns[Math.floor(random() * towns.length)];
    x[p] = (town?.x ?? 0) + 8000 * (random() + random() - 1);
    y[p] = (town?.y ?? 0) + 8000 * (random() + random() - 1);
  }
  const drive = (from: number, to: number): number =>
    Math.round(
      (DETOUR * Math.hypot((x[from] ?? 0) - (x[to] ?? 0), (y[from] ?? 0) - (y[to] ?? 0))) / METRES_A_SECOND,
    );
  const shift = (day: number): Shift => ({
    day,
    startPlace: 0,
    endPlace: 0,
    startSeconds: 8 * 3600,
    regularEndSeconds: 16 * 3600,
    latestEndSeconds: 17 * 3600,
    useCost: 1800,
    secondCost: 0,
    overtimeSecondCost: 2,
  });
  const jobs = Array.from({ length: properties }, (_, p): Job => {
    const first = Math.floor(random() * Math.max(1, days - 10));
    const morning = random() < 0.1;
    return {
      name: `property ${p}`,
      place: p + 1,
      serviceSeconds: 1500 + 300 * Math.floor(random() * 6),
      days: Array.from({ length: Math.min(10, days) }, (_, k) => ({
        day: first + k,
        cost: 60 * Math.abs(k - 5),
      })),
      windows: morning ? [{ open: 8 * 3600, close: 12 * 3600 }] : [],
      skills: 0,
      load: 0,
      preferred: { vehicle: Math.floor(random() * vehicles), otherwise: 120 },
    };
  });
  return {
    days,
    travel: { kind: 'function', places: properties + 1, seconds: drive, most: 20_000, x, y },
    jobs,
    vehicles: Array.from({ length: vehicles }, (_, v) => ({
      name: `van ${v}`,
      skills: 0,
      capacity: 0,
      shifts: Array.from({ length: days }, (_, day) => shift(day)),
    })),
  };
}
