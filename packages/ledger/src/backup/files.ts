import { existsSync } from 'node:fs';
import { open, rename, rm } from 'node:fs/promises';
import { dirname } from 'node:path';
import { BackupError } from '../core/errors.ts';

/**
 * Writes a file so that it appears under its name only when it is whole and on stable storage.
 * @throws BackupError when the name is taken: a backup never replaces another.
 */
export async function writeWhole(file: string, write: (draft: string) => Promise<void>): Promise<void> {
  if (existsSync(file)) throw new BackupError(`${file} exists already; give a new name`);
  const draft = `${file}.${process.pid}.part`;
  try {
    await write(draft);
    await flush(draft);
    await rename(draft, file);
    // Windows cannot open a folder for this; there the rename is flushed with the volume's journal.
    if (process.platform !== 'win32') await flush(dirname(file));
  } catch (error) {
    await rm(draft, { force: true });
    throw error;
  }
}

async function flush(path: string): Promise<void> {
  const handle = await open(path, 'r');
  try {
    await handle.sync();
  } finally {
    await handle.close();
  }
}
