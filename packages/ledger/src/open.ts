import { fileURLToPath } from 'node:url';
import { LedgerUnusableError } from './core/errors.ts';
import { TRADE_FOLDS } from './folds.ts';
import { createMemoryLedger } from './memory/memoryLedger.ts';
import type { Folds, StoredLedger } from './port.ts';
import { openPostgres } from './sql/postgres.ts';
import { openSqlite } from './sql/sqlite.ts';
import { openSqlLedger } from './sql/sqlLedger.ts';

export interface LedgerOptions {
  /** None or `:memory:` = in memory; `postgres://...` = PostgreSQL; a path or `file:...` = SQLite. */
  readonly url?: string | undefined;
  /** What facts mean; the trade room's own unless a test brings others. */
  readonly folds?: Folds;
  /** PostgreSQL only: most connections of this process, default 10. */
  readonly mostConnections?: number;
}

/**
 * Opens the firm ledger that a setting names, making its tables when they are missing.
 * @throws LedgerUnusableError when the database cannot be trusted with records as it is; the message says what to do.
 * @example const ledger = await openLedger({ url: 'data/sillwatch.db' });
 */
export async function openLedger({
  url,
  folds = TRADE_FOLDS,
  mostConnections,
}: LedgerOptions): Promise<StoredLedger> {
  const target = parseLedgerUrl(url);
  switch (target.kind) {
    case 'memory':
      return createMemoryLedger(folds);
    case 'sqlite':
      return openSqlLedger(await openSqlite(target.path), folds);
    case 'postgres':
      return openSqlLedger(await openPostgres(target.url, mostConnections), folds);
  }
}

export type LedgerTarget =
  | { readonly kind: 'memory' }
  | { readonly kind: 'sqlite'; readonly path: string }
  | { readonly kind: 'postgres'; readonly url: string };

/** @throws LedgerUnusableError for a scheme that is none of ours. */
export function parseLedgerUrl(url: string | undefined): LedgerTarget {
  if (url === undefined || url === '' || url === ':memory:') return { kind: 'memory' };
  if (/^postgres(ql)?:\/\//i.test(url)) return { kind: 'postgres', url };
  if (/^file:\/\//i.test(url)) return { kind: 'sqlite', path: fileURLToPath(url) };
  if (/^file:/i.test(url)) return { kind: 'sqlite', path: url.slice('file:'.length) };
  // Two letters at least, so that a Windows drive ("C:\...") stays a path.
  if (/^[a-z][a-z0-9+.-]+:\/\//i.test(url))
    throw new LedgerUnusableError(
      `"${url.slice(0, url.indexOf(':'))}" is no database this can open; give a file path, file:... or postgres://...`,
    );
  return { kind: 'sqlite', path: url };
}
