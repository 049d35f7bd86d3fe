import { fill } from '../../report/words/fill.ts';
import type { PaperLanguage } from '../../report/words/say.ts';
import { FIELDS, type Field } from '../fields.ts';
import * as EN from './en.ts';
import * as ES from './es.ts';

export type CellProblem = keyof typeof EN.CELL_PROBLEMS;
export type FileProblemKey = keyof typeof EN.FILE_PROBLEMS;
export type NoteKey = keyof typeof EN.NOTES;
export type Params = Readonly<Record<string, string | number>>;
type Pair = readonly [reason: string, remedy: string];

export interface IntakeWords {
  readonly cells: Readonly<Record<CellProblem, Pair>>;
  readonly files: Readonly<Record<FileProblemKey, Pair>>;
  readonly notes: Readonly<Record<NoteKey, string>>;
  readonly fields: Readonly<Record<Field, string>>;
}

const WORDS: Readonly<Record<PaperLanguage, IntakeWords>> = {
  'en-US': {
    cells: EN.CELL_PROBLEMS,
    files: EN.FILE_PROBLEMS,
    notes: EN.NOTES,
    fields: Object.fromEntries(Object.entries(FIELDS).map(([field, { label }]) => [field, label])) as Record<
      Field,
      string
    >,
  },
  'es-US': { cells: ES.CELL_PROBLEMS, files: ES.FILE_PROBLEMS, notes: ES.NOTES, fields: ES.FIELD_LABELS },
};

/** What stands in the way of an import, in words; each throws a RangeError where a value for its words is not given. */
export interface Tell {
  cell(key: CellProblem, params?: Params): { readonly reason: string; readonly remedy: string };
  file(key: FileProblemKey, params?: Params): { readonly reason: string; readonly remedy: string };
  note(key: NoteKey, params?: Params): string;
  label(field: Field): string;
}

/** A row of a sheet, as a person finds it. */
export function rowInWords(
  tell: Tell,
  { file, sheet, row }: { readonly file: string; readonly sheet: string; readonly row: number },
): string {
  return sheet === '' ? tell.note('row', { file, row }) : tell.note('sheet row', { file, sheet, row });
}

export function tellIn(lang: PaperLanguage): Tell {
  const { cells, files, notes, fields } = WORDS[lang];
  const pair = (key: string, [reason, remedy]: Pair, params: Params) => ({
    reason: fill(key, reason, params),
    remedy: fill(key, remedy, params),
  });
  return {
    cell: (key, params = {}) => pair(key, cells[key], params),
    file: (key, params = {}) => pair(key, files[key], params),
    note: (key, params = {}) => fill(key, notes[key], params),
    label: (field) => fields[field],
  };
}
