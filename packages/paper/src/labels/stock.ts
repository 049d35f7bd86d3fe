/** Labels in columns and rows on a page. All measures in millimetres, from the page's upper left corner. */
export interface LabelSheet {
  readonly kind: 'sheet';
  readonly pageWidthMm: number;
  readonly pageHeightMm: number;
  readonly columns: number;
  readonly rows: number;
  readonly labelWidthMm: number;
  readonly labelHeightMm: number;
  /** Of the first label's corner. */
  readonly leftMm: number;
  readonly topMm: number;
  /** From one label's corner to the next one's. */
  readonly pitchXMm: number;
  readonly pitchYMm: number;
}

/** One label after the other, each a page of its own. */
export interface LabelRoll {
  readonly kind: 'roll';
  readonly labelWidthMm: number;
  readonly labelHeightMm: number;
}
export type LabelStock = LabelSheet | LabelRoll;

const LETTER = { kind: 'sheet', pageWidthMm: 215.9, pageHeightMm: 279.4 } as const;
const A4 = { kind: 'sheet', pageWidthMm: 210, pageHeightMm: 297 } as const;

/**
 * Grids that labels are commonly sold in, named by page, columns and rows (measures from memory; hold a print on plain paper
 * against a sheet before the first use). Any other is given as numbers.
 */
export const LABEL_STOCKS = {
  'letter 3x10': {
    ...LETTER,
    columns: 3,
    rows: 10,
    labelWidthMm: 66.675,
    labelHeightMm: 25.4,
    leftMm: 4.7625,
    topMm: 12.7,
    pitchXMm: 69.85,
    pitchYMm: 25.4,
  },
  'letter 2x5': {
    ...LETTER,
    columns: 2,
    rows: 5,
    labelWidthMm: 101.6,
    labelHeightMm: 50.8,
    leftMm: 3.96875,
    topMm: 12.7,
    pitchXMm: 106.3625,
    pitchYMm: 50.8,
  },
  'A4 3x8': {
    ...A4,
    columns: 3,
    rows: 8,
    labelWidthMm: 63.5,
    labelHeightMm: 33.9,
    leftMm: 7.25,
    topMm: 12.9,
    pitchXMm: 66,
    pitchYMm: 33.9,
  },
  'A4 3x7': {
    ...A4,
    columns: 3,
    rows: 7,
    labelWidthMm: 63.5,
    labelHeightMm: 38.1,
    leftMm: 7.25,
    topMm: 15.15,
    pitchXMm: 66,
    pitchYMm: 38.1,
  },
  'roll 57x32': { kind: 'roll', labelWidthMm: 57, labelHeightMm: 32 },
  'roll 100x50': { kind: 'roll', labelWidthMm: 100, labelHeightMm: 50 },
} as const satisfies Record<string, LabelStock>;
export type LabelStockName = keyof typeof LABEL_STOCKS;
export const LABEL_STOCK_NAMES: readonly LabelStockName[] = [
  'letter 3x10',
  'letter 2x5',
  'A4 3x8',
  'A4 3x7',
  'roll 57x32',
  'roll 100x50',
];

/** What keeps a grid from being printed on, in words; undefined when nothing does. */
export function findStockFault(stock: LabelStock): string | undefined {
  const measures = Object.entries(stock).flatMap(([name, value]) =>
    typeof value === 'number' ? [{ name, value }] : [],
  );
  const odd = measures.find(({ value }) => !Number.isFinite(value) || value < 0 || value > 2000);
  if (odd !== undefined) return `${odd.name} is ${odd.value}: give millimetres from 0 to 2000`;
  if (stock.labelWidthMm < 15 || stock.labelHeightMm < 10)
    return 'a label is at least 15 mm wide and 10 mm high';
  if (stock.kind === 'roll') return undefined;
  const { columns, rows } = stock;
  if (!Number.isInteger(columns) || !Number.isInteger(rows) || columns < 1 || rows < 1)
    return 'a sheet has whole columns and rows, one at least';
  if (columns > 1 && stock.pitchXMm < stock.labelWidthMm)
    return 'the labels of a row overlap: pitchXMm is too small';
  if (rows > 1 && stock.pitchYMm < stock.labelHeightMm)
    return 'the labels of a column overlap: pitchYMm is too small';
  const right = stock.leftMm + (columns - 1) * stock.pitchXMm + stock.labelWidthMm;
  const bottom = stock.topMm + (rows - 1) * stock.pitchYMm + stock.labelHeightMm;
  // Half a millimetre: makers round.
  if (right > stock.pageWidthMm + 0.5 || bottom > stock.pageHeightMm + 0.5)
    return `the labels reach over the page's edge (${right.toFixed(1)} by ${bottom.toFixed(1)} mm)`;
  return undefined;
}
