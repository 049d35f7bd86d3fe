import type { PaperLanguage } from '../report/words/say.ts';
import { DATE_FIELDS, FIELDS, type Field, listFields, type RecordType } from './fields.ts';
import type { DateOrder, Mapping, SheetMapping } from './mapping.ts';
import type { Sheet, Table } from './table.ts';
import { guessDateOrder, looksLikeDate } from './values.ts';
import { tellIn } from './words/tell.ts';

export interface ColumnGuess {
  readonly file: string;
  readonly sheet: string;
  readonly column: string;
  /** null = left out */
  readonly field: Field | null;
  /** 0 to 1 */
  readonly confidence: number;
  readonly sample: string;
}

export interface Guess {
  readonly mapping: Mapping;
  readonly columns: readonly ColumnGuess[];
  readonly warnings: readonly string[];
}

/** What the sheets and columns most likely are, from their headers and what stands in them. */
export function guessMapping(tables: readonly Table[], lang: PaperLanguage = 'en-US'): Guess {
  const columns: ColumnGuess[] = [];
  const sheets: SheetMapping[] = [];
  const dates: string[] = [];
  for (const table of tables) {
    for (const sheet of table.sheets) {
      const guesses = guessColumns(table.file, sheet);
      columns.push(...guesses);
      const byColumn = Object.fromEntries(
        guesses.flatMap(({ column, field }) => (field === null ? [] : [[column, field]])),
      );
      sheets.push({
        file: table.file,
        sheet: sheet.name,
        records: guessRecords(Object.values(byColumn)),
        columns: byColumn,
      });
      sheet.header.forEach((column, index) => {
        const field = guesses[index]?.field ?? null;
        // Columns that only a mapping will name count too: their dates are read in the same order.
        if ((field !== null && DATE_FIELDS.has(field)) || (column !== '' && holdsDates(sheet, index)))
          for (const { cells } of sheet.rows) dates.push(cells[index] ?? '');
      });
    }
  }
  const { order, warning } = guessDateOrder(dates);
  const warnings = [
    ...tables.flatMap((table) => table.warnings),
    ...(warning === undefined ? [] : [tellIn(lang).note(warning)]),
  ];
  return {
    mapping: { sheets, dateOrder: order satisfies DateOrder, values: {}, defaults: {} },
    columns,
    warnings,
  };
}

const SURE_ENOUGH = 0.55;

function guessColumns(file: string, sheet: Sheet): readonly ColumnGuess[] {
  const scored = sheet.header.flatMap((column, index) => {
    const samples = sheet.rows
      .slice(0, 200)
      .map(({ cells }) => (cells[index] ?? '').trim())
      .filter((cell) => cell !== '');
    return listFields().map((field) => ({
      column,
      index,
      field,
      score: column === '' ? 0 : scoreColumn(column, field, samples),
    }));
  });
  scored.sort((a, b) => b.score - a.score);
  const fieldByIndex = new Map<number, { readonly field: Field; readonly score: number }>();
  const taken = new Set<Field>();
  for (const { index, field, score } of scored) {
    if (score < SURE_ENOUGH || taken.has(field) || fieldByIndex.has(index)) continue;
    fieldByIndex.set(index, { field, score });
    taken.add(field);
  }
  return sheet.header.map((column, index) => ({
    file,
    sheet: sheet.name,
    column,
    field: fieldByIndex.get(index)?.field ?? null,
    confidence: Number((fieldByIndex.get(index)?.score ?? 0).toFixed(2)),
    sample:
      sheet.rows.find(({ cells }) => (cells[index] ?? '').trim() !== '')?.cells[index]?.slice(0, 60) ?? '',
  }));
}

function holdsDates(sheet: Sheet, index: number): boolean {
  const samples = sheet.rows
    .slice(0, 200)
    .map(({ cells }) => (cells[index] ?? '').trim())
    .filter((cell) => cell !== '');
  return samples.length > 0 && samples.filter(looksLikeDate).length / samples.length > 0.6;
}

