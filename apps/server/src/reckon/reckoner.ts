import { Worker } from 'node:worker_threads';
import { eachFactPage, type Ledger } from '@sillwatch/ledger';
import type { FigureName } from '@sillwatch/rounds';
import type { AnyFact, Day, FirmState } from '@sillwatch/trade';
import type { LoadAsked } from './loadAnswers.ts';

export interface FigureQuestion {
  readonly name: FigureName;
  readonly firm: FirmState;
  /** null = every branch */
  readonly branch: string | null;
  readonly asOf: Day;
}

export interface LoadQuestion {
  readonly name: 'load';
  readonly firm: FirmState;
  readonly asked: LoadAsked;
  readonly asOf: Day;
}

export type ReckonQuestion = FigureQuestion | LoadQuestion;
/** The firm's state is added here. */
export type AskedQuestion = Omit<FigureQuestion, 'firm'> | Omit<LoadQuestion, 'firm'>;

/** What the worker is sent: pages of facts, then the question. */
export type ReckonMessage =
  | { readonly kind: 'facts'; readonly facts: readonly AnyFact[] }
  | { readonly kind: 'question'; readonly question: ReckonQuestion };

/** An answer, or that it is still being reckoned. */
export type Reckoned =
  | { readonly state: 'done'; readonly json: string }
  | { readonly state: 'reckoning' }
  | { readonly state: 'failed'; readonly why: string };

export interface Reckoner {
  /** Starts reckoning when this was not asked before at this state of the ledger; waits `patienceMs` for the answer. */
  ask(firm: string, question: AskedQuestion, patienceMs: number): Promise<Reckoned>;
  close(): Promise<void>;
}

/** Answers kept; the one not asked for longest goes first. */
const MOST_ANSWERS = 60;
const MOST_MEMORY_MIB = 4096;
/** Figures reckoned at the same time; more wait for their turn. */
const MOST_AT_ONCE = 1;

/** Reckons figures in threads of their own, once for each state of a firm's ledger, and keeps the answers. */
export function createReckoner(ledger: Ledger): Reckoner {
  const answers = new Map<string, Promise<Reckoned>>();
  const workers = new Set<Worker>();
  const waiting: (() => void)[] = [];
  let atWork = 0;

  async function reckon(firm: string, question: AskedQuestion): Promise<Reckoned> {
    if (atWork >= MOST_AT_ONCE) await new Promise<void>((resolve) => waiting.push(resolve));
    atWork += 1;
    const worker = new Worker(new URL('./reckonWorker.ts', import.meta.url), {
      resourceLimits: { maxOldGenerationSizeMb: MOST_MEMORY_MIB },
    });
    workers.add(worker);
    const answer = new Promise<Reckoned>((resolve) => {
      worker.on('message', (json: string) => resolve({ state: 'done', json }));
      worker.on('error', (error) => resolve({ state: 'failed', why: String(error) }));
      worker.on('exit', () => resolve({ state: 'failed', why: 'the thread ended early' }));
    });
    try {
      const post = (message: ReckonMessage): void => worker.postMessage(message);
      for await (const facts of eachFactPage(ledger, firm)) post({ kind: 'facts', facts });
      post({ kind: 'question', question: { ...question, firm: await ledger.getFirm(firm) } });
      return await answer;
    } finally {
      workers.delete(worker);
      void worker.terminate();
      atWork -= 1;
      waiting.shift()?.();
    }
  }

  return {
    async ask(firm, question, patienceMs) {
      const { seq } = await ledger.findHead(firm);
      const key = JSON.stringify([firm, seq, question]);
      const known = answers.get(key);
      const answer =
        known ??
        reckon(firm, question)
          .catch((error: unknown): Reckoned => ({ state: 'failed', why: String(error) }))
          .then((reckoned) => {
            // A failure is not kept: the next question tries again.
            if (reckoned.state !== 'done') answers.delete(key);
            return reckoned;
          });
      answers.delete(key);
      answers.set(key, answer);
      const [oldest] = answers.keys();
      if (answers.size > MOST_ANSWERS && oldest !== undefined) answers.delete(oldest);
      let timer: NodeJS.Timeout | undefined;
      const late = new Promise<Reckoned>((resolve) => {
        timer = setTimeout(() => resolve({ state: 'reckoning' }), patienceMs);
      });
      const first = await Promise.race([answer, late]);
      clearTimeout(timer);
      return first;
    },
    async close() {
      await Promise.all([...workers].map((worker) => worker.terminate()));
    },
  };
}
