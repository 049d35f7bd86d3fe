import { Worker } from 'node:worker_threads';
import { eachFactPage, type Ledger } from '@sillwatch/ledger';
import { CORRECTION, ORDER_KINDS, ROUND_KINDS, STOCK_KINDS } from '@sillwatch/trade';
import { eachProperty } from '../work/firm.ts';
import type { ReckonAnswer, ReckonMessage, ReckonQuestion } from './questions.ts';

/** A thread that keeps one firm's facts for its figures. */
export interface FirmThread {
  /** Brings it up to the ledger's head and asks; one question at a time. Rejects when the thread ended or the ledger is away. */
  ask(question: ReckonQuestion): Promise<{ readonly json: string; readonly seq: number }>;
  end(): void;
  isEnded(): boolean;
}

const MOST_MEMORY_MIB = 6144;
const ALL_FACTS_OF_A_PROPERTY = 10_000_000;
/** Properties on their way to the thread at most, so that pages do not pile up in between. */
const AT_ONCE = 64;

const FIRM_KINDS: readonly string[] = [
  ...new Set([...STOCK_KINDS.filter((kind) => kind !== 'station seen'), ...ORDER_KINDS, ...ROUND_KINDS]),
  CORRECTION,
];

export function openFirmThread(ledger: Ledger, firm: string): FirmThread {
  const worker = new Worker(new URL('./reckonWorker.ts', import.meta.url), {
    resourceLimits: { maxOldGenerationSizeMb: MOST_MEMORY_MIB },
  });
  const waiting = new Map<number, { done(json: string): void; fail(why: Error): void }>();
  let asked = 0;
  /** Where the thread stands in the firm's ledger; 0 = it knows nothing. */
  let seq = 0;
  let ended = false;

  worker.on('message', (answer: ReckonAnswer) => {
    const asker = waiting.get(answer.number);
    waiting.delete(answer.number);
    if ('json' in answer) asker?.done(answer.json);
    else asker?.fail(new Error(answer.why));
  });
  const failAll = (why: Error): void => {
    ended = true;
    for (const asker of waiting.values()) asker.fail(why);
    waiting.clear();
  };
  worker.on('error', failAll);
  worker.on('exit', () => failAll(new Error('the thread ended early')));

  const post = (message: ReckonMessage): void => worker.postMessage(message);
  const breathe = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));

  async function sendProperty(property: string): Promise<void> {
    post({
      kind: 'property',
      property,
      facts: await ledger.listFacts(firm, { property, limit: ALL_FACTS_OF_A_PROPERTY }),
    });
    // Each takes about a millisecond of the thread that phones record through: they get their turn in between.
    await breathe();
  }

  async function sendFirm(): Promise<void> {
    for await (const facts of eachFactPage(ledger, firm, { kinds: FIRM_KINDS }))
      post({ kind: 'firm', facts: facts.filter(({ property }) => property === null) });
  }

  /** The position is read first: what is appended meanwhile is sent again at the next turn, which harms nothing. */
  async function fill(head: number): Promise<void> {
    await sendFirm();
    let inTurn = 0;
    for await (const { property } of eachProperty(ledger, firm, undefined)) {
      await sendProperty(property);
      inTurn += 1;
      if (inTurn % AT_ONCE === 0) await drained();
    }
    seq = head;
  }

  async function follow(): Promise<void> {
    const touched = new Set<string>();
    let reached = seq;
    for await (const facts of eachFactPage(ledger, firm, { afterSeq: seq })) {
      const ofFirm = facts.filter(({ property, kind }) => property === null && FIRM_KINDS.includes(kind));
      if (ofFirm.length > 0) post({ kind: 'firm', facts: ofFirm });
      for (const { property } of facts) if (property !== null) touched.add(property);
      reached = facts.at(-1)?.receipt?.seq ?? reached;
    }
    for (const property of touched) await sendProperty(property);
    seq = reached;
  }

  /** Resolves when the thread has read all that was sent. */
  function drained(): Promise<unknown> {
    return send({ kind: 'drain' });
  }

  function send(
    what:
      | { readonly kind: 'drain' }
      | { readonly kind: 'question'; readonly message: Omit<Question, 'number'> },
  ): Promise<string> {
    asked += 1;
    const number = asked;
    return new Promise<string>((done, fail) => {
      if (ended) {
        fail(new Error('the thread ended early'));
        return;
      }
      waiting.set(number, { done, fail });
      post(what.kind === 'drain' ? { kind: 'drain', number } : { ...what.message, number });
    });
  }

  return {
    async ask(question) {
      const head = (await ledger.findHead(firm)).seq;
      if (seq === 0) await fill(head);
      else if (head !== seq) await follow();
      const at = seq;
      const json = await send({
        kind: 'question',
        message: { kind: 'question', question, firm: await ledger.getFirm(firm) },
      });
      return { json, seq: at };
    },
    end() {
      void worker.terminate();
    },
    isEnded: () => ended,
  };
}

type Question = Extract<ReckonMessage, { readonly kind: 'question' }>;
