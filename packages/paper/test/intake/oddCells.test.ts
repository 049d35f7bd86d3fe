import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { type AnyFact, checkFact, foldProperty } from '@sillwatch/trade';
import { getDay } from '@sillwatch/trade/units';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import {
  guessMapping,
  type ImportPlan,
  overrideMapping,
  planImport,
  readTable,
  type Table,
} from '../../src/intake/index.ts';
import { SAMPLES } from './sampleBook.ts';

const TABLES = ['properties', 'stations', 'visits'].map((kind): Table => {
  const file = `${kind}-invented.csv`;
  const result = readTable(readFileSync(join(SAMPLES, file)), file);
  if (!result.ok) throw new Error(result.problem.reason);
  return result.table;
});

/** Cells that a typing error, a spreadsheet or a joker may leave; most of them fit some column. */
const ODD = [
  ...['', '  ', '\n', '\u0000', 'e\u0301', 'x'.repeat(20_000), 'constructor', '__proto__', '=1+1'],
  ...['-1', '0', '1', '2', '12A', '1e9', 'NaN', 'Infinity', '50%', 'yes', 'no'],
  ...['03/04/2024', '2024-02-30', '99/99/9999', '0001-01-01', '9999-12-31', '1899-12-31', '12/31/1969'],
  ...[
    'live',
    'feeding',
    'none',
    'not found',
    'Annual',
    'always-baited',
    'one-part',
    'basement',
    'A-100',
    'House',
  ],
];

const edits = fc.array(
  fc.record({
    table: fc.nat(2),
    row: fc.nat(9),
    column: fc.nat(11),
    cell: fc.constantFrom(...ODD),
    doubled: fc.boolean(),
  }),
  { maxLength: 4 },
);

function change(
  changes: readonly { table: number; row: number; column: number; cell: string; doubled: boolean }[],
) {
  return TABLES.map((table, at) => ({
    ...table,
    sheets: table.sheets.map((sheet) => ({
      ...sheet,
      rows: sheet.rows.flatMap((row, index) => {
        const here = changes.filter((one) => one.table === at && one.row === index);
        const cells = row.cells.map(
          (cell, column) => here.find((one) => one.column === column)?.cell ?? cell,
        );
        return here.some((one) => one.doubled) ? [row, { ...row, cells }] : [{ ...row, cells }];
      }),
    })),
  }));
}

function plan(tables: readonly Table[], before: readonly AnyFact[]): ImportPlan {
  const laid = overrideMapping(guessMapping(tables).mapping, {
    defaults: { timeZone: 'America/New_York', branch: 'harbour' },
    values: { termites: { a: 'none' } },
  });
  if (!laid.ok) throw new Error('mapping');
  const byId = new Map(before.map((fact) => [fact.id, fact]));
  return planImport({
    tables,
    mapping: laid.mapping,
    context: {
      firm: 'firm-1',
      by: 'person-1',
      today: getDay('2026-11-25'),
      existing: fold(before),
      findKnown: (id) => byId.get(id),
      branches: [
        { id: 'harbour', name: 'harbour' },
        { id: 'upland', name: 'upland' },
      ],
      profiles: [{ id: 'demo', name: 'demo' }],
    },
  });
}
const fold = (facts: readonly AnyFact[]) =>
  [...Map.groupBy(facts, (fact) => fact.property ?? '').values()].map((one) => foldProperty(one));

it('a book with odd cells and doubled rows is refused, or imported whole, folded whole, and known when it comes again', () => {
  let taken = 0;
  fc.assert(
    fc.property(edits, (changes) => {
      const tables = change(changes);
      const made = plan(tables, []);
      if (made.problemCount > 0) {
        expect(made.facts).toEqual([]);
        return;
      }
      taken += 1;
      expect(made.facts.flatMap((fact) => checkFact(fact))).toEqual([]);
      expect(new Set(made.facts.map((fact) => fact.id)).size).toBe(made.facts.length);
      expect(fold(made.facts).flatMap((state) => state.passedOver)).toEqual([]);
      expect(plan(tables, made.facts)).toMatchObject({ facts: [], problems: [] });
    }),
    { numRuns: 200, seed: 20_261_125 },
  );
  expect(taken).toBeGreaterThan(20);
});
