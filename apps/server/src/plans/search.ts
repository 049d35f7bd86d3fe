import { MessageChannel, type MessagePort, receiveMessageOnPort, Worker } from 'node:worker_threads';
import { type Assignment, createSolver, type Plan, type Solver } from '@sillwatch/planner';
import type { PlanProblem, TravelTable } from '@sillwatch/rounds';
import type { PlanProgress, SearchBudget, SearchNews, SearchStart } from './planTask.ts';

const PACE = 50;
const EXCHANGE_MILLISECONDS = 500;
const SHOW_MILLISECONDS = 3000;

export interface SearchWatch {
  readonly onProgress: (progress: PlanProgress) => void;
  /** The best plan so far, now and then, when it has become better. */
  readonly onBetter: (plan: Plan) => void;
}

/**
 * Searches until the budget is spent or `stop[0]` is set, in this thread and `budget.threads - 1` others that exchange their
 * best plans. Throws a RangeError that names the culprits when the problem cannot be searched.
 */
export function searchPlan(
  built: PlanProblem,
  travel: TravelTable,
  initial: Assignment | undefined,
  budget: SearchBudget,
  stop: Int32Array,
  watch: SearchWatch,
): Plan {
  const solver = createSolver(built.problem, budget.seed, initial === undefined ? {} : { initial });
  // Iterations are counted in one thread only: others would come and go by the clock.
  const helpers = budget.iterations === null ? startHelpers(built, travel, solver, budget, stop) : [];
  const begun = performance.now();
  let nextExchange = 0;
  let nextShow = SHOW_MILLISECONDS;
  let shown = Number.POSITIVE_INFINITY;
  for (;;) {
    const elapsed = performance.now() - begun;
    const share =
      budget.iterations === null
        ? elapsed / (budget.seconds * 1000)
        : solver.iterations() / budget.iterations;
    const isOver = share >= 1 || Atomics.load(stop, 0) !== 0;
    if (elapsed >= nextExchange || isOver) {
      nextExchange = elapsed + EXCHANGE_MILLISECONDS;
      exchange(solver, helpers);
      const best = solver.best();
      watch.onProgress(progressOf(built, best, elapsed, Math.min(1, share), solver, helpers));
      if (elapsed >= nextShow && solver.bestTotal() < shown) {
        shown = solver.bestTotal();
        nextShow = elapsed + SHOW_MILLISECONDS;
        watch.onBetter(best);
      }
    }
    if (isOver) break;
    solver.step(PACE, Math.min(1, share));
  }
  for (const { worker } of helpers) void worker.terminate();
  return solver.best();
}

interface Helper {
  readonly worker: Worker;
  /** Both threads are busy without a pause: messages are fetched, never waited for. */
  readonly port: MessagePort;
  /** The best total that this helper has, as far as known here. */
  total: number;
  iterations: number;
}

function startHelpers(
  { problem, places, weights }: PlanProblem,
  travel: TravelTable,
  solver: Solver,
  { seconds, seed, threads }: SearchBudget,
  stop: Int32Array,
): Helper[] {
  const { travel: _, ...portable } = problem;
  return Array.from({ length: Math.max(0, threads - 1) }, (_, n): Helper => {
    const { port1: port, port2 } = new MessageChannel();
    const start: SearchStart = {
      port: port2,
      problem: portable,
      places,
      travel,
      kilometreSeconds: weights.kilometreSeconds,
      seed: seed + n + 1,
      seconds,
      stop,
      snapshot: solver.snapshot(),
    };
    const worker = new Worker(new URL('./searchThread.ts', import.meta.url), {
      workerData: start,
      transferList: [port2],
    });
    // A helper that fails costs speed and nothing else.
    worker.on('error', () => {});
    worker.unref();
    return { worker, port, total: solver.bestTotal(), iterations: 0 };
  });
}

function exchange(solver: Solver, helpers: readonly Helper[]): void {
  for (const helper of helpers) {
    for (
      let got = receiveMessageOnPort(helper.port);
      got !== undefined;
      got = receiveMessageOnPort(helper.port)
    ) {
      const news: SearchNews = got.message;
      helper.iterations = news.iterations;
      helper.total = Math.min(helper.total, news.total);
      if (news.snapshot !== null && news.total < solver.bestTotal()) solver.adopt(news.snapshot);
    }
  }
  const total = solver.bestTotal();
  for (const helper of helpers) {
    if (helper.total <= total) continue;
    const news: SearchNews = { total, snapshot: solver.snapshot(), iterations: solver.iterations() };
    helper.port.postMessage(news);
    helper.total = total;
  }
}

function progressOf(
  { problem }: PlanProblem,
  plan: Plan,
  elapsed: number,
  share: number,
  solver: Solver,
  helpers: readonly Helper[],
): PlanProgress {
  return {
    elapsedSeconds: elapsed / 1000,
    share,
    iterations: helpers.reduce((sum, { iterations }) => sum + iterations, solver.iterations()),
    costMinutes: Math.round(plan.cost / 60),
    rounds: plan.routes.length,
    visits: problem.jobs.length - plan.unassigned.length,
    unplannedVisits: plan.unassigned.length,
    driveMinutes: Math.round(plan.travelCost / 60),
  };
}
