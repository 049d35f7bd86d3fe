import { readDecimal } from '../../shared/decimal.ts';

/** Named by page, columns and rows; a roll by its label in millimetres (`LABEL_STOCKS` of the paper room). */
export const STOCKS = ['letter 3x10', 'letter 2x5', 'A4 3x8', 'A4 3x7', 'roll 57x32', 'roll 100x50'] as const;
export type StockName = (typeof STOCKS)[number];

export interface Grid {
  readonly columns: number;
  readonly rows: number;
}

/** null = a roll */
export function gridOf(stock: StockName): Grid | null {
  const [, columns, rows] = /^(?:letter|A4) (\d+)x(\d+)$/.exec(stock) ?? [];
  return columns === undefined || rows === undefined
    ? null
    : { columns: Number(columns), rows: Number(rows) };
}

export const KINDS = ['sheet', 'roll'] as const;
export type Kind = (typeof KINDS)[number];

export const MEASURES = {
  sheet: [
    'pageWidthMm',
    'pageHeightMm',
    'columns',
    'rows',
    'labelWidthMm',
    'labelHeightMm',
    'leftMm',
    'topMm',
    'pitchXMm',
    'pitchYMm',
  ],
  roll: ['labelWidthMm', 'labelHeightMm'],
} as const satisfies Readonly<Record<Kind, readonly string[]>>;
export type Measure = (typeof MEASURES)[Kind][number];

/** Measures as they were typed. */
export interface OwnStock {
  readonly kind: Kind;
  readonly typed: Readonly<Partial<Record<Measure, string>>>;
}

/** undefined = empty, or no number that it may be. */
export function readMeasure(measure: Measure, text: string | undefined): number | undefined {
  const read = readDecimal(text ?? '', { most: 2000 });
  if (!read.ok) return undefined;
  const { value } = read;
  if (measure === 'columns' || measure === 'rows')
    return Number.isInteger(value) && value >= 1 && value <= 100 ? value : undefined;
  return value >= 0 && value <= 2000 ? value : undefined;
}

/** As the API takes it; undefined while a measure is missing. */
export function readStock({ kind, typed }: OwnStock): Readonly<Record<string, string | number>> | undefined {
  const read: [string, number][] = [];
  for (const measure of MEASURES[kind]) {
    const value = readMeasure(measure, typed[measure]);
    if (value === undefined) return undefined;
    read.push([measure, value]);
  }
  return { kind, ...Object.fromEntries(read) };
}

/** null = a roll, or not yet known. */
export function gridOfOwn({ kind, typed }: OwnStock): Grid | null {
  const columns = readMeasure('columns', typed.columns);
  const rows = readMeasure('rows', typed.rows);
  return kind === 'sheet' && columns !== undefined && rows !== undefined ? { columns, rows } : null;
}

const KEPT = 'sillwatch label measures';

/** The measures last typed in this browser, for the same box of labels. */
export function readKeptStock(): OwnStock {
  const empty: OwnStock = { kind: 'sheet', typed: {} };
  try {
    const kept: unknown = JSON.parse(localStorage.getItem(KEPT) ?? 'null');
    if (typeof kept !== 'object' || kept === null) return empty;
    const { kind, typed } = kept as Partial<Record<keyof OwnStock, unknown>>;
    const texts = Object.entries(Object(typed)).filter((entry): entry is [Measure, string] =>
      MEASURES.sheet.some((measure) => measure === entry[0] && typeof entry[1] === 'string'),
    );
    return { kind: kind === 'roll' ? 'roll' : 'sheet', typed: Object.fromEntries(texts) };
  } catch {
    return empty;
  }
}

export function keepStock(stock: OwnStock): void {
  try {
    localStorage.setItem(KEPT, JSON.stringify(stock));
  } catch {
    // A browser that keeps nothing asks again the next time.
  }
}

/** `A`, `0098`, 3: the first and the last of A0098, A0099, A0100, as the paper room counts them (`newTags`). */
export function endsOfTags(prefix: string, first: string, count: number): readonly [string, string] {
  const last = String(Number(first) + count - 1).padStart(first.length, '0');
  return [`${prefix}${first}`, `${prefix}${last}`];
}
