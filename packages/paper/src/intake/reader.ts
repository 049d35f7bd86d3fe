import type { Day } from '@sillwatch/trade';
import { FIELDS, type Field } from './fields.ts';
import type { Mapping, SheetMapping } from './mapping.ts';
import type { Sheet, SheetRow } from './table.ts';
import { findDate, findWord, findYesNo, translate, wordsOf } from './values.ts';

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
  /** File, sheet and row, in words. */
  readonly place: string;
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
  problem(field: Field, reason: string, remedy: string): void;
}

export function createRowReaders(
  sheet: Sheet,
  of: SheetMapping,
  mapping: Mapping,
  problems: ProblemList,
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
    const problem = (field: Field, reason: string, remedy: string): void => {
      const index = indexByField.get(field);
      problems.add({
        file: of.file,
        sheet: of.sheet,
        row,
        column: index === undefined ? `(no column for ${FIELDS[field].label})` : (sheet.header[index] ?? ''),
        value: raw(field).slice(0, 200),
        reason,
        remedy,
      });
    };
    return {
      row,
      place: `${of.file}${of.sheet === '' ? '' : `, sheet ${of.sheet}`}, row ${row}`,
      has: (field) => indexByField.has(field),
      cell: raw,
      text,
      problem,
      needed: (field) => {
        const value = text(field);
        if (value !== '') return value;
        problem(field, `${FIELDS[field].label} is empty`, 'Fill it in, or give a default in the mapping.');
        return undefined;
      },
      day: (field) => {
        const value = text(field);
        if (value === '') return undefined;
        const day = findDate(value, mapping.dateOrder);
        if (day === undefined)
          problem(
            field,
            'is not a date that exists',
            `Write it as YYYY-MM-DD; dates here are read as ${mapping.dateOrder}.`,
          );
        return day;
      },
      number: (field, least, most) => {
        const value = text(field);
        if (value === '') return undefined;
        const number = Number(value.replace(',', '.'));
        if (Number.isFinite(number) && number >= least && number <= most) return number;
        problem(field, `is not a number from ${least} to ${most}`, 'Correct the number.');
        return undefined;
      },
      word: (field) => {
        const value = text(field);
        if (value === '') return undefined;
        const word = findWord(field, value, mapping.values[field]);
        if (word === undefined)
          problem(
            field,
            'is not a word for this',
            `Use one of: ${wordsOf(field).join(', ')}; or say in the mapping what it means.`,
          );
        return word;
      },
      yesNo: (field) => {
        const value = text(field);
        const answer = findYesNo(translate(value, mapping.values[field]));
        if (answer === undefined) problem(field, 'is neither yes nor no', 'Use yes or no.');
        return answer;
      },
    };
  };
}
