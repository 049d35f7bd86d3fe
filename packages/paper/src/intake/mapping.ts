import { type Field, isField, listFields, RECORD_TYPES, type RecordType } from './fields.ts';

export const DATE_ORDERS = ['mdy', 'dmy', 'ymd'] as const;
export type DateOrder = (typeof DATE_ORDERS)[number];

export interface SheetMapping {
  readonly file: string;
  readonly sheet: string;
  /** null = leave the sheet out */
  readonly records: RecordType | null;
  /** column header -> field; a column that is not named is left out */
  readonly columns: Readonly<Record<string, Field>>;
}

/** How files are read: guessed, shown, and overridden by a JSON file of the same form. */
export interface Mapping {
  readonly sheets: readonly SheetMapping[];
  /** Order of day, month, year where the text does not say. */
  readonly dateOrder: DateOrder;
  /** field -> what a cell says (any case) -> the word it means */
  readonly values: Readonly<Partial<Record<Field, Readonly<Record<string, string>>>>>;
  /** field -> value where there is no column or the cell is empty */
  readonly defaults: Readonly<Partial<Record<Field, string>>>;
}

export interface MappingProblem {
  readonly path: string;
  readonly reason: string;
  readonly remedy: string;
}

export type MappingResult =
  | { readonly ok: true; readonly mapping: Mapping }
  | { readonly ok: false; readonly problems: readonly MappingProblem[] };

/** Lays the parts that a mapping file gives over a guess. What it does not name stays as guessed. */
export function overrideMapping(guess: Mapping, given: unknown): MappingResult {
  const problems: MappingProblem[] = [];
  const add = (path: string, reason: string, remedy: string): void => {
    problems.push({ path, reason, remedy });
  };
  if (!isRecord(given)) {
    add('', 'the mapping is not an object', 'Write one with --save-mapping and edit it.');
    return { ok: false, problems };
  }
  for (const key of Object.keys(given)) {
    if (!['sheets', 'dateOrder', 'values', 'defaults'].includes(key))
      add(key, 'is no part of a mapping', 'Use sheets, dateOrder, values, defaults.');
  }
  const mapping: Mapping = {
    sheets: readSheets(guess, given['sheets'], add),
    dateOrder: readDateOrder(guess, given['dateOrder'], add),
    values: { ...guess.values, ...readByField(given['values'], 'values', readWords, add) },
    defaults: { ...guess.defaults, ...readByField(given['defaults'], 'defaults', readText, add) },
  };
  return problems.length === 0 ? { ok: true, mapping } : { ok: false, problems };
}

type Add = (path: string, reason: string, remedy: string) => void;

function readSheets(guess: Mapping, given: unknown, add: Add): readonly SheetMapping[] {
  if (given === undefined) return guess.sheets;
  if (!Array.isArray(given)) {
    add('sheets', 'is not a list', 'Give a list of { file, sheet, records, columns }.');
    return guess.sheets;
  }
  const byName = new Map(guess.sheets.map((sheet) => [`${sheet.file}\n${sheet.sheet}`, sheet]));
  given.forEach((one: unknown, index) => {
    const path = `sheets[${index}]`;
    if (!isRecord(one)) {
      add(path, 'is not an object', 'Give { file, sheet, records, columns }.');
      return;
    }
    const key = `${String(one['file'] ?? guess.sheets[0]?.file)}\n${String(one['sheet'] ?? '')}`;
    const known = byName.get(key);
    if (known === undefined) {
      const names = guess.sheets.map((sheet) => `${sheet.file} ${JSON.stringify(sheet.sheet)}`).join(', ');
      add(path, 'names a sheet that is not in the files', `The files have: ${names}.`);
      return;
    }
    byName.set(key, {
      ...known,
      records: readRecords(known, one['records'], path, add),
      columns: readColumns(known, one['columns'], path, add),
    });
  });
  return [...byName.values()];
}

function readRecords(known: SheetMapping, given: unknown, path: string, add: Add): RecordType | null {
  if (given === undefined) return known.records;
  if (given === null) return null;
  const found = RECORD_TYPES.find((type) => type === given);
  if (found === undefined)
    add(
      `${path}.records`,
      'is no kind of record',
      `Use ${RECORD_TYPES.join(', ')}, or null to leave the sheet out.`,
    );
  return found ?? null;
}

function readColumns(known: SheetMapping, given: unknown, path: string, add: Add): SheetMapping['columns'] {
  if (given === undefined) return known.columns;
  if (!isRecord(given)) {
    add(`${path}.columns`, 'is not an object', 'Give { "column header": "field" }.');
    return known.columns;
  }
  const columns: [string, Field][] = [];
  for (const [header, field] of Object.entries(given)) {
    if (field === null || field === '') continue;
    if (typeof field === 'string' && isField(field)) columns.push([header, field]);
    else
      add(
        `${path}.columns[${JSON.stringify(header)}]`,
        `${JSON.stringify(field)} is no field`,
        `Use one of: ${listFields().join(', ')}.`,
      );
  }
  // Not by assignment: a column may be called __proto__.
  return Object.fromEntries(columns);
}

function readDateOrder(guess: Mapping, given: unknown, add: Add): DateOrder {
  if (given === undefined) return guess.dateOrder;
  const found = DATE_ORDERS.find((order) => order === given);
  if (found === undefined) add('dateOrder', 'is no order of a date', `Use ${DATE_ORDERS.join(', ')}.`);
  return found ?? guess.dateOrder;
}

function readByField<T>(
  given: unknown,
  path: string,
  read: (value: unknown, path: string, add: Add) => T | undefined,
  add: Add,
): Partial<Record<Field, T>> {
  if (given === undefined) return {};
  if (!isRecord(given)) {
    add(path, 'is not an object', 'Give { field: … }.');
    return {};
  }
  const byField: Partial<Record<Field, T>> = {};
  for (const [field, value] of Object.entries(given)) {
    if (!isField(field)) {
      add(`${path}.${field}`, 'is no field', `Use one of: ${listFields().join(', ')}.`);
      continue;
    }
    const read1 = read(value, `${path}.${field}`, add);
    if (read1 !== undefined) byField[field] = read1;
  }
  return byField;
}

function readText(value: unknown, path: string, add: Add): string | undefined {
  if (typeof value === 'string') return value;
  add(path, 'is not text', 'Give text in quotes.');
  return undefined;
}

function readWords(value: unknown, path: string, add: Add): Readonly<Record<string, string>> | undefined {
  if (isRecord(value) && Object.values(value).every((word) => typeof word === 'string')) {
    return Object.fromEntries(
      Object.entries(value).map(([cell, word]) => [cell.trim().toLowerCase(), String(word)]),
    );
  }
  add(path, 'is not an object of words', 'Give { "what the cell says": "the word it means" }.');
  return undefined;
}

function isRecord(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
