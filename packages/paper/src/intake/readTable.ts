import type { PaperLanguage } from '../report/words/say.ts';
import { readCsv } from './readCsv.ts';
import { readXlsx } from './readXlsx.ts';
import { type RawSheet, type Sheet, type TableResult, toSheet, UnreadableFile } from './table.ts';
import { type NoteKey, tellIn } from './words/tell.ts';

const ZIP = [0x50, 0x4b, 0x03, 0x04] as const;
const MOST_MIB = 200;

/** Reads a CSV or XLSX file, told apart by its first bytes and not by its name. Never throws for what is in the file. */
export function readTable(
  bytes: Uint8Array,
  file: string,
  onProgress?: (rows: number) => void,
  lang: PaperLanguage = 'en-US',
): TableResult {
  const tell = tellIn(lang);
  const warnings: NoteKey[] = [];
  try {
    if (bytes.length === 0) throw new UnreadableFile('empty');
    if (bytes.length > MOST_MIB * 2 ** 20) throw new UnreadableFile('too large', { most: MOST_MIB });
    const isZip = ZIP.every((byte, index) => bytes[index] === byte);
    const raw: readonly RawSheet[] = isZip ? readXlsx(bytes, onProgress) : [readCsv(bytes, warnings)];
    const sheets = raw.map(toSheet).filter((sheet): sheet is Sheet => sheet !== undefined);
    if (sheets.length === 0) throw new UnreadableFile('no header');
    return { ok: true, table: { file, sheets, warnings: warnings.map((key) => tell.note(key)) } };
  } catch (error) {
    if (!(error instanceof UnreadableFile)) throw error;
    return { ok: false, problem: { file, ...tell.file(error.key, error.params) } };
  }
}
