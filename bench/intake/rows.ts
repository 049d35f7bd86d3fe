/** `node bench/intake/rows.ts`: 100,000 rows of past visits as CSV and as XLSX: read, guessed and planned. Goal: well under a minute. */

import { guessMapping, planImport, readTable, type Table } from '@sillwatch/paper';
import { getDay } from '@sillwatch/trade/units';
import { strToU8, zipSync } from 'fflate';

const ROWS = 100_000;
const PROPERTIES = 500;
const STATIONS = 20;

const header = [
  'Account No',
  'Property Name',
  'Street',
  'City',
  'Zip',
  'Station',
  'Model',
  'Date Installed',
  'Visit Date',
  'Service Type',
  'Activity',
  'Comments',
];
const rows = Array.from({ length: ROWS }, (_, n) => {
  const property = n % PROPERTIES;
  const look = Math.floor(n / (PROPERTIES * STATIONS));
  return [
    `A-${property}`,
    `Household ${property}`,
    `${property} Gull Court`,
    'Alder Ferry',
    '00011',
    String((Math.floor(n / PROPERTIES) % STATIONS) + 1),
    'two-part',
    '2022-01-10',
    `20${22 + Math.floor(look / 4)}-${String(2 + (look % 4) * 3).padStart(2, '0')}-15`,
    'check',
    n % 97 === 0 ? 'live' : 'none',
    'put back, "as found"',
  ];
});

const quote = (cell: string): string => (/[",\n]/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell);
const csv = new TextEncoder().encode(
  [header, ...rows].map((cells) => cells.map(quote).join(',')).join('\r\n'),
);

function column(index: number): string {
  return String.fromCharCode(65 + index);
}
const xmlText = (cell: string): string =>
  cell.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('"', '&quot;');
const sheet = [header, ...rows]
  .map(
    (cells, row) =>
      `<row r="${row + 1}">${cells.map((cell, index) => `<c r="${column(index)}${row + 1}" t="inlineStr"><is><t>${xmlText(cell)}</t></is></c>`).join('')}</row>`,
  )
  .join('');
const xlsx = zipSync({
  'xl/workbook.xml': strToU8(
    '<workbook xmlns:r="r"><sheets><sheet name="Book" sheetId="1" r:id="rId1"/></sheets></workbook>',
  ),
  'xl/_rels/workbook.xml.rels': strToU8(
    '<Relationships><Relationship Id="rId1" Target="worksheets/sheet1.xml"/></Relationships>',
  ),
  'xl/worksheets/sheet1.xml': strToU8(`<worksheet><sheetData>${sheet}</sheetData></worksheet>`),
});

for (const [name, bytes] of [
  ['CSV', csv],
  ['XLSX', xlsx],
] as const) {
  const started = performance.now();
  const result = readTable(bytes, `book.${name.toLowerCase()}`);
  if (!result.ok) throw new Error(result.problem.reason);
  const readSeconds = (performance.now() - started) / 1000;
  const facts = planAll(result.table);
  const seconds = (performance.now() - started) / 1000;
  console.log(
    `${name} ${(bytes.length / 2 ** 20).toFixed(1)} MB, ${ROWS} rows: read ${readSeconds.toFixed(1)} s, with planning ${seconds.toFixed(1)} s, ${facts} entries, memory ${(process.memoryUsage().rss / 2 ** 20).toFixed(0)} MB`,
  );
}

function planAll(table: Table): number {
  const { mapping } = guessMapping([table]);
  const plan = planImport({
    tables: [table],
    mapping: { ...mapping, defaults: { timeZone: 'America/New_York' } },
    context: {
      firm: 'bench',
      by: 'person-1',
      today: getDay('2026-11-25'),
      existing: [],
      findKnown: () => undefined,
      branches: [{ id: 'branch-1', name: 'branch-1' }],
      profiles: [{ id: 'demo', name: 'demo' }],
    },
  });
  const [problem] = plan.problems;
  if (problem !== undefined) throw new Error(`row ${problem.row}: ${problem.column}: ${problem.reason}`);
  if (plan.summary.newLooks !== ROWS) throw new Error(`${plan.summary.newLooks} looks`);
  return plan.facts.length;
}
