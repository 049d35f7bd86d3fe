import { execFileSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { AnyFact } from '@sillwatch/trade';
import { getDay } from '@sillwatch/trade/units';
import readBook from 'read-excel-file/node';
import { describe, expect, it } from 'vitest';
import writeBook from 'write-excel-file/node';
import {
  guessMapping,
  type ImportPlan,
  overrideMapping,
  planImport,
  readTable,
} from '../../src/intake/index.ts';
import { SAMPLES, sampleBook } from './sampleBook.ts';

interface File {
  readonly name: string;
  readonly bytes: Uint8Array;
}
const sample = (name: string): File => ({ name, bytes: readFileSync(join(SAMPLES, name)) });
const CSVS = ['properties-invented.csv', 'stations-invented.csv', 'visits-invented.csv'].map(sample);
const BOOK = sample('whole-book-invented.xlsx');

function plan(files: readonly File[], before: readonly AnyFact[] = []): ImportPlan {
  const tables = files.map(({ name, bytes }) => {
    const result = readTable(bytes, name);
    if (!result.ok) throw new Error(result.problem.reason);
    return result.table;
  });
  const given: unknown = JSON.parse(readFileSync(join(SAMPLES, 'mapping-invented.json'), 'utf8'));
  const laid = overrideMapping(guessMapping(tables).mapping, given);
  if (!laid.ok) throw new Error(JSON.stringify(laid.problems));
  const byId = new Map(before.map((fact) => [fact.id, fact]));
  return planImport({
    tables,
    mapping: laid.mapping,
    context: {
      firm: 'firm-1',
      by: 'person-1',
      today: getDay('2026-11-25'),
      existing: [],
      findKnown: (id) => byId.get(id),
      branches: [{ id: 'branch-harbour', name: 'branch-harbour' }],
      profiles: [{ id: 'demo', name: 'demo' }],
    },
  });
}

/** What the facts say, without where their rows stood. */
const sayings = (made: ImportPlan): unknown => {
  expect(made.problems).toEqual([]);
  return made.facts.map(({ id, at, kind, body }) => {
    const { recordKeptElsewhere, ...said } = Object(body);
    return [id, at, kind, said];
  });
};

describe('one workbook of three sheets, written by LibreOffice', () => {
  it('says what the three CSV files say: dates, formulas, numbers, leading zeros, accents', () => {
    expect(sayings(plan([BOOK]))).toEqual(sayings(plan(CSVS)));
    expect(plan([BOOK]).facts.length).toBeGreaterThan(20);
  });

  it('imported after the CSV files, or under another name, makes nothing twice', () => {
    const looks = plan(CSVS).facts.filter((fact) => fact.kind === 'station seen');
    const again = plan([{ ...BOOK, name: 'renamed.xlsx' }], looks);
    expect(again.problems).toEqual([]);
    expect(again.facts.filter((fact) => fact.kind === 'station seen')).toEqual([]);
  });

  it('is what LibreOffice writes today, where it is installed', { timeout: 60_000 }, ({ skip }) => {
    const soffice = '/usr/bin/soffice';
    if (!existsSync(soffice)) {
      if (process.env['CI'] === 'true') throw new Error('LibreOffice is missing in CI');
      skip('LibreOffice is not installed');
    }
    const folder = mkdtempSync(join(tmpdir(), 'sillwatch-book-'));
    try {
      writeFileSync(join(folder, 'book.fods'), sampleBook());
      const profile = `-env:UserInstallation=file://${folder}/profile`;
      const options = ['--headless', profile, '--convert-to', 'xlsx', '--outdir', folder];
      execFileSync(soffice, [...options, join(folder, 'book.fods')], { stdio: 'ignore' });
      const bytes = readFileSync(join(folder, 'book.xlsx'));
      expect(sayings(plan([{ name: 'book.xlsx', bytes }]))).toEqual(sayings(plan([BOOK])));
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  });
});

describe('against other readers and writers of workbooks', () => {
  const asText = (cell: unknown): string => {
    if (cell === null || cell === undefined) return '';
    return cell instanceof Date ? cell.toISOString().slice(0, 10) : String(cell);
  };
  const trimmed = (cells: readonly string[]): readonly string[] =>
    cells.slice(0, cells.findLastIndex((cell) => cell !== '') + 1);

  it('read-excel-file (npm) finds the same cells in the same book', async () => {
    const theirs = await readBook(Buffer.from(BOOK.bytes));
    const ours = readTable(BOOK.bytes, BOOK.name);
    if (!ours.ok) throw new Error(ours.problem.reason);
    expect(
      ours.table.sheets.map(({ name, header, rows }) => [
        name,
        [header, ...rows.map((row) => row.cells)].map(trimmed),
      ]),
    ).toEqual(theirs.map(({ sheet, data }) => [sheet, data.map((cells) => trimmed(cells.map(asText)))]));
  });

  it('a book that write-excel-file (npm) wrote: shared strings, dates, numbers', async () => {
    const file = await writeBook([
      [{ value: 'name' }, { value: 'day' }, { value: 'number' }],
      [
        { value: 'Señor "Ibáñez" & Co.\nupstairs' },
        { value: new Date('2024-02-29T00:00:00Z'), format: 'mm/dd/yyyy' },
        { value: 2.5 },
      ],
    ]).toBuffer();
    const read = readTable(file, 'theirs.xlsx');
    expect(read.ok && read.table.sheets[0]?.rows[0]?.cells).toEqual([
      'Señor "Ibáñez" & Co.\nupstairs',
      '2024-02-29',
      '2.5',
    ]);
  });
});
