import { CsvError, parse } from 'csv-parse/sync';
import { createCellGuard, MOST_CELL, MOST_ROWS, type RawSheet, UnreadableFile } from './table.ts';
import type { NoteKey } from './words/tell.ts';

/** Reads RFC 4180 CSV, and its common kin: other delimiters, other line ends, other encodings. Throws UnreadableFile. */
export function readCsv(bytes: Uint8Array, warnings: NoteKey[]): RawSheet {
  const text = decodeText(bytes, warnings);
  const delimiter = sniffDelimiter(text);
  const guard = createCellGuard();
  let records: string[][];
  let row = 0;
  try {
    records = parse(text, {
      delimiter,
      relax_column_count: true,
      skip_empty_lines: false,
      to: MOST_ROWS + 1,
      on_record: (cells: string[]) => {
        row += 1;
        guard(row, cells);
        return cells;
      },
      max_record_size: MOST_CELL * 50,
      // A quote in the middle of an unquoted field is a quote: feet and inches are written so.
      relax_quotes: true,
    });
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    const line = String(error['lines'] ?? '?');
    throw error.code === 'CSV_QUOTE_NOT_CLOSED'
      ? new UnreadableFile('quote open', { line })
      : new UnreadableFile('line broken', { line, code: plainCode(error.code) });
  }
  if (records.length > MOST_ROWS) throw new UnreadableFile('too many rows', { most: MOST_ROWS });
  return { name: '', rows: records.map((cells, index) => ({ row: index + 1, cells })) };
}

function plainCode(code: string): string {
  return code.replace(/^CSV_/, '').replaceAll('_', ' ').toLowerCase();
}

/** UTF-8, UTF-16 with a byte order mark, else Windows-1252 with a warning. Throws UnreadableFile for what is no text. */
export function decodeText(bytes: Uint8Array, warnings: NoteKey[]): string {
  const [a, b] = bytes;
  if (a === 0xff && b === 0xfe) return new TextDecoder('utf-16le').decode(bytes);
  if (a === 0xfe && b === 0xff) return new TextDecoder('utf-16be').decode(bytes);
  if (bytes.subarray(0, 4096).includes(0)) {
    throw new UnreadableFile('no text');
  }
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    warnings.push('not UTF-8');
    return new TextDecoder('windows-1252').decode(bytes);
  }
}

const DELIMITERS = [',', ';', '\t', '|'] as const;

/** The delimiter that cuts the first lines into the most columns, the same on each. */
function sniffDelimiter(text: string): string {
  const lines = firstLines(text, 20);
  let best = ',';
  let bestScore = 0;
  for (const delimiter of DELIMITERS) {
    const counts = lines.map((line) => line.split(delimiter).length - 1);
    const most = Math.max(0, ...counts);
    const steady = counts.filter((count) => count === most).length;
    const score = most === 0 ? 0 : steady * 100 + most;
    if (score > bestScore) {
      best = delimiter;
      bestScore = score;
    }
  }
  return best;
}

/** Lines outside quotes, their quoted cells blanked: a comma in a note is no delimiter. */
function firstLines(text: string, count: number): string[] {
  return text
    .slice(0, 64_000)
    .replace(/"(?:[^"]|"")*"/g, '""')
    .split(/\r\n|\n|\r/)
    .filter((line) => line.trim() !== '')
    .slice(0, count);
}
