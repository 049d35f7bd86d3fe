import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { Client } from 'pg';
import { openLedger, type StoredLedger } from '../../src/index.ts';
import type { TestPostgres } from './postgres.ts';

/** A place where a ledger can be kept, for the suites that run on every adapter. */
export interface Target {
  readonly name: 'memory' | 'SQLite' | 'PostgreSQL';
  /** A URL for a new, empty ledger. */
  readonly createUrl: () => Promise<string>;
  /** Runs SQL behind the ledger's back; undefined where there is no SQL. */
  readonly tamper: ((url: string, statements: readonly string[]) => Promise<void>) | undefined;
}

const MEMORY: Target = { name: 'memory', createUrl: async () => ':memory:', tamper: undefined };

/** `folder` is removed by the caller. */
export function listTargets(folder: string, postgres: TestPostgres | undefined): readonly Target[] {
  let count = 0;
  const sqlite: Target = {
    name: 'SQLite',
    createUrl: async () => {
      count += 1;
      return join(folder, `ledger-${count}.db`);
    },
    tamper: async (url, statements) => {
      const db = new DatabaseSync(url);
      for (const statement of statements) db.exec(statement);
      db.close();
    },
  };
  const server: readonly Target[] =
    postgres === undefined
      ? []
      : [
          {
            name: 'PostgreSQL',
            createUrl: postgres.createDatabase,
            tamper: async (url, statements) => {
              const client = new Client({ connectionString: url });
              await client.connect();
              for (const statement of statements) await client.query(statement);
              await client.end();
            },
          },
        ];
  return [MEMORY, sqlite, ...server];
}

export function makeFolder(): { readonly path: string; readonly remove: () => void } {
  const path = mkdtempSync(join(tmpdir(), 'sillwatch-ledger-'));
  return { path, remove: () => rmSync(path, { recursive: true, force: true }) };
}

export function open(url: string): Promise<StoredLedger> {
  return openLedger({ url });
}

/** Everything that can be read of a firm, as one text: equal texts, equal ledgers. */
export async function dump(ledger: StoredLedger, firm: string): Promise<string> {
  const parts = [
    await ledger.listFacts(firm, { limit: 1_000_000 }),
    await ledger.listProperties(firm, { limit: 1_000_000 }),
    await ledger.getFirm(firm),
    await ledger.verify(firm),
  ];
  return parts.map((part) => JSON.stringify(part)).join('\n');
}
