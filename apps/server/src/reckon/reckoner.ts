import type { Ledger } from '@sillwatch/ledger';
import type { Day } from '@sillwatch/trade';
import { type FirmThread, openFirmThread } from './firmThread.ts';
import type { ReckonQuestion } from './questions.ts';

/** An answer with its age, or that there is none yet. */
export type Reckoned =
  | {
      readonly state: 'done';
      readonly json: string;
      readonly asOf: Day;
      /** milliseconds since 1970 */
      readonly reckonedAt: number;
      /** Entries of the firm that came since and are not in it; it is being reckoned anew, or soon will be. */
      readonly behind: number;
      /** Why it could not be reckoned anew, last time; null = it could. */
      readonly failure: string | null;
    }
  | { readonly state: 'reckoning' }
  | { readonly state: 'failed'; readonly why: string };

export interface Reckoner {
  /**
   * The answer as of the ledger's head where it is known; else the last one, at once, while it is reckoned anew. Where there is none, or a new one takes but
   * a moment, it waits `patienceMs`.
   */
  ask(firm: string, question: ReckonQuestion, patienceMs: number): Promise<Reckoned>;
  close(): Promise<void>;
}

/** Answers kept; the one not asked for longest goes first. */
const MOST_ANSWERS = 200;
/** Firms whose facts stay in memory; the one not asked for longest ends. */
const MOST_THREADS = 3;
/** After this long without a question a firm's thread ends; its answers stay. */
const IDLE_MS = 30 * 60_000;
/** A question whose answer took longer than a moment rests four times as long, so that figures leave most of a core to others. */
const MOMENT_MS = 1500;
const REST = 4;
const LONGEST_REST_MS = 10 * 60_000;

interface Answer {
  last: { readonly json: string; readonly seq: number; readonly asOf: Day; readonly at: number } | undefined;
  /** how long the last reckoning took, waiting for others not counted */
  tookMs: number;
  restedAt: number;
  running: Promise<Reckoned> | undefined;
  failure: string | null;
}

interface Desk {
  readonly thread: FirmThread;
  readonly queue: { readonly question: ReckonQuestion; readonly start: () => void }[];
  isBusy: boolean;
  lastAskedAt: number;
}

/** Reckons figures in a thread for each firm and keeps the answers; `now` gives milliseconds since 1970. */
export function createReckoner(ledger: Ledger, now: () => number = Date.now): Reckoner {
  const answers = new Map<string, Answer>();
  const desks = new Map<string, Desk>();
  let isClosed = false;

  function openDesk(firm: string): Desk {
    const known = desks.get(firm);
    desks.delete(firm);
    const desk =
      known === undefined || known.thread.isEnded()
        ? { thread: openFirmThread(ledger, firm), queue: [], isBusy: false, lastAskedAt: now() }
        : known;
    desk.lastAskedAt = now();
    desks.set(firm, desk);
    for (const [other, { thread, isBusy }] of desks) {
      if (desks.size <= MOST_THREADS) break;
      if (isBusy || other === firm) continue;
      thread.end();
      desks.delete(other);
    }
    return desk;
  }

  const idle = setInterval(() => {
    for (const [firm, { thread, isBusy, lastAskedAt }] of desks)
      if (!isBusy && now() - lastAskedAt > IDLE_MS) {
        thread.end();
        desks.delete(firm);
      }
  }, IDLE_MS / 6);
  idle.unref();

  /** One question at a time; a load or a stock, for which somebody stands at the shelf, before figures. */
  async function takeTurn(desk: Desk, question: ReckonQuestion): Promise<void> {
    if (desk.isBusy) {
      await new Promise<void>((start) => {
        const place =
          question.name === 'load' ? desk.queue.findIndex((one) => one.question.name !== 'load') : -1;
        desk.queue.splice(place < 0 ? desk.queue.length : place, 0, { question, start });
      });
    }
    desk.isBusy = true;
  }

  function endTurn(desk: Desk): void {
    const next = desk.queue.shift();
    if (next === undefined) desk.isBusy = false;
    else next.start();
  }

  async function reckon(firm: string, question: ReckonQuestion, answer: Answer): Promise<Reckoned> {
    const desk = openDesk(firm);
    await takeTurn(desk, question);
    const started = now();
    try {
      if (isClosed) throw new Error('the server is stopping');
      const { json, seq } = await desk.thread.ask(question);
      answer.last = { json, seq, asOf: question.asOf, at: now() };
      answer.failure = null;
      return { state: 'done', json, asOf: question.asOf, reckonedAt: now(), behind: 0, failure: null };
    } catch (error) {
      answer.failure = String(error);
      // What it knows may be torn: the next question begins with a new thread.
      desk.thread.end();
      if (desks.get(firm) === desk) desks.delete(firm);
      return { state: 'failed', why: answer.failure };
    } finally {
      answer.tookMs = now() - started;
      const rest = answer.tookMs <= MOMENT_MS ? 0 : Math.min(LONGEST_REST_MS, REST * answer.tookMs);
      answer.restedAt = answer.failure === null ? now() + rest : 0;
      answer.running = undefined;
      endTurn(desk);
    }
  }

  function open(key: string): Answer {
    const answer = answers.get(key) ?? {
      last: undefined,
      tookMs: Number.POSITIVE_INFINITY,
      restedAt: 0,
      running: undefined,
      failure: null,
    };
    answers.delete(key);
    answers.set(key, answer);
    const [oldest] = answers.keys();
    if (answers.size > MOST_ANSWERS && oldest !== undefined) answers.delete(oldest);
    return answer;
  }

  return {
    async ask(firm, question, patienceMs) {
      const { seq } = await ledger.findHead(firm);
      const { asOf, ...undated } = question;
      const answer = open(JSON.stringify([firm, question.isDayNamed === true ? question : undated]));
      const { last } = answer;
      if (last !== undefined && last.seq === seq && last.asOf === asOf) return toReckoned(last, seq, null);
      // A first answer, and one of another day, is wanted whatever it costs; a renewal waits until the question has rested.
      const isRested = last === undefined || last.asOf !== asOf || now() >= answer.restedAt;
      if (isRested) answer.running ??= reckon(firm, question, answer);
      const isSoon = last === undefined || answer.tookMs <= patienceMs;
      const renewed =
        isSoon && answer.running !== undefined ? await within(answer.running, patienceMs) : undefined;
      if (renewed?.state === 'done') return renewed;
      if (last !== undefined) return toReckoned(last, seq, answer.failure);
      return renewed ?? { state: 'reckoning' };
    },
    async close() {
      isClosed = true;
      clearInterval(idle);
      for (const { thread } of desks.values()) thread.end();
      await Promise.all([...answers.values()].map(({ running }) => running));
    },
  };
}

function toReckoned(
  { json, seq, asOf, at }: NonNullable<Answer['last']>,
  head: number,
  failure: string | null,
): Reckoned {
  return { state: 'done', json, asOf, reckonedAt: at, behind: head - seq, failure };
}

/** Undefined when it takes longer. */
async function within<T>(promise: Promise<T>, ms: number): Promise<T | undefined> {
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<undefined>((resolve) => {
    timer = setTimeout(() => resolve(undefined), ms);
  });
  const first = await Promise.race([promise, late]);
  clearTimeout(timer);
  return first;
}
