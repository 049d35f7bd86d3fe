/**
 * A plan of a branch end to end: building the problem from states, the first plan, the plan after so many seconds, back to rounds;
 * miles beside the same visits by hand. The invented firm, or a made-up branch whose stations have histories of their own.
 * `node bench/rounds/branch.ts [demo | properties] [technicians] [days] [seconds] [runs]`
 */
import { generateDemo } from '@sillwatch/demo';
import { createSolver } from '@sillwatch/planner';
import {
  buildPlanProblem,
  comparePlans,
  greatCircleTravel,
  type PlanInput,
  planToRounds,
  readRounds,
} from '@sillwatch/rounds';
import { foldFirm, foldProperty, getDay } from '@sillwatch/trade';
import { inventBranch } from '../../packages/rounds/test/plan/support/inventBranch.ts';

const [what = 'demo', ...rest] = process.argv.slice(2);
const [technicians = 8, days = 91, seconds = 60, runs = 3] = rest.map(Number);
const TODAY = getDay('2026-11-25');
const KILOMETRES_A_MILE = 1.609344;

const input = what === 'demo' ? demo() : inventBranch(Number(what), technicians, days, TODAY);
const rows = Array.from({ length: runs }, (_, run) => plan(input, run + 1));
for (const row of rows) console.log(row);
const keys = [
  'buildSeconds',
  'firstSeconds',
  'roundsSeconds',
  'miles',
  'hours',
  'saved',
  'megabytes',
] as const;
console.log('median', Object.fromEntries(keys.map((key) => [key, median(rows.map((row) => row[key]))])));

function plan(from: PlanInput, seed: number) {
  const started = performance.now();
  const since = (): number => (performance.now() - started) / 1000;
  const before = process.cpuUsage();
  const built = buildPlanProblem(from);
  const buildSeconds = since();
  const buildCpuSeconds = process.cpuUsage(before).user / 1e6;
  const solver = createSolver(built.problem, seed, {
    initial: readRounds(built, built.published).assignment,
  });
  const first = solver.best();
  const firstSeconds = since();
  const firstCpuSeconds = process.cpuUsage(before).user / 1e6;
  let noMiss = first.missed === 0 ? 0 : -1;
  let noMissSeconds = noMiss === 0 ? firstSeconds : -1;
  while (since() < seconds) {
    solver.step(50, since() / seconds);
    if (noMiss >= 0 || solver.iterations() % 250 !== 0 || solver.best().missed > 0) continue;
    noMiss = solver.iterations();
    noMissSeconds = since();
  }
  const searched = since();
  let count = 0;
  const made = planToRounds(built, solver.best(), {
    plan: 'bench',
    newVisitId: () => {
      count += 1;
      return `visit-${count}`;
    },
  });
  const roundsSeconds = since() - searched;
  const megabytes = Math.round(process.memoryUsage().rss / 1_048_576);
  const { plan: totals, byHand } = comparePlans(built, made.rounds);
  const toMiles = (metres: number): number => Math.round(metres / 1000 / KILOMETRES_A_MILE);
  return {
    visits: built.needs.length,
    buildSeconds: round(buildSeconds),
    buildCpuSeconds: round(buildCpuSeconds),
    firstSeconds: round(firstSeconds),
    firstCpuSeconds: round(firstCpuSeconds),
    iterationsToNoMiss: noMiss,
    secondsToNoMiss: round(noMissSeconds),
    roundsSeconds: round(roundsSeconds),
    missed: [first.missed, made.totals.unplannedVisits],
    rounds: [totals.rounds, byHand.rounds],
    late: [totals.lateWorks - totals.lateBefore, byHand.lateWorks - byHand.lateBefore],
    miles: toMiles(totals.driveMetres),
    milesByHand: toMiles(byHand.driveMetres),
    saved: round(1 - totals.driveMetres / byHand.driveMetres),
    hours: Math.round((totals.driveMinutes + totals.workMinutes) / 60),
    unplannedByHand: byHand.unplannedVisits,
    iterations: solver.iterations(),
    megabytes,
  };
}

function demo(): PlanInput {
  const { facts } = generateDemo({ seed: 7, today: TODAY });
  const byProperty = Map.groupBy(
    facts.filter(({ property }) => property !== null),
    ({ property }) => property,
  );
  return {
    properties: [...byProperty.values()].map((own) => foldProperty(own)),
    firm: foldFirm(facts),
    branch: 'branch-harbour',
    from: TODAY,
    days,
    rounds: [],
    travel: greatCircleTravel(),
    clock: () => -300,
  };
}

function median(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? 0;
}

function round(value: number): number {
  return Math.round(value * 1000) / 1000;
}
