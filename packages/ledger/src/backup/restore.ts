import { createReadStream } from 'node:fs';
import { stat } from 'node:fs/promises';
import { Transform } from 'node:stream';
import { StringDecoder } from 'node:string_decoder';
import { createGunzip } from 'node:zlib';
import { linkHash, walkChain } from '../core/chain.ts';
import type { Entry } from '../core/entry.ts';
import { BackupError } from '../core/errors.ts';
import type { LoadPart, StoredLedger } from '../port.ts';
import type { BackupReport } from './backup.ts';
import type { BackupFirm, BackupHeader } from './format.ts';
import { isRecord, parseHeader } from './format.ts';

/**
 * Fills an empty ledger, on any adapter, from a backup: facts, receipts, positions and hashes as they were. All or nothing:
 * the chain is checked against the heads that the backup wrote down before anything is kept. Projections are computed anew.
 * `onProgress` counts bytes of the file.
 * @throws LedgerNotEmptyError, BackupError naming the line, or the file system's error.
 */
export async function restore(
  file: string,
  ledger: StoredLedger,
  onProgress?: (doneBytes: number, totalBytes: number) => void,
): Promise<BackupReport> {
  let header: BackupHeader | undefined;
  const lines = readLines(file, onProgress);
  try {
    await ledger.load(
      readParts(lines, (read) => {
        header = read;
      }),
    );
  } finally {
    await lines.return(undefined);
  }
  if (header === undefined) throw new BackupError('the file is empty');
  return { firms: header.firms, facts: header.firms.reduce((sum, { facts }) => sum + facts, 0) };
}

const PART = 1_000;

async function* readParts(
  lines: AsyncGenerator<string>,
  onHeader: (header: BackupHeader) => void,
): AsyncGenerator<LoadPart> {
  const first = await lines.next();
  if (first.done === true) throw new BackupError('the file is empty');
  const header = parseHeader(first.value);
  onHeader(header);
  let lineNumber = 1;
  for (const firm of header.firms) {
    for await (const entries of readFirm(lines, firm, lineNumber)) yield { firm: firm.firm, entries };
    lineNumber += firm.facts;
  }
  const extra = await lines.next();
  if (extra.done !== true) throw new BackupError(`line ${lineNumber + 1}: more facts than the header says`);
}

async function* readFirm(
  lines: AsyncGenerator<string>,
  { firm, facts, head }: BackupFirm,
  linesBefore: number,
): AsyncGenerator<readonly Entry[]> {
  const walk = walkChain(firm);
  let part: Entry[] = [];
  for (let seq = 1; seq <= facts; seq += 1) {
    const place = `line ${linesBefore + seq} (firm ${firm}, position ${seq})`;
    const line = await lines.next();
    if (line.done === true) throw new BackupError(`${place}: the file ends here; it was cut off`);
    const entry = parseEntry(line.value, seq, walk.head().hash, place);
    const why = walk.step(entry);
    if (why !== undefined) throw new BackupError(`${place}: ${why}`);
    part.push(entry);
    if (part.length < PART && seq < facts) continue;
    yield part;
    part = [];
  }
  if (walk.head().hash !== head)
    throw new BackupError(
      `firm ${firm}: the facts do not lead to the head that the backup wrote down; they were altered`,
    );
}

function parseEntry(text: string, seq: number, previousHash: string, place: string): Entry {
  let fact: unknown;
  try {
    fact = JSON.parse(text);
  } catch {
    throw new BackupError(`${place}: not readable JSON`);
  }
  if (!isRecord(fact)) throw new BackupError(`${place}: not a fact`);
  const { id, kind, device, property, station } = fact;
  const isNamed = typeof id === 'string' && typeof kind === 'string' && typeof device === 'string';
  if (!isNamed || !isKey(property) || !isKey(station))
    throw new BackupError(`${place}: id, kind, device, property or station is missing`);
  return { seq, id, kind, device, property, station, text, hash: linkHash(previousHash, text) };
}

function isKey(value: unknown): value is string | null {
  return value === null || typeof value === 'string';
}

/** Not `node:readline`, which also splits at U+2028, a character that a note may hold. */
async function* readLines(
  file: string,
  onProgress: ((doneBytes: number, totalBytes: number) => void) | undefined,
): AsyncGenerator<string> {
  const { size } = await stat(file);
  let done = 0;
  const counter = new Transform({
    transform(chunk: Buffer, _encoding, next) {
      done += chunk.length;
      onProgress?.(done, size);
      next(null, chunk);
    },
  });
  const source = createReadStream(file);
  const unzipped = counter.pipe(createGunzip());
  source.on('error', (error) => unzipped.destroy(error));
  source.pipe(counter);
  const decoder = new StringDecoder('utf8');
  let rest = '';
  try {
    for await (const chunk of unzipped) {
      const pieces = (rest + decoder.write(chunk)).split('\n');
      rest = pieces.pop() ?? '';
      yield* pieces;
    }
  } catch (error) {
    throw isZlibError(error)
      ? new BackupError(`the file is damaged or no backup (${error.message}); take another copy`)
      : error;
  } finally {
    source.destroy();
  }
  if (rest !== '') throw new BackupError('the last line is incomplete; the file was cut off');
}

function isZlibError(error: unknown): error is Error {
  return error instanceof Error && 'code' in error && /^Z_/.test(String(error.code));
}