function scoreColumn(column: string, field: Field, samples: readonly string[]): number {
  const header = normalise(column);
  const byName = Math.max(...FIELDS[field].headers.map((word) => similarity(header, normalise(word))));
  return Math.max(byName * contentFactor(field, samples), scoreContent(field, samples));
}

const EMAIL = /^[^@\s]+@[^@\s]+\.[^@\s]+$/;
const ZONE = /^(?:Africa|America|Asia|Atlantic|Australia|Europe|Indian|Pacific)\/[A-Za-z_/-]+$/;
/** Five digits and four are ZIP + 4; five alone may be anybody's number. */
const ZIP_PLUS_4 = /^\d{5}-\d{4}$/;

/** What content alone can tell, whatever the header says: only what looks like nothing else. */
function scoreContent(field: Field, samples: readonly string[]): number {
  const form =
    field === 'email' ? EMAIL : field === 'timeZone' ? ZONE : field === 'postcode' ? ZIP_PLUS_4 : undefined;
  if (form === undefined || samples.length === 0) return 0;
  return samples.every((cell) => form.test(cell)) ? 0.6 : 0;
}

/** Halves the score of a column whose content speaks against it. */
function contentFactor(field: Field, samples: readonly string[]): number {
  if (samples.length === 0) return 0.9;
  const share = (fits: (cell: string) => boolean): number => samples.filter(fits).length / samples.length;
  const isNumber = (cell: string): boolean => cell !== '' && Number.isFinite(Number(cell));
  if (DATE_FIELDS.has(field)) return share(looksLikeDate) > 0.6 ? 1 : 0.4;
  switch (field) {
    case 'email':
      return share((cell) => cell.includes('@')) > 0.5 ? 1 : 0.4;
    case 'postcode':
      return share((cell) => /\d/.test(cell)) > 0.5 ? 1 : 0.4;
    case 'latitude':
    case 'longitude':
    case 'eastMetres':
    case 'northMetres':
      return share(isNumber) > 0.8 ? 1 : 0.3;
    case 'stationNumber':
      return share((cell) => /\d/.test(cell)) > 0.5 ? 1 : 0.4;
    case 'name':
    case 'customerName':
      return share(isNumber) > 0.8 ? 0.4 : 1;
    default:
      return 1;
  }
}

export function normalise(text: string): string {
  return text
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, ' ')
    .trim();
}

/** 1 the same; 0.85 all words of the one in the other; else Dice's coefficient of letter pairs (Dice 1945), at most 0.8. */
export function similarity(a: string, b: string): number {
  if (a === b) return 1;
  if (a === '' || b === '') return 0;
  const wordsA = a.split(' ');
  const wordsB = b.split(' ');
  const [fewer, more] = wordsA.length < wordsB.length ? [wordsA, wordsB] : [wordsB, wordsA];
  if (fewer.every((word) => more.includes(word))) return 0.6 + 0.25 * (fewer.length / more.length);
  return 0.8 * dice(a.replaceAll(' ', ''), b.replaceAll(' ', ''));
}

function dice(a: string, b: string): number {
  if (a.length < 2 || b.length < 2) return 0;
  const pairs = new Map<string, number>();
  for (let i = 0; i < a.length - 1; i += 1)
    pairs.set(a.slice(i, i + 2), (pairs.get(a.slice(i, i + 2)) ?? 0) + 1);
  let shared = 0;
  for (let i = 0; i < b.length - 1; i += 1) {
    const left = pairs.get(b.slice(i, i + 2)) ?? 0;
    if (left === 0) continue;
    pairs.set(b.slice(i, i + 2), left - 1);
    shared += 1;
  }
  return (2 * shared) / (a.length + b.length - 2);
}

function guessRecords(fields: readonly Field[]): RecordType | null {
  const has = (field: Field): boolean => fields.includes(field);
  if (has('visitDate') && has('stationNumber')) return 'visits';
  if (has('stationNumber')) return 'stations';
  return has('name') || has('reference') || has('street') ? 'properties' : null;
}
