import type { SyncProblem } from '../store/port.ts';
import type { Reply } from './wire.ts';

export type TurnResult =
  | { readonly problem: null }
  | { readonly problem: SyncProblem; readonly retryAfterSeconds?: number };

/** Leaves the turn with its problem; caught in `syncTurn` only. */
export class Stop extends Error {
  readonly result: TurnResult;
  constructor(result: TurnResult) {
    super('sync turn ended');
    this.result = result;
  }
}

/** The value, or the end of the turn. */
export function orStop<T>(reply: Reply<T>): T {
  if (reply.ok) return reply.value;
  const { problem, retryAfterSeconds } = reply;
  throw new Stop(retryAfterSeconds === undefined ? { problem } : { problem, retryAfterSeconds });
}
