/**
 * `node bench/intake/readers.ts [ours|theirs]`: the same workbook of 100,000 rows read by our reader and by read-excel-file (npm).
 * One reader a process, so that the memory of the one is not counted for the other; without an argument both run in turn.
 */
import { execFileSync } from 'node:child_process';
import { readTable } from '@sillwatch/paper';
import { strToU8, zipSync } from 'fflate';
import readBook from 'read-excel-file/node';

const ROWS = 100_000;
const COLUMNS = 12;
const reader = process.argv[2];

if (reader === undefined) {
  for (const one of ['ours', 'theirs'])
    process.stdout.write(execFileSync(process.execPath, [import.meta.filename, one]));
} else {
  const bytes = makeBook();
  const before = process.memoryUsage().rss;
  const started = performance.now();
  const rows = reader === 'ours' ? readOurs(bytes) : await readTheirs(bytes);
  const seconds = (performance.now() - started) / 1000;
  if (rows !== ROWS + 1) throw new Error(`${rows} rows`);
  const most = process.resourceUsage().maxRSS / 1024;
  console.log(
    `${reader}: ${seconds.toFixed(1)} s, ${(most - before / 2 ** 20).toFixed(0)} MB more than before, ${(bytes.length / 2 ** 20).toFixed(1)} MB file`,
  );
}

function readOurs(bytes: Uint8Array): number {
  const result = readTable(bytes, 'book.xlsx');
  if (!result.ok) throw new Error(result.problem.reason);
  return (result.table.sheets[0]?.rows.length ?? 0) + 1;
}

async function readTheirs(bytes: Uint8Array): Promise<number> {
  const [sheet] = await readBook(Buffer.from(bytes));
  return sheet?.data.length ?? 0;
}

/** Texts shared as spreadsheet programs share them, one column of dates, one of numbers. */
function makeBook(): Uint8Array {
  const main = 'xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"';
  const rels = 'http://schemas.openxmlformats.org/officeDocument/2006/relationships';
  const packageRels = 'http://schemas.openxmlformats.org/package/2006/relationships';
  const strings = Array.from({ length: 5000 }, (_, n) => `household ${n} & co`);
  const shared = strings.map((text) => `<si><t>${text.replace('&', '&amp;')}</t></si>`).join('');
  const rows: string[] = [];
  for (let row = 1; row <= ROWS + 1; row += 1) {
    const cells = Array.from({ length: COLUMNS }, (_, column) => {
      const reference = `${String.fromCharCode(65 + column)}${row}`;
      if (column === 1 && row > 1) return `<c r="${reference}" s="1"><v>${45_000 + (row % 900)}</v></c>`;
      if (column === 2 && row > 1) return `<c r="${reference}"><v>${row}</v></c>`;
      return `<c r="${reference}" t="s"><v>${(row * 7 + column) % strings.length}</v></c>`;
    });
    rows.push(`<row r="${row}">${cells.join('')}</row>`);
  }
  return zipSync({
    '[Content_Types].xml': strToU8(
      '<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="xml" ContentType="application/xml"/></Types>',
    ),
    'xl/workbook.xml': strToU8(
      `<workbook ${main} xmlns:r="${rels}"><sheets><sheet name="Book" sheetId="1" r:id="rId1"/></sheets></workbook>`,
    ),
    'xl/_rels/workbook.xml.rels': strToU8(
      `<Relationships xmlns="${packageRels}"><Relationship Id="rId1" Type="${rels}/worksheet" Target="worksheets/sheet1.xml"/><Relationship Id="rId2" Type="${rels}/sharedStrings" Target="sharedStrings.xml"/><Relationship Id="rId3" Type="${rels}/styles" Target="styles.xml"/></Relationships>`,
    ),
    'xl/sharedStrings.xml': strToU8(`<sst ${main}>${shared}</sst>`),
    'xl/styles.xml': strToU8(
      `<styleSheet ${main}><cellXfs count="2"><xf numFmtId="0"/><xf numFmtId="14" applyNumberFormat="1"/></cellXfs></styleSheet>`,
    ),
    'xl/worksheets/sheet1.xml': strToU8(
      `<worksheet ${main}><sheetData>${rows.join('')}</sheetData></worksheet>`,
    ),
  });
}
