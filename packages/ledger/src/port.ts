import type { AnyFact, FirmState, PropertyState } from '@sillwatch/trade';
import type { Entry } from './core/entry.ts';

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
  /** what recorded them */
  readonly devices?: readonly string[];
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
  /** Where the firm's chain ends: position 0 when it has no fact. Changes exactly when a fact is added. */
  findHead(firm: string): Promise<{ readonly seq: number; readonly hash: string }>;
  close(): Promise<void>;
}

/** What the ledger takes from the trade room: the only code that knows what facts mean. */
export interface Folds {
  /** Raised when folded states change their shape or meaning; stored ones of another version are computed anew at opening. */
  readonly version: number;
  /** Kinds that `foldFirm` reads; facts of the firm of other kinds are not handed to it. */
  readonly firmKinds: readonly string[];
  foldProperty(facts: Iterable<AnyFact>): PropertyState;
  foldFirm(facts: Iterable<AnyFact>): FirmState;
  /** Asked for each fact before it is stored, without its receipt. */
  checkFact(value: unknown): FactCheck;
}

export type FactCheck =
  | { readonly ok: true }
  | { readonly ok: false; readonly code: 'malformed' | 'legal field missing'; readonly detail: string };

/** A ledger that can also be copied out and filled as a whole. What `openLedger` gives. */
export interface StoredLedger extends Ledger {
  /** Runs `use` on an unchanging view of all firms while appends go on beside it. */
  withSnapshot<T>(use: (snapshot: Snapshot) => Promise<T>): Promise<T>;
  /**
   * Fills an empty ledger in one transaction, keeping positions, receipts and hashes; throws `LedgerNotEmptyError` when
   * there is a fact already, and leaves nothing behind when the source throws.
   */
  load(source: AsyncIterable<LoadPart>): Promise<void>;
}

export interface Snapshot {
  readonly firms: readonly { readonly firm: string; readonly facts: number; readonly head: string }[];
  /** Stored facts of a firm in ledger order, page by page. */
  listEntries(firm: string): AsyncIterable<readonly Entry[]>;
}

/** Entries of one firm, in ledger order; parts of one firm follow each other. */
export interface LoadPart {
  readonly firm: string;
  readonly entries: readonly Entry[];
}
