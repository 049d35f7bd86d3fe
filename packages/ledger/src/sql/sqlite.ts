import { closeSync, mkdirSync, openSync } from 'node:fs';
import { dirname, resolve } from 'node:path';
import type { SQLInputValue, StatementSync } from 'node:sqlite';
import { DatabaseSync } from 'node:sqlite';
import { setTimeout } from 'node:timers/promises';
import {
  CompiledQuery,
  type DatabaseConnection,
  type Driver,
  Kysely,
  type SqliteDatabase,
  SqliteDialect,
  type SqliteDialectConfig,
  SqliteDriver,
  type SqliteStatement,
} from 'kysely';
import { migrate } from './migrations.ts';
import type { SqlConnections } from './sqlLedger.ts';
import { SQLITE, type Tables } from './tables.ts';

/** How long a connection waits for another process (a command beside the server) to finish writing, milliseconds. */
const BUSY_MILLISECONDS = 10_000;
const RETRY_MILLISECONDS = 5;

/** Opens or makes the database file, durable (write-ahead log, an fsync at each commit), and brings its tables up to date. */
export async function openSqlite(path: string): Promise<SqlConnections> {
  mkdirSync(dirname(resolve(path)), { recursive: true });
  // A new file is for its owner alone: it holds customers' names and addresses. SQLite's side files take over its mode.
  closeSync(openSync(path, 'a', 0o600));
  const writer = openConnection(path, 'write');
  const write = toKysely(writer, 'begin immediate');
  try {
    await migrate(write, SQLITE);
  } catch (error) {
    await write.destroy();
    throw error;
  }
  const read = toKysely(openConnection(path, 'read'), 'begin');
  return {
    flavour: SQLITE,
    write,
    read,
    withFrozenView: async (use) => {
      const view = toKysely(openConnection(path, 'read'), 'begin');
      try {
        return await view.transaction().execute(use);
      } finally {
        await view.destroy();
      }
    },
    close: async () => {
      await read.destroy();
      await write.destroy();
    },
  };
}

/** A connection set as the ledger needs it; `read` refuses to write. */
export function openConnection(path: string, use: 'read' | 'write'): DatabaseSync {
  const db = new DatabaseSync(path, { enableForeignKeyConstraints: true, timeout: BUSY_MILLISECONDS });
  if (use === 'write') db.exec('pragma journal_mode = wal');
  db.exec('pragma synchronous = full');
  // 64 MiB of pages, kibibytes when negative: the indices of a large firm stay in memory during an import.
  db.exec('pragma cache_size = -65536');
  if (use === 'read') db.exec('pragma query_only = on');
  // From here on a writer waits in `beginTransaction`.
  if (use === 'write') db.exec('pragma busy_timeout = 0');
  return db;
}

function toKysely(db: DatabaseSync, begin: Begin): Kysely<Tables> {
  return new Kysely<Tables>({ dialect: new NodeSqliteDialect({ database: adaptDatabase(db) }, begin) });
}

/** A writer takes the lock at once: upgrading later fails when another process wrote in between. */
type Begin = 'begin' | 'begin immediate';

class NodeSqliteDialect extends SqliteDialect {
  readonly #config: SqliteDialectConfig;
  readonly #begin: Begin;

  constructor(config: SqliteDialectConfig, begin: Begin) {
    super(config);
    this.#config = config;
    this.#begin = begin;
  }

  override createDriver(): Driver {
    return new NodeSqliteDriver(this.#config, this.#begin);
  }
}

class NodeSqliteDriver extends SqliteDriver {
  readonly #begin: CompiledQuery;

  constructor(config: SqliteDialectConfig, begin: Begin) {
    super(config);
    this.#begin = CompiledQuery.raw(begin);
  }

  /** Waits for another writer without blocking the event loop, which SQLite's own waiting would do. */
  override async beginTransaction(connection: DatabaseConnection): Promise<void> {
    const deadline = performance.now() + BUSY_MILLISECONDS;
    for (;;) {
      try {
        await connection.executeQuery(this.#begin);
        return;
      } catch (error) {
        if (!isBusy(error) || performance.now() > deadline) throw error;
        await setTimeout(RETRY_MILLISECONDS);
      }
    }
  }
}

/** SQLite's result code for "another connection is writing". */
const SQLITE_BUSY = 5;

function isBusy(error: unknown): boolean {
  return error instanceof Error && 'errcode' in error && error.errcode === SQLITE_BUSY;
}

/** Statements kept prepared on a connection; batches of odd sizes make new ones, so the oldest go. */
const MOST_STATEMENTS = 100;

/** Gives `node:sqlite` the shape that Kysely's SQLite dialect expects of a driver. */
function adaptDatabase(db: DatabaseSync): SqliteDatabase {
  const statements = new Map<string, SqliteStatement>();
  return {
    close: () => {
      statements.clear();
      db.close();
    },
    prepare: (sql) => {
      const kept = statements.get(sql);
      if (kept !== undefined) return kept;
      const statement = adaptStatement(db.prepare(sql));
      const oldest = statements.keys().next();
      if (statements.size >= MOST_STATEMENTS && oldest.done !== true) statements.delete(oldest.value);
      statements.set(sql, statement);
      return statement;
    },
  };
}

function adaptStatement(statement: StatementSync): SqliteStatement {
  return {
    reader: statement.columns().length > 0,
    all: (values) => statement.all(...values.map(toInput)),
    run: (values) => statement.run(...values.map(toInput)),
    iterate: (values) => statement.iterate(...values.map(toInput)),
  };
}

function toInput(value: unknown): SQLInputValue {
  if (value === null || typeof value === 'string' || typeof value === 'number' || typeof value === 'bigint')
    return value;
  throw new TypeError(`SQLite cannot bind a value of type ${typeof value}`);
}
