import { Kysely, PostgresDialect, sql } from 'kysely';
import { Pool, types } from 'pg';
import { LedgerUnusableError } from '../core/errors.ts';
import { migrate } from './migrations.ts';
import type { SqlConnections } from './sqlLedger.ts';
import { POSTGRES, type Tables } from './tables.ts';

/** PostgreSQL's own number of its 64-bit integer type. */
const INT8 = 20;
const OLDEST_VERSION = 150_000;

/** Connects to PostgreSQL 15 or newer, checks that its commits are durable, and brings the tables up to date. */
export async function openPostgres(url: string, mostConnections = 10): Promise<SqlConnections> {
  const pool = new Pool({
    connectionString: url,
    max: mostConnections,
    application_name: 'sillwatch',
    types: { getTypeParser: (oid, format) => (oid === INT8 ? Number : types.getTypeParser(oid, format)) },
  });
  // Without listeners a connection that breaks, idle or between two statements of a transaction, would end the process;
  // its next query reports it anyway.
  pool.on('error', () => {});
  pool.on('connect', (client) => {
    client.on('error', () => {});
    client
      .query(
        "select set_config('synchronous_commit', 'on', false) where current_setting('synchronous_commit') = 'off'",
      )
      .catch(() => {});
  });
  const db = new Kysely<Tables>({ dialect: new PostgresDialect({ pool }) });
  try {
    await checkServer(db);
    await migrate(db, POSTGRES);
  } catch (error) {
    await db.destroy();
    throw error;
  }
  return {
    flavour: POSTGRES,
    write: db,
    read: db,
    withFrozenView: (use) =>
      db.transaction().setIsolationLevel('repeatable read').setAccessMode('read only').execute(use),
    close: () => db.destroy(),
  };
}

async function checkServer(db: Kysely<Tables>): Promise<void> {
  const { rows } = await sql<{ version: string; fsync: string; encoding: string }>`
    select current_setting('server_version_num') as version,
           current_setting('fsync') as fsync,
           current_setting('server_encoding') as encoding`.execute(db);
  const [server] = rows;
  if (server === undefined) throw new LedgerUnusableError('PostgreSQL did not say which version it is');
  if (Number(server.version) < OLDEST_VERSION)
    throw new LedgerUnusableError('PostgreSQL 15 or newer is needed; update the database server');
  if (server.fsync !== 'on')
    throw new LedgerUnusableError(
      'PostgreSQL runs with fsync = off, so an acknowledged record could be lost in a power cut; turn fsync on',
    );
  if (server.encoding !== 'UTF8')
    throw new LedgerUnusableError(
      `the database's encoding is ${server.encoding}; create one with encoding UTF8`,
    );
}
