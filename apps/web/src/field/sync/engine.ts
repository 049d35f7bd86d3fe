import type { Notebook } from '../store/notebook.ts';
import type { SyncProblem, Watched } from '../store/port.ts';
import { createCell } from '../store/watch.ts';
import { backoffMs } from './backoff.ts';
import { syncTurn } from './turn.ts';
import type { Transport } from './wire.ts';

/** When nothing calls for it, a turn every so often while the app is open. */
const EVERY_MS = 120_000;
/** A record waits so long for the next one before it is sent, so that a station's facts go together. */
const SOON_MS = 1500;

export interface EngineDeps {
  readonly notebook: Notebook;
  readonly line: Transport;
  readonly now: () => number;
  readonly random: () => number;
  readonly isOnline: () => boolean;
  /** Runs `work` unless another tab of this store is at it; false = it was. */
  readonly alone: (work: () => Promise<void>) => Promise<boolean>;
  readonly setTimer: (run: () => void, ms: number) => () => void;
}

export interface EngineState {
  readonly running: boolean;
  readonly problem: SyncProblem | null;
  /** ms since 1970 */
  readonly nextTryAt: number | null;
}

export interface Engine {
  readonly state: Watched<EngineState>;
  /** A turn now; one that is under way is waited for and followed by another. */
  syncNow(): Promise<void>;
  /** Something was recorded: a turn soon, unless failures say to wait. */
  poke(): void;
  /** The line is back: the waits of earlier failures no longer count. */
  online(): void;
  stop(): void;
}

/** Sends and fetches by itself until `stop`: after a record, when the line comes back, every two minutes, after a growing wait when it failed. */
export function createEngine({ notebook, line, now, random, isOnline, alone, setTimer }: EngineDeps): Engine {
  const state = createCell<EngineState>({ running: false, problem: null, nextTryAt: null });
  const looked = new Map<string, number>();
  let failures = 0;
  let stopped = false;
  let cancel: () => void = () => {};
  let last: Promise<void> = Promise.resolve();
  let queued = 0;

  const plan = (ms: number): void => {
    cancel();
    if (stopped) return;
    cancel = setTimer(() => void run(), ms);
    state.set({ ...state.get(), nextTryAt: now() + ms });
  };

  const turn = async (): Promise<void> => {
    cancel();
    if (stopped) return;
    if (!isOnline()) {
      state.set({ running: false, problem: 'unreachable', nextTryAt: null });
      // What a browser says of the line is sometimes wrong, and midnight comes without one too.
      cancel = setTimer(() => void run(), EVERY_MS);
      return;
    }
    state.set({ ...state.get(), running: true, nextTryAt: null });
    let problem: SyncProblem | null = null;
    let wait = EVERY_MS;
    const ran = await alone(async () => {
      const result = await syncTurn(notebook, line, looked);
      problem = result.problem;
      failures = result.problem === null ? 0 : failures + 1;
      if (result.problem !== null) wait = backoffMs(failures, random, result.retryAfterSeconds);
    }).catch(() => {
      // The shelf failed under the turn (no room, closed by a newer tab): the next one finds out.
      problem = notebook.isFull ? 'storage full' : 'server trouble';
      failures += 1;
      wait = backoffMs(failures, random);
      return true;
    });
    if (!ran) wait = 5000;
    state.set({ running: false, problem, nextTryAt: null });
    if (problem !== 'no longer of the firm') plan(wait);
  };

  const run = (): Promise<void> => {
    // One under way and one to follow are enough, however many ask.
    if (queued < 2) {
      queued += 1;
      last = last.then(turn).finally(() => {
        queued -= 1;
      });
    }
    return last;
  };

  return {
    state,
    syncNow: run,
    poke() {
      if (failures === 0 && isOnline()) plan(SOON_MS);
    },
    online() {
      failures = 0;
      void run();
    },
    stop() {
      stopped = true;
      cancel();
    },
  };
}
