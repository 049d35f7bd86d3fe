import type { AnyFact } from '@sillwatch/trade';

/** One fact as it lies in a firm's ledger. The columns beside `text` only index it; `verify` checks that they agree. */
export interface Entry {
  readonly seq: number;
  readonly id: string;
  readonly property: string | null;
  readonly station: string | null;
  readonly kind: string;
  /** what recorded it: a phone, a terminal, the office's importer */
  readonly device: string;
  /** canonical JSON of the fact with its receipt */
  readonly text: string;
  /** SHA-256 of the hash before and `text`, 64 hex digits. See chain.ts. */
  readonly hash: string;
}

/** Where a firm's chain ends: position and hash of its last fact. */
export interface Head {
  readonly seq: number;
  readonly hash: string;
}

export function entryToFact(entry: { readonly text: string }): AnyFact {
  const fact: AnyFact = JSON.parse(entry.text);
  return fact;
}

/** The same fact as its device sent it. */
export function withoutReceipt(fact: AnyFact): AnyFact {
  if (!('receipt' in fact)) return fact;
  const { receipt: _, ...sent } = fact;
  return sent;
}
