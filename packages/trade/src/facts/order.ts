import { type Day, findMoment } from '../units/index.ts';
import type { AnyFact } from './fact.ts';

/** A device time this much after the receipt cannot be true; less is the drift of an honest clock. */
export const DRIFT_ALLOWED_MS = 5 * 60_000;

/** When a fact happened, as far as can be known: its own time, or that of its receipt where its own cannot be true. */
export interface Occurrence {
  readonly day: Day;
  readonly epochMs: number;
  readonly doubtful: boolean;
}

/** 2000-01-01T00:00:00Z: nothing was recorded on a phone before; a clock that says so was never set. */
const FIRST_PLAUSIBLE_MS = 946_684_800_000;

/**
 * Undefined when `at` is no time. Never refuses: a time after the receipt counts as the receipt's, a time before 2000
 * counts as written, and both are doubtful.
 */
export function occurrenceOf(at: string, receivedAt: string | undefined): Occurrence | undefined {
  const own = findMoment(at);
  if (own === undefined) return undefined;
  if (receivedAt !== undefined) {
    const received = findMoment(receivedAt);
    if (received !== undefined && own.epochMs > received.epochMs + DRIFT_ALLOWED_MS) {
      return { day: received.day, epochMs: received.epochMs, doubtful: true };
    }
  }
  return { day: own.day, epochMs: own.epochMs, doubtful: own.epochMs < FIRST_PLAUSIBLE_MS };
}

/** What places a fact among those recorded. */
export type Recorded = Pick<AnyFact, 'clock' | 'device' | 'seq' | 'id'>;

/** Order of recording: clock, then device, sequence, id. Negative when `a` comes first. */
export function compareRecorded(a: Recorded, b: Recorded): number {
  if (a.clock !== b.clock) return a.clock < b.clock ? -1 : 1;
  if (a.device !== b.device) return a.device < b.device ? -1 : 1;
  if (a.seq !== b.seq) return a.seq - b.seq;
  return a.id < b.id ? -1 : a.id > b.id ? 1 : 0;
}
