/** The tables as Kysely sees them. Every primary key begins with the firm, which is also the distribution key. */
export interface Tables {
  readonly ledger_head: HeadTable;
  readonly ledger_fact: FactTable;
  readonly ledger_property: PropertyTable;
  readonly ledger_firm: FirmTable;
  readonly ledger_migration: MigrationTable;
  readonly ledger_fold: FoldTable;
}

/** One row a firm: where its chain ends. Locked while a batch of that firm is appended. */
interface HeadTable {
  readonly firm: string;
  readonly seq: number;
  readonly hash: string;
}

interface FactTable {
  readonly firm: string;
  readonly seq: number;
  readonly id: string;
  readonly property: string | null;
  readonly station: string | null;
  readonly kind: string;
  readonly device: string;
  readonly text: string;
  readonly hash: string;
}

/** Projection: the folded state of a property, and what it is searched by. */
interface PropertyTable {
  readonly firm: string;
  readonly property: string;
  readonly branch: string | null;
  readonly search: string;
  readonly state: string;
}

/** Projection: what the firm's own facts say. */
interface FirmTable {
  readonly firm: string;
  readonly state: string;
}

/** One row: the version of the folds that made the projections. */
interface FoldTable {
  readonly version: number;
}

interface MigrationTable {
  readonly number: number;
  readonly name: string;
}

/** Where the two databases differ; everything else is one text for both. */
export interface Flavour {
  readonly name: 'sqlite' | 'postgres';
  /** Text that compares byte by byte, whatever the database's own collation. */
  readonly keyType: 'text' | 'text collate "C"';
  /** The device that the stored text of a fact names, for rows from before the column. */
  readonly deviceOfText: string;
  /** PostgreSQL locks the firm's head row; SQLite has one writer at a time anyway and no such words. */
  readonly locksRows: boolean;
  /** Taken at the start of a migration so that two servers starting at once do not run it twice. */
  readonly migrationLock: string | undefined;
}

export const SQLITE: Flavour = {
  name: 'sqlite',
  keyType: 'text',
  // A text that is no JSON was tampered with; the walk along the chain says so.
  deviceOfText: `case when json_valid(text) then json_extract(text, '$.device') end`,
  locksRows: false,
  migrationLock: undefined,
};

export const POSTGRES: Flavour = {
  name: 'postgres',
  keyType: 'text collate "C"',
  // Cut out of the text, for PostgreSQL reads no JSON that holds half a character or a zero byte, and notes may. Keys are sorted, so that device and firm
  // stand side by side, after the body; a quote inside a string has a backslash before it.
  deviceOfText: String.raw`('"' || substring(text from '^.*,"device":"((?:[^"\\]|\\.)*)","firm":') || '"')::json #>> '{}'`,
  locksRows: true,
  // The number is ours: "sill" in ASCII.
  migrationLock: 'select pg_advisory_xact_lock(1936288876)',
};
