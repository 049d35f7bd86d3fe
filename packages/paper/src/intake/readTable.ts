import { readCsv } from './readCsv.ts';
import { readXlsx } from './readXlsx.ts';
import { type RawSheet, type Sheet, type TableResult, toSheet, UnreadableFile } from './table.ts';

const ZIP = [0x50, 0x4b, 0x03, 0x04] as const;
const MOST_BYTES = 200 * 2 ** 20;

/** Reads a CSV or XLSX file, told apart by its first bytes and not by its name. Never throws for what is in the file. */
export function readTable(bytes: Uint8Array, file: string, onProgress?: (rows: number) => void): TableResult {
  const warnings: string[] = [];
  try {
    if (bytes.length === 0) throw new UnreadableFile('it is empty', 'Choose another file.');
    if (bytes.length > MOST_BYTES)
      throw new UnreadableFile('it is larger than 200 MB', 'Split it into several files.');
    const isZip = ZIP.every((byte, index) => bytes[index] === byte);
    const raw: readonly RawSheet[] = isZip ? readXlsx(bytes, onProgress) : [readCsv(bytes, warnings)];
    const sheets = raw.map(toSheet).filter((sheet): sheet is Sheet => sheet !== undefined);
    if (sheets.length === 0)
      throw new UnreadableFile('it has no row with column names', 'Put the column names in the first row.');
    return { ok: true, table: { file, sheets, warnings } };
  } catch (error) {
    if (!(error instanceof UnreadableFile)) throw error;
    return { ok: false, problem: { file, reason: error.message, remedy: error.remedy } };
  }
}
