import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parse } from 'csv-parse/sync';
import { type FodsCell, type FodsSheet, makeFods } from './makeFods.ts';

export const SAMPLES = join(import.meta.dirname, '../../samples');

/**
 * The three sample sheets as one book: dates as dates, station numbers as numbers, the first of them worked out by a formula.
 * `samples/README.md` says how the committed workbook is made from it.
 */
export function sampleBook(): string {
  const about: FodsSheet = {
    name: 'About',
    rows: [['All invented: nobody and nothing in this book exists.']],
  };
  return makeFods([
    about,
    sheetOf('Properties', 'properties-invented.csv'),
    sheetOf('Stations', 'stations-invented.csv'),
    sheetOf('Visits', 'visits-invented.csv'),
  ]);
}

function sheetOf(name: string, file: string): FodsSheet {
  const [header = [], ...rows] = parse(readFileSync(join(SAMPLES, file)), { bom: true });
  return {
    name,
    rows: [
      header,
      ...rows.map((cells: string[], row: number) =>
        cells.map((cell, at) => toCell(header[at] ?? '', cell, row)),
      ),
    ],
  };
}

function toCell(column: string, cell: string, row: number): FodsCell {
  const day = /^(\d\d)\/(\d\d)\/(\d{4})$/.exec(cell);
  if (day !== null) return { day: `${day[3]}-${day[1]}-${day[2]}` };
  if (column === 'Stn No') return row === 0 ? { formula: '3-2' } : Number(cell);
  return /^[XY] /.test(column) && cell !== '' ? Number(cell) : cell;
}
