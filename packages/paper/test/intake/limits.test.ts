import { foldProperty } from '@sillwatch/trade';
import { getDay } from '@sillwatch/trade/units';
import { describe, expect, it } from 'vitest';
import {
  guessMapping,
  type ImportPlan,
  overrideMapping,
  planImport,
  readTable,
} from '../../src/intake/index.ts';
import { makeXlsx } from './makeXlsx.ts';

const utf8 = (text: string): Uint8Array => new TextEncoder().encode(text);

function problemOf(bytes: Uint8Array): string {
  const result = readTable(bytes, 'book');
  if (result.ok) throw new Error('was read');
  expect(result.problem.remedy).not.toBe('');
  return result.problem.reason;
}

function planText(text: string, given: object = {}): ImportPlan {
  const result = readTable(utf8(text), 'book.csv');
  if (!result.ok) throw new Error(result.problem.reason);
  const laid = overrideMapping(guessMapping([result.table]).mapping, {
    defaults: { timeZone: 'America/New_York' },
    ...given,
  });
  if (!laid.ok) throw new Error(JSON.stringify(laid.problems));
  return planImport({
    tables: [result.table],
    mapping: laid.mapping,
    context: {
      firm: 'firm-1',
      by: 'person-1',
      today: getDay('2026-11-25'),
      existing: [],
      findKnown: () => undefined,
      branches: [{ id: 'branch-harbour', name: 'branch-harbour' }],
      profiles: [{ id: 'demo', name: 'demo' }],
    },
  });
}
const HEADER =
  'Account No,Property Name,Street,City,Zip,Station,Model,Date Installed,Visit Date,Activity,Comments\n';
const looked = (found: string, note = '', account = 'A-1'): string =>
  `${account},Marrow,1 Gull Court,Alder Ferry,00011,1,two-part,2024-02-01,2024-02-01,${found},${note}\n`;

describe('no file can eat the memory of the one who reads it', () => {
  it.each<[string, Uint8Array, RegExp]>([
    ['millions of blank lines', new Uint8Array(20 * 2 ** 20).fill(10), /more than 500000 rows/],
    ['a line of commas', utf8(`a,b\n${','.repeat(600)}\n`), /row 2 has more than 500 columns/],
    ['a huge cell', utf8(`a,b\nx,${'y'.repeat(20_001)}\n`), /row 2 is longer than 20000 characters/],
    [
      'a huge cell of a workbook',
      makeXlsx(['<c r="A1"><v>1</v></c>', `<c r="A2" t="str"><v>${'y'.repeat(20_001)}</v></c>`]),
      /row 2 is longer than 20000 characters/,
    ],
    ['a cell far to the right', makeXlsx(['<c r="XFD1"><v>1</v></c>']), /row 1 has more than 500 columns/],
  ])('%s', (_, bytes, reason) => {
    expect(problemOf(bytes)).toMatch(reason);
  });

  it('formatted blanks are no cells, and rows keep the numbers that people see', () => {
    const bytes = makeXlsx([
      '<c r="A1" t="str"><v>name</v></c><c r="B1" t="str"><v>town</v></c><c r="XFD1" s="1"/>',
      '<c r="A2" s="1"/><c r="B2" s="1"/>',
      '<c r="A3" t="str"><v>x_x000D_</v></c><c r="B3" s="1"/>',
    ]);
    const result = readTable(bytes, 'book.xlsx');
    expect(result.ok && result.table.sheets[0]).toMatchObject({
      header: ['name', 'town'],
      rows: [{ row: 3, cells: ['x\r'] }],
    });
  });
});

describe('words that mean something to the engine are words like any other', () => {
  it.each(['constructor', '__proto__', 'toString', 'hasOwnProperty'])('%s', (word) => {
    const made = planText(HEADER + looked(word), { values: { termites: { a: 'none' } } });
    expect(made.problems.map(({ column, value }) => [column, value])).toEqual([['Activity', word]]);
    const text = `${HEADER.replace('Property Name', word)}${looked('none')}`;
    const named = planText(text, {
      sheets: [
        {
          file: 'book.csv',
          sheet: '',
          records: 'stations',
          columns: JSON.parse(
            `{"${word}":"name","Street":"street","City":"town","Station":"stationNumber","Model":"model","Date Installed":"installedOn"}`,
          ),
        },
      ],
    });
    expect([named.problems, named.summary.newStations]).toEqual([[], 1]);
  });
});

describe('a look on the day of installation', () => {
  it('comes after the installation, whatever the ids: 64 properties, each with a hit', () => {
    const rows = Array.from({ length: 64 }, (_, n) =>
      looked('live', '', `A-${n}`).replace('1 Gull Court', `${n} Gull Court`),
    );
    const made = planText(HEADER + rows.join(''));
    expect(made.problems).toEqual([]);
    const states = [...Map.groupBy(made.facts, (fact) => fact.property ?? '').values()].map((facts) =>
      foldProperty(facts),
    );
    expect(states.map((state) => state.stations[0]?.phase)).toEqual(states.map(() => 'hit'));
    expect(states.flatMap((state) => state.passedOver)).toEqual([]);
  });
});
