import { setImmediate as breathe } from 'node:timers/promises';
import { Worker } from 'node:worker_threads';
import type { RoundBody } from '@sillwatch/trade';
import type {
  DeskAnswer,
  DeskMessage,
  DeskQuestion,
  PlanProgress,
  PlanTask,
  SearchBudget,
} from './planTask.ts';

/** A plan in a thread of its own, so that phones go on recording while it is searched and dragged about. */
export interface PlanDesk {
  /** Ends early, with the best so far, when `signal` aborts. */
  search(budget: SearchBudget, signal: AbortSignal, watch: DeskWatch): Promise<DeskAnswer>;
  ask(question: Exclude<DeskQuestion, { readonly kind: 'search' }>): Promise<DeskAnswer>;
  close(): Promise<void>;
}

export interface DeskWatch {
  readonly onProgress: (progress: PlanProgress) => void;
  readonly onBetter: (rounds: readonly RoundBody[]) => void;
}

const MOST_MEMORY_MIB = 2048;

const PROPERTIES_A_PIECE = 100;
const RECORDS_A_PIECE = 5;

export function openPlanDesk({ properties, records, ...head }: PlanTask): PlanDesk {
  const worker = new Worker(new URL('./planThread.ts', import.meta.url), {
    workerData: head,
    resourceLimits: { maxOldGenerationSizeMb: MOST_MEMORY_MIB },
  });
  worker.unref();
  const waiting = new Map<number, { resolve: (answer: DeskAnswer) => void; reject: (why: Error) => void }>();
  let asked = 0;
  let watch: DeskWatch | undefined;
  let ended: Error | undefined;

  const fail = (error: Error): void => {
    ended ??= error;
    for (const { reject } of waiting.values()) reject(error);
    waiting.clear();
    worker.unref();
  };
  worker.on('message', (message: DeskMessage) => {
    if ('progress' in message) watch?.onProgress(message.progress);
    else if ('rounds' in message) watch?.onBetter(message.rounds);
    else {
      waiting.get(message.number)?.resolve(message.answer);
      waiting.delete(message.number);
      if (waiting.size === 0) worker.unref();
    }
  });
  worker.on('error', (error) => fail(error instanceof Error ? error : new Error(String(error))));
  worker.on('exit', (code) => fail(new Error(`the thread of the plan ended with ${code}`)));

  /** Phones get their turn between two pieces. */
  const feed = async (): Promise<void> => {
    for (let at = 0; at < properties.length; at += PROPERTIES_A_PIECE) {
      worker.postMessage({
        piece: { properties: properties.slice(at, at + PROPERTIES_A_PIECE), records: [] },
      });
      await breathe();
    }
    for (let at = 0; at < records.length; at += RECORDS_A_PIECE) {
      worker.postMessage({ piece: { properties: [], records: records.slice(at, at + RECORDS_A_PIECE) } });
      await breathe();
    }
  };
  const fed = feed();

  const send = async (question: DeskQuestion): Promise<DeskAnswer> => {
    await fed;
    return new Promise((resolve, reject) => {
      if (ended !== undefined) return reject(ended);
      asked += 1;
      waiting.set(asked, { resolve, reject });
      worker.ref();
      worker.postMessage({ number: asked, question });
    });
  };
  return {
    ask: send,
    async search(budget, signal, given) {
      const stop = new Int32Array(new SharedArrayBuffer(4));
      const onAbort = (): void => {
        Atomics.store(stop, 0, 1);
      };
      if (signal.aborted) onAbort();
      signal.addEventListener('abort', onAbort);
      watch = given;
      try {
        return await send({ kind: 'search', budget, stop });
      } finally {
        watch = undefined;
        signal.removeEventListener('abort', onAbort);
      }
    },
    close: async () => {
      await worker.terminate();
    },
  };
}
