import { createWriteStream } from 'node:fs';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { createGzip } from 'node:zlib';
import { canonicalJson } from '../core/canonical.ts';
import { walkChain } from '../core/chain.ts';
import { BackupError } from '../core/errors.ts';
import type { Snapshot, StoredLedger } from '../port.ts';
import { writeWhole } from './files.ts';
import type { BackupFirm, BackupHeader } from './format.ts';

export interface BackupReport {
  readonly firms: readonly BackupFirm[];
  readonly facts: number;
}

/**
 * Writes all facts of all firms, as of one instant, to a new file, while appends go on. The file restores into any adapter.
 * The chain is walked on the way.
 * @throws BackupError when the file exists, or when a chain is broken (then `verify` names the place, and `copyDatabase`
 *   keeps the database as it is for whoever looks into it).
 * @example await backup(ledger, 'sillwatch-2026-03-02.jsonl.gz')
 */
export async function backup(
  ledger: StoredLedger,
  file: string,
  onProgress?: (done: number, total: number) => void,
  madeAt = new Date().toISOString(),
): Promise<BackupReport> {
  return ledger.withSnapshot(async (snapshot) => {
    const header: BackupHeader = { format: 'sillwatch ledger', version: 1, madeAt, firms: snapshot.firms };
    const total = snapshot.firms.reduce((sum, { facts }) => sum + facts, 0);
    await writeWhole(file, async (draft) => {
      const lines = Readable.from(writeLines(snapshot, header, (done) => onProgress?.(done, total)));
      // Readable by its owner only: it holds customers' names and addresses.
      await pipeline(lines, createGzip(), createWriteStream(draft, { flags: 'wx', mode: 0o600 }));
    });
    return { firms: snapshot.firms, facts: total };
  });
}

async function* writeLines(
  snapshot: Snapshot,
  header: BackupHeader,
  onProgress: (done: number) => void,
): AsyncGenerator<string> {
  yield `${canonicalJson(header)}\n`;
  let done = 0;
  for (const { firm, facts, head } of snapshot.firms) {
    const walk = walkChain(firm);
    for await (const page of snapshot.listEntries(firm)) {
      let chunk = '';
      for (const entry of page) {
        const why = walk.step(entry);
        if (why !== undefined) throw brokenChain(firm, walk.head().seq + 1, why);
        chunk += `${entry.text}\n`;
      }
      yield chunk;
      done += page.length;
      onProgress(done);
    }
    if (walk.head().seq !== facts || walk.head().hash !== head)
      throw brokenChain(firm, walk.head().seq, 'the head of the chain does not match the last fact');
  }
}

function brokenChain(firm: string, seq: number, why: string): BackupError {
  return new BackupError(
    `firm ${firm}, position ${seq}: ${why}; the ledger was altered from outside, so no backup was written. ` +
      'Copy the whole database to keep the evidence, and restore the last good backup.',
  );
}
