/** Runs in a worker thread: one more search on the same problem, which hands its best plans over and takes better ones. */
import { receiveMessageOnPort, workerData } from 'node:worker_threads';
import { createSolver } from '@sillwatch/planner';
import { problemOfStart } from './planProblemOf.ts';
import type { SearchNews, SearchStart } from './planTask.ts';

const start: SearchStart = workerData;
const { port } = start;
const PACE = 50;
const EXCHANGE_MILLISECONDS = 500;

const solver = createSolver(problemOfStart(start), start.seed);
solver.adopt(start.snapshot);
const begun = performance.now();
let told = solver.bestTotal();
let next = EXCHANGE_MILLISECONDS;
for (;;) {
  const elapsed = performance.now() - begun;
  const isOver = elapsed >= start.seconds * 1000 || Atomics.load(start.stop, 0) !== 0;
  if (elapsed >= next || isOver) {
    next = elapsed + EXCHANGE_MILLISECONDS;
    for (let got = receiveMessageOnPort(port); got !== undefined; got = receiveMessageOnPort(port)) {
      const news: SearchNews = got.message;
      if (news.snapshot !== null && news.total < solver.bestTotal()) solver.adopt(news.snapshot);
      told = Math.min(told, news.total);
    }
    const isBetter = solver.bestTotal() < told;
    const news: SearchNews = {
      total: solver.bestTotal(),
      snapshot: isBetter ? solver.snapshot() : null,
      iterations: solver.iterations(),
    };
    told = solver.bestTotal();
    port.postMessage(news);
  }
  if (isOver) break;
  solver.step(PACE, Math.min(1, elapsed / (start.seconds * 1000)));
}
port.close();
