import type { Day } from '@sillwatch/trade';
import type { PaperLanguage } from '../report/words/say.ts';
import type { Field } from './fields.ts';
import type { Mapping, SheetMapping } from './mapping.ts';
import type { Sheet, SheetRow } from './table.ts';
import { findDate, findWord, findYesNo, translate, wordsOf } from './values.ts';
import { type CellProblem, type Params, rowInWords, type Tell, tellIn } from './words/tell.ts';

/** One thing that keeps a row from being read, at its place. */
export interface RowProblem {
  readonly file: string;
  readonly sheet: string;
  /** as a person counts, from 1 */
  readonly row: number;
  readonly column: string;
  readonly value: string;
  readonly reason: string;
  readonly remedy: string;
}

/** Where a problem stands: file, sheet, row and column. */
export function cellInWords(problem: RowProblem, lang: PaperLanguage): string {
  const tell = tellIn(lang);
  return tell.note('cell', { row: rowInWords(tell, problem), column: problem.column });
}

/** Collects problems: all are counted, the first ones are kept. */
export interface ProblemList {
  readonly listed: readonly RowProblem[];
  readonly total: number;
  add(problem: RowProblem): void;
}

export function createProblemList(most: number): ProblemList {
  const listed: RowProblem[] = [];
  let total = 0;
  return {
    listed,
    get total() {
      return total;
    },
    add: (problem) => {
      total += 1;
      if (listed.length < most) listed.push(problem);
    },
  };
}

/** Reads the fields of one row, reporting what cannot be read; a default stands in for an empty cell. */
export interface RowReader {
  readonly row: number;
  /** File, sheet and row as entries record them, whoever reads on. */
  readonly place: string;
  /** The same in the reader's language. */
  readonly placeInWords: string;
  readonly tell: Tell;
  has(field: Field): boolean;
  /** The row's own cell, trimmed. */
  cell(field: Field): string;
  /** The cell, or the default where it is empty. */
  text(field: Field): string;
  /** undefined with a problem when the cell is no day; undefined without one when it is empty */
  day(field: Field): Day | undefined;
  number(field: Field, least: number, most: number): number | undefined;
  word(field: Field): string | undefined;
  yesNo(field: Field): boolean | undefined;
  /** As text, with a problem when it is empty. */
  needed(field: Field): string | undefined;
  problem(field: Field, key: CellProblem, params?: Params): void;
}

export function createRowReaders(
  sheet: Sheet,
  of: SheetMapping,
  mapping: Mapping,
  problems: ProblemList,
  tell: Tell,
): (row: SheetRow) => RowReader {
  const indexByField = new Map<Field, number>();
  sheet.header.forEach((column, index) => {
    const field = Object.hasOwn(of.columns, column) ? of.columns[column] : undefined;
    if (field !== undefined && !indexByField.has(field)) indexByField.set(field, index);
  });
  return ({ row, cells }) => {
    const raw = (field: Field): string => {
      const index = indexByField.get(field);
      return index === undefined ? '' : (cells[index] ?? '').trim();
    };
    const text = (field: Field): string => raw(field) || (mapping.defaults[field] ?? '').trim();
    const problem = (field: Field, key: CellProblem, params: Params = {}): void => {
      const index = indexByField.get(field);
      problems.add({
        file: of.file,
        sheet: of.sheet,
        row,
        column:
          index === undefined
            ? tell.note('no column', { label: tell.label(field) })
            : (sheet.header[index] ?? ''),
        value: raw(field).slice(0, 200),
        ...tell.cell(key, params),
      });
    };
    return {
      row,
      place: `${of.file}${of.sheet === '' ? '' : `, sheet ${of.sheet}`}, row ${row}`,
      placeInWords: rowInWords(tell, { file: of.file, sheet: of.sheet, row }),
      tell,
      has: (field) => indexByField.has(field),
      cell: raw,
      text,
      problem,
      needed: (field) => {
        const value = text(field);
        if (value !== '') return value;
        problem(field, 'empty cell', { label: tell.label(field) });
        return undefined;
      },
      day: (field) => {
        const value = text(field);
        if (value === '') return undefined;
        const day = findDate(value, mapping.dateOrder);
        if (day === undefined) problem(field, 'no date', { order: mapping.dateOrder });
        return day;
      },
      number: (field, least, most) => {
        const value = text(field);
        if (value === '') return undefined;
        const number = Number(value.replace(',', '.'));
        if (Number.isFinite(number) && number >= least && number <= most) return number;
        problem(field, 'no number', { least, most });
        return undefined;
      },
      word: (field) => {
        const value = text(field);
        if (value === '') return undefined;
        const word = findWord(field, value, mapping.values[field]);
        if (word === undefined) problem(field, 'no word', { words: wordsOf(field).join(', ') });
        return word;
      },
      yesNo: (field) => {
        const value = text(field);
        const answer = findYesNo(translate(value, mapping.values[field]));
        if (answer === undefined) problem(field, 'not yes or no');
        return answer;
      },
    };
  };
}
