import type { AnyFact } from '@sillwatch/trade';
import type { Me } from '../../api/types.ts';
import type { FieldPropertyRow } from './port.ts';

/**
 * The phone's stable storage as the store needs it: rows by key in named tables, and transactions over them.
 * Two adapters: IndexedDB (idbShelf.ts) and memory (memoryShelf.ts: practice yard, tests).
 */
export interface Shelf {
  /**
   * Runs `use` in one transaction. Resolves when a written one is on stable storage, whole; rejects with
   * `ShelfFullError` for want of room and with the cause otherwise, and then nothing of it was stored.
   * `use` may await nothing but the transaction's own answers.
   */
  transact<T>(tables: readonly Table[], mode: Mode, use: (tx: ShelfTx) => Promise<T>): Promise<T>;
  close(): void;
}

/** `write soon`: what may be lost with the power, half-done input, without waiting for the disk. */
export type Mode = 'read' | 'write' | 'write soon';

export interface ShelfTx {
  get<K extends Table>(table: K, key: string): Promise<ShelfRows[K] | undefined>;
  /** In the order of their keys. */
  list<K extends Table>(table: K): Promise<readonly ShelfRows[K][]>;
  keys(table: Table): Promise<readonly string[]>;
  put<K extends Table>(table: K, key: string, row: ShelfRows[K]): Promise<void>;
  delete(table: Table, key: string): Promise<void>;
  clear(table: Table): Promise<void>;
}

export class ShelfFullError extends Error {}

export interface ShelfRows {
  readonly device: DeviceRow;
  readonly who: WhoRow;
  readonly firm: FirmRow;
  readonly outbox: OwnRow;
  readonly held: HeldRow;
  readonly marks: MarkRow;
  readonly listed: ListedRow;
  readonly photos: PhotoRow;
  /** Whole pictures, by content hash. */
  readonly pictures: Uint8Array<ArrayBuffer>;
  readonly thumbnails: Uint8Array<ArrayBuffer>;
  readonly drafts: unknown;
  readonly visits: VisitRow;
  readonly lock: LockRow;
  readonly log: LogRow;
  readonly reports: ReportRow;
}
export type Table = keyof ShelfRows;
export const TABLES: readonly Table[] = [
  'device',
  'who',
  'firm',
  'outbox',
  'held',
  'marks',
  'listed',
  'photos',
  'pictures',
  'thumbnails',
  'drafts',
  'visits',
  'lock',
  'log',
  'reports',
];

/** The key of tables that hold one row. */
export const ONE = 'one';

/** This store as a recording device. */
export interface DeviceRow {
  readonly device: string;
  /** of the last fact recorded; 0 = none yet */
  readonly seq: number;
  readonly clock: string | null;
}

export interface WhoRow {
  readonly me: Me;
  /** `former`: taken out of the firm; what the firm's is has been deleted here. */
  readonly standing: 'current' | 'former';
}

/** What the server said of the firm itself. */
export interface FirmRow {
  readonly facts: readonly AnyFact[];
  /** ledger position up to which they were fetched */
  readonly upTo: number;
  readonly names: readonly (readonly [id: string, name: string])[];
  /** Properties that work is open at within a week, the most urgent first; asked for only while no round is published. */
  readonly dueAt: readonly string[];
  readonly dueAskedAt: string | null;
}

/** A fact recorded here that is not yet among the facts fetched from the server. Key: its sequence, ten digits. */
export interface OwnRow {
  readonly fact: AnyFact;
  readonly state: 'waiting' | 'accepted' | 'refused' | 'set aside';
  readonly refusal: { readonly code: string; readonly detail: string; readonly at: string } | null;
}

/** The server's facts of one property, with receipts, in ledger order. */
export interface HeldRow {
  readonly property: string;
  readonly facts: readonly AnyFact[];
}

/** How far the facts of a property were fetched; apart from them, because every turn asks for all marks. */
export interface MarkRow {
  readonly property: string;
  readonly upTo: number;
  /** Asked for by hand: kept until this day; null = kept as long as it is among the coming work. */
  readonly takenUntil: string | null;
}

/** A line of the list as it was last made, so that a start need not fold a week's work; made anew when the key differs. */
export interface ListedRow {
  readonly property: string;
  readonly key: string;
  readonly row: FieldPropertyRow;
}

export interface PhotoRow {
  readonly hash: string;
  readonly mediaType: string;
  readonly bytes: number;
  /** `waiting` to be sent, `sent`, `refused` by the server for what it is */
  readonly state: 'waiting' | 'sent' | 'refused';
  /** The whole picture is here. */
  readonly whole: boolean;
  readonly takenAt: string;
}

export interface VisitRow {
  readonly visit: string;
  readonly day: string;
}

export interface LockRow {
  /** hex */
  readonly salt: string;
  readonly hash: string;
  readonly iterations: number;
  readonly wrong: number;
  /** ms since 1970 before which no further try is taken */
  readonly waitUntil: number;
}

export interface LogRow {
  readonly lastSentAt: string | null;
  readonly lastFetchedAt: string | null;
  readonly clockOffMs: number | null;
}

/** A report that the customer shall get of a visit, until the server has it in its own queue. Key: the visit. */
export interface ReportRow {
  readonly property: string;
  readonly visit: string;
  readonly askedAt: string;
  /** The server's own sentence why it cannot go; null = it waits for a line. */
  readonly refusal: string | null;
}

export function ownKey(seq: number): string {
  return String(seq).padStart(10, '0');
}
