import { availableParallelism } from 'node:os';
import type { Ledger } from '@sillwatch/ledger';
import type { RoundBody } from '@sillwatch/trade';
import { getDay } from '@sillwatch/trade';
import type { ServerDeps } from '../http/context.ts';
import { createToday } from '../work/days.ts';
import { openPlanDesk } from './planDesk.ts';
import type { PlanJob, PlanStore } from './planStore.ts';
import type { DeskAnswer, PlanProgress } from './planTask.ts';
import { readPlanTask, type TravelDesk } from './readTask.ts';

/** Takes waiting jobs one after the other, as long as the server runs. */
export interface PlanRunner {
  /** A job was added here: do not wait for the next look. */
  poke(): void;
  /** Gives back what it is at, with the best so far, so that the next start goes on from there. */
  stop(): Promise<void>;
}

export interface RunnerSettings {
  readonly store: PlanStore;
  readonly ledger: Ledger;
  readonly travel: TravelDesk;
  readonly deps: ServerDeps;
  /** default: one a core */
  readonly threads?: number;
}

/** Another server's jobs are looked for so often. */
const LOOK_MILLISECONDS = 2000;
const BEAT_MILLISECONDS = 500;
/** A worker that gave no sign of life for so long is taken for dead. */
const SILENT_MILLISECONDS = 20_000;
const KEPT_MILLISECONDS = 60 * 86_400_000;

export function startPlanRunner({ store, ledger, travel, deps, threads }: RunnerSettings): PlanRunner {
  const worker = deps.newId();
  const at = (milliseconds = deps.now()): string => new Date(milliseconds).toISOString();
  const ending = new AbortController();
  let running: Promise<void> = Promise.resolve();
  let busy = false;

  // With SQLite there is one server: what stands as running was cut off.
  const first = store.requeue(
    store.kind === 'sqlite' ? at(deps.now() + 1) : at(deps.now() - SILENT_MILLISECONDS),
  );
  const timer = setInterval(() => poke(), LOOK_MILLISECONDS);
  timer.unref();
  void first.then(
    () => poke(),
    (error) => deps.log.error({ error: String(error) }, 'planning jobs cannot be read'),
  );

  function poke(): void {
    if (busy || ending.signal.aborted) return;
    busy = true;
    running = work()
      .catch((error) => deps.log.error({ error: String(error) }, 'planning jobs cannot be taken'))
      .finally(() => {
        busy = false;
      });
  }

  async function work(): Promise<void> {
    await store.requeue(at(deps.now() - SILENT_MILLISECONDS));
    await store.forget(at(deps.now() - KEPT_MILLISECONDS));
    for (;;) {
      if (ending.signal.aborted) return;
      const job = await store.claim(worker, at());
      if (job === undefined) return;
      await run(job);
    }
  }

  async function run(job: PlanJob): Promise<void> {
    deps.log.info({ plan: job.id, branch: job.branch }, 'planning');
    const stopping = new AbortController();
    const signal = AbortSignal.any([ending.signal, stopping.signal]);
    const found: { progress: PlanProgress | null; rounds: readonly RoundBody[] | null } = {
      progress: null,
      rounds: null,
    };
    let isMine = true;
    let beating: Promise<void> = Promise.resolve();
    const beat = async (): Promise<void> => {
      const { progress, rounds } = found;
      found.progress = null;
      found.rounds = null;
      const { mine, stop } = await store.beat(job, worker, at(), { progress, rounds });
      isMine = mine;
      if (stop) stopping.abort(new Error('stopped'));
    };
    const beats = setInterval(() => {
      beating = beating.then(beat).catch((error) => {
        deps.log.warn({ plan: job.id, error: String(error) }, 'the progress of a plan could not be kept');
      });
    }, BEAT_MILLISECONDS);
    const answer = await searchJob(job, signal, found).catch((error) => {
      if (!signal.aborted) deps.log.error({ plan: job.id, error: String(error) }, 'planning failed');
      return undefined;
    });
    clearInterval(beats);
    await beating;
    if (!isMine) return;
    if (ending.signal.aborted) {
      // Rounds found by then are kept with the job.
      if (answer?.kind === 'plan') found.rounds = answer.result.plan.rounds;
      await beat();
      return store.release(job, worker);
    }
    const isStopped = stopping.signal.aborted;
    await store.finish(job, worker, {
      state:
        answer?.kind === 'plan' ? (isStopped ? 'cancelled' : 'done') : isStopped ? 'cancelled' : 'failed',
      at: at(),
      result: answer?.kind === 'plan' ? answer.result : null,
      why:
        answer === undefined
          ? isStopped
            ? 'stopped before a plan was found'
            : 'the server failed while planning'
          : answer.kind === 'refused'
            ? answer.why
            : null,
    });
    deps.log.info({ plan: job.id, outcome: answer?.kind ?? 'none' }, 'planned');
  }

  async function searchJob(
    job: PlanJob,
    signal: AbortSignal,
    found: { progress: PlanProgress | null; rounds: readonly RoundBody[] | null },
  ): Promise<DeskAnswer> {
    const { firm, id, branch, request } = job;
    const zone = (await ledger.getFirm(firm)).branches[branch]?.timeZone ?? 'UTC';
    const task = await readPlanTask(
      ledger,
      firm,
      {
        plan: id,
        branch,
        from: getDay(request.from),
        days: request.days,
        today: createToday(deps.now()).inZone(zone),
        draft: job.rounds,
      },
      travel,
      signal,
    );
    const desk = openPlanDesk(task);
    try {
      return await desk.search(
        {
          seconds: request.seconds,
          iterations: request.iterations,
          seed: request.seed,
          threads: threads ?? availableParallelism(),
        },
        signal,
        {
          onProgress: (progress) => {
            found.progress = progress;
          },
          onBetter: (rounds) => {
            found.rounds = rounds;
          },
        },
      );
    } finally {
      await desk.close();
    }
  }

  return {
    poke,
    stop: async () => {
      clearInterval(timer);
      ending.abort(new Error('the server is stopping'));
      await first.catch(() => {});
      await running;
    },
  };
}
