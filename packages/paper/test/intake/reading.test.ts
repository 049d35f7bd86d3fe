import { execFileSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { zipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { readTable, type Sheet } from '../../src/intake/index.ts';
import { serialToDate } from '../../src/intake/readXlsx.ts';
import { makeXlsx } from './makeXlsx.ts';

const utf8 = (text: string): Uint8Array => new TextEncoder().encode(text);
const fixture = join(import.meta.dirname, '../fixtures/libreoffice-invented.xlsx');

function sheetOf(bytes: Uint8Array, file = 'book.csv'): Sheet {
  const result = readTable(bytes, file);
  if (!result.ok) throw new Error(result.problem.reason);
  const [sheet] = result.table.sheets;
  if (sheet === undefined) throw new Error('no sheet');
  return sheet;
}
const cellsOf = (text: string): readonly (readonly string[])[] => {
  const sheet = sheetOf(utf8(text));
  return [sheet.header, ...sheet.rows.map((row) => row.cells)];
};
function problemOf(bytes: Uint8Array): string {
  const result = readTable(bytes, 'book');
  if (result.ok) throw new Error('was read');
  expect(result.problem.remedy).not.toBe('');
  return result.problem.reason;
}

/** Writes another unpacked size for one part into a zip's central directory (APPNOTE 4.3.12: signature 0x02014b50, size at 24, name at 46). */
function declareSize(zip: Uint8Array, part: string, bytes: number): Uint8Array {
  const changed = Uint8Array.from(zip);
  const view = new DataView(changed.buffer);
  for (let at = 0; at < changed.length - 46; at += 1) {
    if (view.getUint32(at, true) !== 0x02014b50) continue;
    const name = new TextDecoder().decode(changed.subarray(at + 46, at + 46 + view.getUint16(at + 28, true)));
    if (name === part) view.setUint32(at + 24, bytes, true);
  }
  return changed;
}

describe('CSV, rule by rule of RFC 4180, section 2', () => {
  it('1 and 2: records end with CRLF, the last may not', () => {
    expect(cellsOf('aaa,bbb,ccc\r\nzzz,yyy,xxx')).toEqual([
      ['aaa', 'bbb', 'ccc'],
      ['zzz', 'yyy', 'xxx'],
    ]);
    expect(cellsOf('aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n')).toEqual([
      ['aaa', 'bbb', 'ccc'],
      ['zzz', 'yyy', 'xxx'],
    ]);
  });
  it('3: the first line holds the names', () => {
    const sheet = sheetOf(utf8('field_name,other\r\naaa,bbb\r\n'));
    expect([sheet.header, sheet.headerRow, sheet.rows[0]?.row]).toEqual([['field_name', 'other'], 1, 2]);
  });
  it('4: blanks are part of a field, and rows may be shorter or longer', () => {
    expect(cellsOf('a,b\r\n x ,y,z\r\nq\r\n')).toEqual([['a', 'b'], [' x ', 'y', 'z'], ['q']]);
  });
  it('5 and 6: quoted fields may hold commas and line breaks', () => {
    expect(cellsOf('a,b\r\n"x, y","line\r\nbreak"\r\n')).toEqual([
      ['a', 'b'],
      ['x, y', 'line\r\nbreak'],
    ]);
  });
  it('7: a doubled quote is a quote', () => {
    expect(cellsOf('a,b\r\n"aaa","b""bb"\r\n')).toEqual([
      ['a', 'b'],
      ['aaa', 'b"bb'],
    ]);
  });
});

describe('other files that people call CSV', () => {
  it.each([
    ['semicolons', 'a;b\n1,5;x\n2,5;y\n'],
    ['tabs', 'a\tb\n1,5\tx\n2,5\ty\n'],
    ['bars', 'a|b\n1,5|x\n2,5|y\n'],
  ])('%s', (_, text) => {
    expect(cellsOf(text)).toEqual([
      ['a', 'b'],
      ['1,5', 'x'],
      ['2,5', 'y'],
    ]);
  });

  it('UTF-16 and UTF-8 with a byte order mark', () => {
    const text = 'name,town\r\nIbáñez,Río\r\n';
    const utf16 = new Uint8Array([
      0xff,
      0xfe,
      ...new Uint8Array(Uint16Array.from(text, (char) => char.charCodeAt(0)).buffer),
    ]);
    expect(sheetOf(utf16).rows[0]?.cells).toEqual(['Ibáñez', 'Río']);
    expect(sheetOf(utf8(`\uFEFF${text}`)).header).toEqual(['name', 'town']);
  });

  it('Windows-1252, with a warning', () => {
    const result = readTable(
      Uint8Array.from('name,town\r\nIb\xe1\xf1ez,x\r\n', (char) => char.charCodeAt(0)),
      'old.csv',
    );
    expect(result.ok && result.table.sheets[0]?.rows[0]?.cells[0]).toBe('Ibáñez');
    expect(result.ok && result.table.warnings.length).toBe(1);
  });

  it('feet and inches in an unquoted field, and a title above the names', () => {
    expect(cellsOf('Our book\nname,length\nx,12\' 6"\n')).toEqual([
      ['name', 'length'],
      ['x', '12\' 6"'],
    ]);
  });
});

describe('XLSX', () => {
  it('written by LibreOffice: text, leading zeros, accents, dates, numbers', () => {
    const sheet = sheetOf(readFileSync(fixture), 'x.xlsx');
    expect(sheet.rows.map((row) => row.cells)).toEqual([
      ['A-1', 'Quill, Vane & Co.', '4 Kiln Street', 'Quarry Bend', '00022', '2024-02-29', '3'],
      ['A-2', 'Señor Ibáñez', '77 Lantern Hill', 'Alder Ferry', '00011', '1999-12-31', '2.5'],
    ]);
  });

  it('written by LibreOffice now, where it is installed', ({ skip }) => {
    const soffice = '/usr/bin/soffice';
    if (!existsSync(soffice)) {
      if (process.env['CI'] === 'true') throw new Error('LibreOffice is missing in CI');
      skip('LibreOffice is not installed');
    }
    const folder = mkdtempSync(join(tmpdir(), 'sillwatch-xlsx-'));
    try {
      writeFileSync(join(folder, 'live.csv'), 'name,town\r\n"a, ""b""",Río\r\n');
      execFileSync(
        soffice,
        [
          '--headless',
          `-env:UserInstallation=file://${folder}/profile`,
          '--convert-to',
          'xlsx',
          '--infilter=CSV:44,34,76,1',
          '--outdir',
          folder,
          join(folder, 'live.csv'),
        ],
        { stdio: 'ignore' },
      );
      expect(sheetOf(readFileSync(join(folder, 'live.xlsx'))).rows[0]?.cells).toEqual(['a, "b"', 'Río']);
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  });

  it('serial numbers, against the examples of ECMA-376 part 1, 18.17.4.1 (from memory)', () => {
    expect([1, 59, 61, 39_448].map((serial) => serialToDate(serial, false))).toEqual([
      '1900-01-01',
      '1900-02-28',
      '1900-03-01',
      '2008-01-01',
    ]);
    expect([0, 37_986].map((serial) => serialToDate(serial, true))).toEqual(['1904-01-01', '2008-01-01']);
  });

  it('inline strings, 1904 dates and sparse cells', () => {
    const bytes = makeXlsx(
      [
        '<c r="A1" t="inlineStr"><is><t>name</t></is></c><c r="C1" t="inlineStr"><is><t>day</t></is></c>',
        '<c r="A2" t="inlineStr"><is><t>x</t></is></c><c r="C2" s="1"><v>37986</v></c>',
      ],
      { date1904: true },
    );
    expect(sheetOf(bytes).rows[0]?.cells).toEqual(['x', '', '2008-01-01']);
  });
});

describe('what cannot be read says why and what to do', () => {
  it.each<[string, Uint8Array, RegExp]>([
    ['nothing', new Uint8Array(), /empty/],
    ['blanks', utf8('\r\n\r\n'), /no row with column names/],
    ['a picture', Uint8Array.from([0x89, 0x50, 0x4e, 0x47, 0, 0, 0, 13]), /no text/],
    ['an open quote', utf8('a,b\r\n"x,y\r\n'), /line .*never ends/],
    ['a cut workbook', readFileSync(fixture).subarray(0, 3000), /damaged or cut/],
    ['a zip of something else', zipSync({ 'hello.txt': utf8('hi') }), /lacks its part/],
    [
      'entities',
      makeXlsx(['<c r="A1"><v>1</v></c>'], { prolog: '<!DOCTYPE x [<!ENTITY a "b">]>' }),
      /document type/,
    ],
    ['broken XML', makeXlsx(['<c r="A1"><v>1</c>']), /XML that cannot be read/],
  ])('%s', (_, bytes, reason) => {
    expect(problemOf(bytes)).toMatch(reason);
  });

  it('a workbook that swells when unpacked', () => {
    const bomb = declareSize(readFileSync(fixture), 'xl/worksheets/sheet1.xml', 900 * 2 ** 20);
    expect(problemOf(bomb)).toMatch(/more than 500 MB/);
  });

  it('a workbook that swells beyond what it declares', () => {
    const liar = declareSize(readFileSync(fixture), 'xl/worksheets/sheet1.xml', 100);
    expect(problemOf(liar)).toMatch(/damaged|cannot be read/);
  });
});

describe('whatever bytes come, the readers answer and never throw', () => {
  const seeds = [readFileSync(fixture), utf8('name,town\r\n"a, ""b""",Río\r\nx,y\r\n')];
  it('mutated files', () => {
    const mutation = fc.record({
      from: fc.constantFrom(...seeds),
      at: fc.array(fc.tuple(fc.nat(6000), fc.nat(255)), { maxLength: 30 }),
      cut: fc.nat(6000),
    });
    fc.assert(
      fc.property(mutation, ({ from, at, cut }) => {
        const bytes = Uint8Array.from(from);
        for (const [index, value] of at) if (index < bytes.length) bytes[index] = value;
        expect(typeof readTable(bytes.subarray(0, Math.max(1, cut)), 'mutated').ok).toBe('boolean');
        expect(typeof readTable(bytes, 'mutated').ok).toBe('boolean');
      }),
      { numRuns: 400 },
    );
  });
  it('random bytes and huge cells', () => {
    fc.assert(
      fc.property(
        fc.uint8Array({ maxLength: 4000 }),
        (bytes) => typeof readTable(bytes, 'random').ok === 'boolean',
      ),
    );
    expect(readTable(utf8(`a,b\r\n${'x'.repeat(5_000_000)},y\r\n`), 'huge.csv').ok).toBe(false);
  });
});
