import { availableParallelism } from 'node:os';
import { Worker } from 'node:worker_threads';
import type { FromPress, Pressed, PressFeed, PressJob, ToPress } from './pressJob.ts';

export interface PressLimits {
  /** Threads at most; they start with the first paper and end when none was asked for in `idleMs`. */
  readonly threads: number;
  /** Papers that wait, in all and of one firm with those being drawn; more are `busy`. */
  readonly mostWaiting: number;
  readonly mostOfFirm: number;
  /** One paper's time and memory; more is `too large`. */
  readonly mostMs: number;
  readonly mostMemoryMib: number;
  readonly idleMs: number;
}

export const PRESS_LIMITS: PressLimits = {
  // Two at least, so that a visit report never waits for a record of thousands.
  threads: Math.min(4, Math.max(2, availableParallelism() - 1)),
  mostWaiting: 40,
  mostOfFirm: 12,
  mostMs: 120_000,
  mostMemoryMib: 1024,
  idleMs: 300_000,
};

/** Draws papers in threads of their own, so that phones never wait for one. */
export interface Press {
  /**
   * The paper's bytes, or why there are none. `signal`: whoever asked has gone away, and the paper is given up.
   * Rejects when drawing fails by a fault of ours.
   */
  draw(firm: string, job: PressJob, signal: AbortSignal, feed?: PressFeed): Promise<Pressed>;
  close(): Promise<void>;
}

interface Order {
  readonly firm: string;
  readonly job: PressJob;
  readonly feed: PressFeed;
  readonly settle: (pressed: Pressed) => void;
  readonly fail: (error: Error) => void;
}

interface Running {
  readonly worker: Worker;
  readonly giveUp: () => void;
}

interface Thread {
  readonly worker: Worker;
  idle: NodeJS.Timeout | undefined;
}

