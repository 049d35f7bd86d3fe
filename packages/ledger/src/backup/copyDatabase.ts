import { closeSync, existsSync, openSync } from 'node:fs';
import { backup as copyPages } from 'node:sqlite';
import { BackupError } from '../core/errors.ts';
import { parseLedgerUrl } from '../open.ts';
import { openConnection } from '../sql/sqlite.ts';
import { writeWhole } from './files.ts';

/**
 * Copies a whole SQLite database, accounts and sessions included, as of one instant, to a new file, while others write to it.
 * The copy is a database that opens as it is. `onProgress` counts pages.
 * @throws BackupError when the ledger is not on SQLite (PostgreSQL has pg_dump for this) or the file exists.
 */
export async function copyDatabase(
  url: string,
  file: string,
  onProgress?: (donePages: number, totalPages: number) => void,
): Promise<void> {
  const target = parseLedgerUrl(url);
  if (target.kind !== 'sqlite')
    throw new BackupError('only an SQLite database is one file to copy; with PostgreSQL use pg_dump');
  if (!existsSync(target.path)) throw new BackupError(`${target.path} does not exist`);
  const source = openConnection(target.path, 'read');
  try {
    // An open read transaction pins one instant; without it every write by another connection starts the copy afresh.
    source.exec('begin');
    source.prepare('select count(*) from sqlite_schema').get();
    await writeWhole(file, async (draft) => {
      // Made before SQLite opens it, so that it is its owner's alone.
      closeSync(openSync(draft, 'wx', 0o600));
      await copyPages(source, draft, {
        rate: 1_000,
        progress: ({ totalPages, remainingPages }) => onProgress?.(totalPages - remainingPages, totalPages),
      });
    });
    source.exec('commit');
  } finally {
    source.close();
  }
}
