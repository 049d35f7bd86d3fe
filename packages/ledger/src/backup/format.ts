import { BackupError } from '../core/errors.ts';

/**
 * A backup is gzip over lines of JSON. The first line is the header; then, firm by firm in the header's order, one line a
 * fact: its canonical JSON with its receipt, exactly as stored, in ledger order. The hashes are not in the file: they
 * follow from the lines, and each firm's head in the header proves that none is missing or changed.
 */
export interface BackupHeader {
  readonly format: 'sillwatch ledger';
  readonly version: 1;
  /** RFC 3339, UTC */
  readonly madeAt: string;
  readonly firms: readonly BackupFirm[];
}

export interface BackupFirm {
  readonly firm: string;
  readonly facts: number;
  /** hash of the last fact, 64 hex digits */
  readonly head: string;
}

/** @throws BackupError that says what is wrong with the first line. */
export function parseHeader(line: string): BackupHeader {
  const value = parseLine(line);
  if (!isRecord(value) || value['format'] !== 'sillwatch ledger')
    throw new BackupError('the file is not a ledger backup: its first line is no header');
  if (value['version'] !== 1)
    throw new BackupError(
      `the backup has version ${String(value['version'])}, this build reads version 1; update it`,
    );
  const { madeAt, firms } = value;
  if (typeof madeAt !== 'string' || !Array.isArray(firms))
    throw new BackupError('line 1: the header is incomplete');
  return { format: 'sillwatch ledger', version: 1, madeAt, firms: firms.map(parseFirm) };
}

function parseFirm(value: unknown): BackupFirm {
  if (isRecord(value)) {
    const { firm, facts, head } = value;
    if (typeof firm === 'string' && typeof facts === 'number' && facts > 0 && typeof head === 'string')
      return { firm, facts, head };
  }
  throw new BackupError('line 1: a firm in the header is incomplete');
}

function parseLine(line: string): unknown {
  try {
    return JSON.parse(line);
  } catch {
    return undefined;
  }
}

export function isRecord(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
