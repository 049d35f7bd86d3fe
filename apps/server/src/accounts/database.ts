import { closeSync, mkdirSync, openSync } from 'node:fs';
import { dirname, resolve } from 'node:path';
import { DatabaseSync, type StatementSync } from 'node:sqlite';
import { parseLedgerUrl } from '@sillwatch/ledger';
import { type CompiledQuery, Kysely, PostgresDialect, SqliteDialect, sql } from 'kysely';
import pg from 'pg';

type Flag = boolean | number;
type Moment = Date | string;

/** The account library's tables as far as our own queries touch them, and one of ours (`accountSetup`). */
export interface AccountTables {
  user: {
    id: string;
    name: string;
    email: string;
    emailVerified: Flag;
    twoFactorEnabled: Flag | null;
    mustChangePassword: Flag | null;
    createdAt: Moment;
    updatedAt: Moment;
  };
  session: { id: string; userId: string; token: string; expiresAt: Moment };
  account: {
    id: string;
    accountId: string;
    providerId: string;
    userId: string;
    password: string | null;
    createdAt: Moment;
    updatedAt: Moment;
  };
  organization: { id: string; name: string; slug: string; createdAt: Moment };
  member: {
    id: string;
    organizationId: string;
    userId: string;
    role: string;
    createdAt: Moment;
    branch: string | null;
    licenceNumber: string | null;
    certificationNumber: string | null;
    removedAt: Moment | null;
  };
  twoFactor: { id: string; userId: string };
  verification: { id: string; value: string };
  /** One row at most: its primary key decides a race between two first set-ups. */
  accountSetup: { one: number; doneAt: Moment };
}

export type AccountKysely = Kysely<AccountTables>;

/** Where accounts live: the ledger's own SQLite file or its PostgreSQL. */
export interface AccountDatabase {
  readonly kind: 'sqlite' | 'postgres';
  readonly db: AccountKysely;
  /** Runs all statements in one transaction; any failure undoes all of them. */
  apply(statements: readonly CompiledQuery[]): Promise<void>;
  /** Runs `work` while no other server process does (schema changes at start). */
  alone(work: () => Promise<void>): Promise<void>;
  /** A moment and a flag in the form that this database's columns hold. */
  moment(milliseconds: number): Moment;
  flag(value: boolean): Flag;
  close(): Promise<void>;
}

/** `url` as the ledger reads it: nothing = memory, a path, or `postgres://`. */
export function openAccountDatabase(url: string | undefined): AccountDatabase {
  const target = parseLedgerUrl(url);
  switch (target.kind) {
    case 'postgres':
      return openPostgres(target.url);
    case 'sqlite':
      mkdirSync(dirname(resolve(target.path)), { recursive: true });
      // Made readable by its owner only: it holds password hashes and customers.
      closeSync(openSync(target.path, 'a', 0o600));
      return openSqlite(target.path);
    case 'memory':
      return openSqlite(':memory:');
  }
}

/**
 * A second connection to the ledger's file. No transaction is ever held over an `await` on it: a write lock that
 * waits for the event loop while the ledger's synchronous writer blocks that same loop would stop both
 * (docs/decisions/0060). So the library runs statement by statement, and our own writes are one tick.
 */
function openSqlite(file: string): AccountDatabase {
  const connection = new DatabaseSync(file);
  connection.exec(
    'PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL; PRAGMA busy_timeout=5000; PRAGMA foreign_keys=ON',
  );
  const prepare = createStatementStore(connection);
  const run = (query: CompiledQuery): void => {
    prepare(query.sql).run(...query.parameters.map(sqliteValue));
  };
  const db = new Kysely<AccountTables>({
    dialect: new SqliteDialect({
      database: {
        close: () => connection.close(),
        prepare: (text) => {
          const statement = prepare(text);
          return {
            reader: statement.columns().length > 0,
            all: (parameters) => statement.all(...parameters.map(sqliteValue)),
            run: (parameters) => statement.run(...parameters.map(sqliteValue)),
            iterate: (parameters) => statement.iterate(...parameters.map(sqliteValue)),
          };
        },
      },
    }),
  });
  return {
    kind: 'sqlite',
    db,
    apply: async (statements) => {
      connection.exec('BEGIN IMMEDIATE');
      try {
        for (const statement of statements) run(statement);
        connection.exec('COMMIT');
      } catch (error) {
        connection.exec('ROLLBACK');
        throw error;
      }
    },
    alone: (work) => work(),
    moment: (milliseconds) => new Date(milliseconds).toISOString(),
    flag: (value) => (value ? 1 : 0),
    close: () => db.destroy(),
  };
}

const MOST_STATEMENTS = 100;

/** Every request asks for the session and the membership: their statements are prepared once. */
function createStatementStore(connection: DatabaseSync): (text: string) => StatementSync {
  const statements = new Map<string, StatementSync>();
  return (text) => {
    const kept = statements.get(text);
    if (kept !== undefined) return kept;
    // Changes of the schema are run once each, and make the kept ones stale.
    const statement = connection.prepare(text);
    if (!/^\s*(select|insert|update|delete)\b/i.test(text)) {
      statements.clear();
      return statement;
    }
    const oldest = statements.keys().next();
    if (statements.size >= MOST_STATEMENTS && oldest.done !== true) statements.delete(oldest.value);
    statements.set(text, statement);
    return statement;
  };
}

function sqliteValue(value: unknown): string | number | bigint | null | Uint8Array {
  if (value === null || value === undefined) return null;
  if (typeof value === 'boolean') return value ? 1 : 0;
  if (value instanceof Date) return value.toISOString();
  if (typeof value === 'string' || typeof value === 'number' || typeof value === 'bigint') return value;
  if (value instanceof Uint8Array) return value;
  throw new TypeError(`a value of type ${typeof value} cannot be stored`);
}

/** Any number that is ours alone: the advisory lock of schema changes. */
const SCHEMA_LOCK = 7_455_102;

function openPostgres(url: string): AccountDatabase {
  const pool = new pg.Pool({ connectionString: url, max: 10 });
  // A connection that breaks while idle is replaced by the pool; without a listener it would end the process.
  pool.on('error', () => {});
  const db = new Kysely<AccountTables>({ dialect: new PostgresDialect({ pool }) });
  return {
    kind: 'postgres',
    db,
    apply: (statements) =>
      db.transaction().execute(async (transaction) => {
        for (const statement of statements) await transaction.executeQuery(statement);
      }),
    alone: (work) =>
      db.connection().execute(async (connection) => {
        await sql`select pg_advisory_lock(${SCHEMA_LOCK})`.execute(connection);
        try {
          await work();
        } finally {
          await sql`select pg_advisory_unlock(${SCHEMA_LOCK})`.execute(connection);
        }
      }),
    moment: (milliseconds) => new Date(milliseconds),
    flag: (value) => value,
    close: () => db.destroy(),
  };
}
