import type { AnyFact } from '@sillwatch/trade';
import { RecordError } from './port.ts';
import { type OwnRow, ShelfFullError } from './shelf.ts';

/** By id, the one with a receipt winning, in ledger order. */
export function unionOf(a: readonly AnyFact[], b: readonly AnyFact[]): readonly AnyFact[] {
  if (b.length === 0) return a;
  const factsById = new Map(a.map((fact) => [fact.id, fact]));
  for (const fact of b) factsById.set(fact.id, fact);
  return [...factsById.values()].sort((x, y) => (x.receipt?.seq ?? 0) - (y.receipt?.seq ?? 0));
}

/** Two records may finish in another order than their sequence. */
export function mergeOwn(a: readonly OwnRow[], b: readonly OwnRow[]): readonly OwnRow[] {
  const rowsBySeq = new Map(a.map((row) => [row.fact.seq, row]));
  for (const row of b) rowsBySeq.set(row.fact.seq, row);
  return [...rowsBySeq.values()].sort((x, y) => x.fact.seq - y.fact.seq);
}

export function isOldRound({ kind, body }: AnyFact, oldest: string): boolean {
  if (kind !== 'round published' || typeof body !== 'object' || body === null || !('day' in body))
    return false;
  return typeof body.day === 'string' && body.day < oldest;
}

export function asRecordError(error: unknown): RecordError {
  if (error instanceof RecordError) return error;
  if (error instanceof ShelfFullError)
    return new RecordError('storage full', 'The phone has no room left for this app.', { cause: error });
  return new RecordError('storage failed', error instanceof Error ? error.message : String(error), {
    cause: error,
  });
}
