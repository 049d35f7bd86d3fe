import type { FileProblemKey, Params } from './words/tell.ts';

/** A sheet as text cells. Dates of spreadsheets come as YYYY-MM-DD, numbers as JavaScript writes them. */
export interface Sheet {
  readonly name: string;
  readonly header: readonly string[];
  /** Row number of the header as a person counts, from 1. */
  readonly headerRow: number;
  readonly rows: readonly SheetRow[];
}

export interface SheetRow {
  readonly row: number;
  readonly cells: readonly string[];
}

export interface Table {
  readonly file: string;
  readonly sheets: readonly Sheet[];
  readonly warnings: readonly string[];
}

/** Why a file cannot be read at all, with what to do about it. */
export interface FileProblem {
  readonly file: string;
  readonly reason: string;
  readonly remedy: string;
}

export type TableResult =
  | { readonly ok: true; readonly table: Table }
  | { readonly ok: false; readonly problem: FileProblem };

/** Thrown inside the readers, turned into a FileProblem in the reader's language at their door. */
export class UnreadableFile extends Error {
  readonly key: FileProblemKey;
  readonly params: Params;
  constructor(key: FileProblemKey, params: Params = {}) {
    super(key);
    this.name = 'UnreadableFile';
    this.key = key;
    this.params = params;
  }
}

export interface RawSheet {
  readonly name: string;
  readonly rows: readonly SheetRow[];
}

export const MOST_ROWS = 500_000;
export const MOST_COLUMNS = 500;
/** Of a whole file: rows and columns may each be many, but not both. */
export const MOST_CELLS = 20_000_000;
/** Characters; the ledger takes no longer text. */
export const MOST_CELL = 20_000;

/** Counts the cells of a file against the limits above, so that no file can eat the memory. Throws UnreadableFile. */
export function createCellGuard(): (row: number, cells: readonly string[]) => void {
  let total = 0;
  return (row, cells) => {
    if (cells.length > MOST_COLUMNS) throw new UnreadableFile('too wide', { row, most: MOST_COLUMNS });
    total += cells.length;
    if (total > MOST_CELLS) throw new UnreadableFile('too many cells', { most: MOST_CELLS });
    if (cells.some((cell) => cell.length > MOST_CELL))
      throw new UnreadableFile('long cell', { row, most: MOST_CELL });
  };
}

/** The first row with two filled cells is the header (one cell is a title); what stands under it are rows, blank ones left out. */
export function toSheet({ name, rows }: RawSheet): Sheet | undefined {
  const isFilled = (cell: string): boolean => cell.trim() !== '';
  const at = rows.findIndex(({ cells }) => cells.filter(isFilled).length >= 2);
  const header = rows[at === -1 ? 0 : at];
  if (header === undefined || !header.cells.some(isFilled)) return undefined;
  const below = rows.slice((at === -1 ? 0 : at) + 1).filter(({ cells }) => cells.some(isFilled));
  return { name, header: header.cells.map((cell) => cell.trim()), headerRow: header.row, rows: below };
}