export function createPress(limits: PressLimits = PRESS_LIMITS): Press {
  const waiting: Order[] = [];
  const atWork = new Map<Order, Running>();
  const free: Thread[] = [];
  let isClosed = false;

  /** Long papers never have all the threads. */
  function next(): Order | undefined {
    if (atWork.size >= limits.threads) return undefined;
    const long = [...atWork.keys()].filter(({ job }) => isLong(job)).length;
    const mayBeLong = limits.threads === 1 || long < limits.threads - 1;
    const place = waiting.findIndex(({ job }) => mayBeLong || !isLong(job));
    return place < 0 ? undefined : waiting.splice(place, 1)[0];
  }

  function startNext(): void {
    for (let order = next(); order !== undefined; order = next()) run(order);
  }

  function run(order: Order): void {
    const thread = free.pop() ?? startThread();
    const { worker } = thread;
    clearTimeout(thread.idle);
    worker.ref();
    const pieces: Uint8Array<ArrayBuffer>[] = [];
    const feeder = createFeeder(order.feed, (page) =>
      worker.postMessage({ kind: 'page', page } satisfies ToPress),
    );
    const timer = setTimeout(
      () => end(() => order.settle(tooLarge(`it takes longer than ${limits.mostMs / 1000} seconds`)), false),
      limits.mostMs,
    );

    function end(settle: () => void, isThreadSound: boolean): void {
      if (!atWork.delete(order)) return;
      clearTimeout(timer);
      worker.off('message', onMessage).off('error', onError).off('exit', onExit);
      void feeder.close();
      if (isThreadSound && !isClosed) rest(thread);
      else void worker.terminate();
      settle();
      startNext();
    }

    function onMessage(message: FromPress): void {
      switch (message.kind) {
        case 'open':
          feeder.open();
          break;
        case 'next':
          feeder.next().catch((error: unknown) => end(() => order.fail(errorOf(error)), false));
          break;
        case 'piece':
          pieces.push(message.bytes);
          break;
        case 'done':
          end(() => order.settle({ ok: true, pieces }), true);
          break;
        case 'refused':
          end(() => order.settle({ ok: false, reason: message.reason, why: message.why }), true);
          break;
      }
    }
    function onError(error: unknown): void {
      const outOfMemory =
        error instanceof Error && 'code' in error && error.code === 'ERR_WORKER_OUT_OF_MEMORY';
      const why = `it needs more than ${limits.mostMemoryMib} MiB of memory`;
      end(() => (outOfMemory ? order.settle(tooLarge(why)) : order.fail(errorOf(error))), false);
    }
    function onExit(code: number): void {
      end(() => order.fail(new Error(`the press ended with ${code}`)), false);
    }

    atWork.set(order, { worker, giveUp: () => end(() => order.settle(GONE), false) });
    worker.on('message', onMessage).on('error', onError).on('exit', onExit);
    worker.postMessage({ kind: 'job', job: order.job } satisfies ToPress);
  }

  function startThread(): Thread {
    const worker = new Worker(new URL('./pressWorker.ts', import.meta.url), {
      resourceLimits: { maxOldGenerationSizeMb: limits.mostMemoryMib },
    });
    const thread: Thread = { worker, idle: undefined };
    // One that dies while it rests is not given another paper.
    worker.on('error', () => leaveFree(thread)).on('exit', () => leaveFree(thread));
    return thread;
  }

  function leaveFree(thread: Thread): void {
    const place = free.indexOf(thread);
    if (place >= 0) free.splice(place, 1);
    clearTimeout(thread.idle);
  }

  /** Kept for the next paper: a thread that starts reads its fonts first. */
  function rest(thread: Thread): void {
    const { worker } = thread;
    worker.unref();
    thread.idle = setTimeout(() => {
      leaveFree(thread);
      void worker.terminate();
    }, limits.idleMs);
    thread.idle.unref();
    free.push(thread);
  }

  return {
    draw(firm, job, signal, feed = noFeed) {
      if (isClosed) return Promise.reject(new Error('the press is closed'));
      if (signal.aborted) return Promise.resolve(GONE);
      const ofFirm = [...atWork.keys(), ...waiting].filter((order) => order.firm === firm).length;
      if (waiting.length >= limits.mostWaiting || ofFirm >= limits.mostOfFirm)
        return Promise.resolve({
          ok: false,
          reason: 'busy',
          why: `${ofFirm} papers of this firm are being drawn or wait`,
        });
      return new Promise((resolve, reject) => {
        const onAbort = (): void => {
          const place = waiting.indexOf(order);
          if (place >= 0) waiting.splice(place, 1);
          // Nobody waits for this paper: its thread is stopped where it stands.
          if (place >= 0) order.settle(GONE);
          else atWork.get(order)?.giveUp();
        };
        const leave = (): void => signal.removeEventListener('abort', onAbort);
        const order: Order = {
          firm,
          job,
          feed,
          settle: (pressed) => {
            leave();
            resolve(pressed);
          },
          fail: (error) => {
            leave();
            reject(error);
          },
        };
        signal.addEventListener('abort', onAbort);
        waiting.push(order);
        startNext();
      });
    },
    async close() {
      isClosed = true;
      for (const order of waiting.splice(0)) order.fail(new Error('the server is stopping'));
      const workers = [...atWork.values(), ...free].map(({ worker }) => worker);
      await Promise.all(workers.map((worker) => worker.terminate()));
    },
  };
}

/** Made of all that a firm has recorded, or of many properties. */
function isLong({ kind }: PressJob): boolean {
  return kind === 'letters' || kind === 'record' || kind === 'bundle';
}

/** Reads a feed a page at a time, when the thread asks for one, so that it never stands in memory twice. */
function createFeeder(feed: PressFeed, post: (page: readonly unknown[] | null) => void) {
  let pages = feed()[Symbol.asyncIterator]();
  return {
    open(): void {
      pages = feed()[Symbol.asyncIterator]();
    },
    async next(): Promise<void> {
      const { value, done } = await pages.next();
      post(done === true ? null : value);
    },
    async close(): Promise<void> {
      await pages.return?.();
    },
  };
}

async function* noFeed(): AsyncGenerator<readonly unknown[]> {}

function tooLarge(why: string): Pressed {
  return { ok: false, reason: 'too large', why };
}

const GONE: Pressed = { ok: false, reason: 'gone', why: 'whoever asked for the paper went away' };

function errorOf(error: unknown): Error {
  return error instanceof Error ? error : new Error(String(error));
}
