import type { AnyFact, FirmState, PropertyState } from '@sillwatch/trade';

/** What became of one fact of a batch. `accepted` and `already known` mean: on stable storage. */
export type Verdict =
  | { readonly id: string; readonly verdict: 'accepted'; readonly seq: number }
  | { readonly id: string; readonly verdict: 'already known'; readonly seq: number }
  | { readonly id: string; readonly verdict: 'refused'; readonly code: RefusalCode; readonly detail: string };

export type RefusalCode =
  | 'malformed'
  | 'other firm'
  | 'id reused with other content'
  | 'legal field missing'
  | 'not allowed';

export interface FactQuery {
  /** facts with a greater ledger position only */
  readonly afterSeq?: number;
  readonly property?: string;
  readonly station?: string;
  readonly kinds?: readonly string[];
  /** default 10,000 */
  readonly limit?: number;
}

export interface PropertyQuery {
  readonly branch?: string;
  /** words that name, street, town, customer or tag must contain, any case */
  readonly text?: string;
  /** property id after which to go on (rows come ordered by id) */
  readonly after?: string;
  readonly limit?: number;
}

export type ChainCheck =
  | { readonly sound: true; readonly facts: number; readonly head: string }
  | { readonly sound: false; readonly facts: number; readonly brokenAtSeq: number; readonly why: string };

/**
 * Append-only facts of firms and what is computed from them. One contract, three adapters: memory, SQLite, PostgreSQL.
 * Every call is scoped by firm; no call reaches across firms.
 */
export interface Ledger {
  /**
   * Appends a batch in one transaction, in the order given, and resolves when it is on stable storage.
   * Idempotent: the same fact again is `already known`; a refused fact does not hold up the others.
   * Projections of the properties touched are renewed in the same transaction.
   */
  append(firm: string, facts: readonly AnyFact[], receivedAt: string): Promise<readonly Verdict[]>;
  /** In ledger order, with receipts. */
  listFacts(firm: string, query?: FactQuery): Promise<readonly AnyFact[]>;
  findFact(firm: string, id: string): Promise<AnyFact | undefined>;
  findProperty(firm: string, property: string): Promise<PropertyState | undefined>;
  listProperties(firm: string, query?: PropertyQuery): Promise<readonly PropertyState[]>;
  getFirm(firm: string): Promise<FirmState>;
  /** Throws away the firm's projections and computes them anew from its facts. */
  rebuild(firm: string, onProgress?: (done: number, total: number) => void): Promise<void>;
  /** Walks the firm's hash chain from the first fact. */
  verify(firm: string, onProgress?: (done: number, total: number) => void): Promise<ChainCheck>;
  listFirms(): Promise<readonly string[]>;
  close(): Promise<void>;
}
