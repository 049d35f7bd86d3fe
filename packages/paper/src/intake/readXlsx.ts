import { dayFromNumber, dayToText } from '@sillwatch/trade/units';
import { type Unzipped, unzipSync } from 'fflate';
import { SaxesParser } from 'saxes';
import {
  createCellGuard,
  MOST_CELL,
  MOST_COLUMNS,
  MOST_ROWS,
  type RawSheet,
  type SheetRow,
  UnreadableFile,
} from './table.ts';

/**
 * What all parts of one workbook may unpack to: a small file that swells beyond it is an attack or an accident.
 * Under the longest string of the engine (2^29 - 24 characters), so that no text in a part can exceed that.
 */
const MOST_UNPACKED_MIB = 500;
const MOST_STRINGS = 5_000_000;

/** Reads the sheets of an Office Open XML workbook (ECMA-376 part 1, SpreadsheetML). Throws UnreadableFile. */
export function readXlsx(bytes: Uint8Array, onProgress?: (rows: number) => void): readonly RawSheet[] {
  const parts = unpack(bytes);
  const workbook = readWorkbook(parts);
  if (workbook.sheets.length === 0) throw new UnreadableFile('no spreadsheet');
  const shared = readSharedStrings(parts);
  const dateStyles = readDateStyles(parts);
  const guard = createCellGuard();
  let rowsBefore = 0;
  return workbook.sheets.map(({ name, path }) => {
    const rows = readSheet(getPart(parts, path), shared, dateStyles, workbook.is1904, (row, cells) => {
      guard(row, cells);
      // Rows of formatted blanks are left out, so that this is not the row's number.
      rowsBefore += 1;
      if (rowsBefore % 1000 === 0) onProgress?.(rowsBefore);
    });
    return { name, rows };
  });
}

function unpack(bytes: Uint8Array): Unzipped {
  let unpacked = 0;
  try {
    return unzipSync(bytes, {
      filter: ({ name, originalSize }) => {
        if (
          !/^(xl\/(workbook|sharedStrings|styles)\.xml|xl\/worksheets\/[^/]+\.xml|xl\/_rels\/workbook\.xml\.rels)$/.test(
            name,
          )
        )
          return false;
        unpacked += originalSize;
        if (unpacked > MOST_UNPACKED_MIB * 2 ** 20)
          throw new UnreadableFile('swollen', { most: MOST_UNPACKED_MIB });
        return true;
      },
    });
  } catch (error) {
    if (error instanceof UnreadableFile) throw error;
    throw new UnreadableFile('damaged');
  }
}

function getPart(parts: Unzipped, path: string): Uint8Array {
  const part = parts[path];
  if (part === undefined) throw new UnreadableFile('part missing', { part: path });
  return part;
}

interface Handlers {
  readonly open?: (name: string, attributes: Readonly<Record<string, string>>) => void;
  readonly close?: (name: string) => void;
  readonly text?: (text: string) => void;
}

/** Walks XML; names come without their prefix. A doctype is refused: no workbook has one, and entities could swell. */
function walkXml(xml: Uint8Array, { open, close, text }: Handlers): void {
  const parser = new SaxesParser<{ position: false; xmlns: false }>({ position: false, xmlns: false });
  parser.on('doctype', () => {
    throw new UnreadableFile('document type');
  });
  parser.on('error', () => {
    throw new UnreadableFile('broken XML');
  });
  if (open !== undefined) parser.on('opentag', (tag) => open(localName(tag.name), tag.attributes));
  if (close !== undefined) parser.on('closetag', (tag) => close(localName(tag.name)));
  if (text !== undefined) parser.on('text', text);
  const decoder = new TextDecoder();
  for (let from = 0; from < xml.length; from += 1 << 16)
    parser.write(decoder.decode(xml.subarray(from, from + (1 << 16)), { stream: true }));
  parser.write(decoder.decode()).close();
}

function localName(name: string): string {
  const colon = name.indexOf(':');
  return colon === -1 ? name : name.slice(colon + 1);
}

interface Workbook {
  readonly sheets: readonly { readonly name: string; readonly path: string }[];
  readonly is1904: boolean;
}

function readWorkbook(parts: Unzipped): Workbook {
  const targets = new Map<string, string>();
  walkXml(getPart(parts, 'xl/_rels/workbook.xml.rels'), {
    open: (name, attributes) => {
      const { Id: id, Target: target } = attributes;
      if (name === 'Relationship' && id !== undefined && target !== undefined)
        targets.set(id, target.startsWith('/') ? target.slice(1) : `xl/${target}`);
    },
  });
  const sheets: { name: string; path: string }[] = [];
  let is1904 = false;
  walkXml(getPart(parts, 'xl/workbook.xml'), {
    open: (name, attributes) => {
      if (name === 'workbookPr') is1904 = attributes['date1904'] === '1' || attributes['date1904'] === 'true';
      if (name !== 'sheet' || attributes['state'] === 'hidden' || attributes['state'] === 'veryHidden')
        return;
      const id = Object.entries(attributes).find(([key]) => key.endsWith(':id') || key === 'id')?.[1];
      const path = id === undefined ? undefined : targets.get(id);
      if (path !== undefined) sheets.push({ name: attributes['name'] ?? '', path });
    },
  });
  return { sheets, is1904 };
}

function readSharedStrings(parts: Unzipped): readonly string[] {
  if (parts['xl/sharedStrings.xml'] === undefined) return [];
  const strings: string[] = [];
  let current = '';
  let inText = false;
  let inPhonetic = false;
  walkXml(getPart(parts, 'xl/sharedStrings.xml'), {
    open: (name) => {
      if (name === 'si') current = '';
      else if (name === 'rPh') inPhonetic = true;
      else if (name === 't') inText = !inPhonetic;
    },
    close: (name) => {
      if (name === 'si') {
        strings.push(unescapeText(current));
        if (strings.length > MOST_STRINGS) throw new UnreadableFile('too many texts', { most: MOST_STRINGS });
      } else if (name === 'rPh') inPhonetic = false;
      else if (name === 't') inText = false;
    },
    text: (text) => {
      if (!inText) return;
      current += text;
      if (current.length > MOST_CELL)
        throw new UnreadableFile('long text', { start: current.slice(0, 40), most: MOST_CELL });
    },
  });
  return strings;
}

/** Indexes of cell formats that show a date: built-in numbers 14 to 22 and 45 to 47 (ECMA-376 part 1, 18.8.30), or y, m, d in a custom one. */
function readDateStyles(parts: Unzipped): ReadonlySet<number> {
  const styles = new Set<number>();
  if (parts['xl/styles.xml'] === undefined) return styles;
  const customDates = new Set<number>();
  let inCellFormats = false;
  let index = 0;
  walkXml(getPart(parts, 'xl/styles.xml'), {
    open: (name, attributes) => {
      if (name === 'numFmt' && isDateFormat(attributes['formatCode'] ?? ''))
        customDates.add(Number(attributes['numFmtId']));
      if (name === 'cellXfs') inCellFormats = true;
      if (name !== 'xf' || !inCellFormats) return;
      const id = Number(attributes['numFmtId']);
      if (
        (id >= 14 && id <= 22) ||
        (id >= 27 && id <= 36) ||
        (id >= 45 && id <= 47) ||
        (id >= 50 && id <= 58) ||
        customDates.has(id)
      )
        styles.add(index);
      index += 1;
    },
    close: (name) => {
      if (name === 'cellXfs') inCellFormats = false;
    },
  });
  return styles;
}

function isDateFormat(code: string): boolean {
  const bare = code.replace(/"[^"]*"|\\.|\[[^\]]*\]/g, '');
  return /[yd]/i.test(bare) || (/m/i.test(bare) && !/[0#?]/.test(bare));
}

function readSheet(
  xml: Uint8Array,
  shared: readonly string[],
  dateStyles: ReadonlySet<number>,
  is1904: boolean,
  onRow: (row: number, cells: readonly string[]) => void,
): readonly SheetRow[] {
  const rows: SheetRow[] = [];
  let cells: string[] = [];
  let row = 0;
  let column = -1;
  let type = '';
  let style = -1;
  let value = '';
  let collecting = false;
  walkXml(xml, {
    open: (name, attributes) => {
      if (name === 'row') {
        const said = Number(attributes['r']);
        row = Number.isInteger(said) && said > row ? said : row + 1;
        cells = [];
        column = -1;
      } else if (name === 'c') {
        column = attributes['r'] === undefined ? column + 1 : columnOf(attributes['r']);
        type = attributes['t'] ?? 'n';
        style = Number(attributes['s'] ?? -1);
        value = '';
      } else if (name === 'v' || name === 't') collecting = true;
    },
    close: (name) => {
      if (name === 'v' || name === 't') collecting = false;
      else if (name === 'c') {
        const text = cellText(type, value, shared, dateStyles.has(style), is1904);
        if (text === '' || column < 0) return;
        if (column >= MOST_COLUMNS) throw new UnreadableFile('too wide', { row, most: MOST_COLUMNS });
        while (cells.length < column) cells.push('');
        cells[column] = text;
      } else if (name === 'row' && cells.length > 0) {
        onRow(row, cells);
        rows.push({ row, cells });
        if (rows.length > MOST_ROWS) throw new UnreadableFile('too many rows', { most: MOST_ROWS });
      }
    },
    text: (text) => {
      if (!collecting) return;
      value += text;
      if (value.length > MOST_CELL) throw new UnreadableFile('long cell', { row, most: MOST_CELL });
    },
  });
  return rows;
}

function cellText(
  type: string,
  value: string,
  shared: readonly string[],
  isDate: boolean,
  is1904: boolean,
): string {
  switch (type) {
    case 's':
      return shared[Number(value)] ?? '';
    case 'b':
      return value === '1' ? 'yes' : 'no';
    case 'e':
      return '';
    case 'str':
    case 'inlineStr':
      return unescapeText(value);
    case 'd':
      return value.slice(0, 10);
    default:
      if (value === '') return '';
      return isDate ? serialToDate(Number(value), is1904) : String(Number(value));
  }
}

/** Characters that XML cannot hold stand as `_x000D_` (ECMA-376 part 1, 22.9.2.19, from memory). */
function unescapeText(text: string): string {
  if (!text.includes('_x')) return text;
  return text.replace(/_x([0-9A-Fa-f]{4})_/g, (_, code: string) =>
    String.fromCharCode(Number.parseInt(code, 16)),
  );
}

/** Column of a cell reference such as `AB12`, from 0. */
function columnOf(reference: string): number {
  let column = 0;
  for (const letter of reference) {
    const code = letter.charCodeAt(0) - 64;
    if (code < 1 || code > 26) break;
    column = column * 26 + code;
  }
  return column - 1;
}

/**
 * Day of a serial number. In the 1900 system serial 1 is 1900-01-01 and 60 the day 1900-02-29 that never was
 * (ECMA-376 part 1, 18.17.4.1); in the 1904 system serial 0 is 1904-01-01.
 */
export function serialToDate(serial: number, is1904: boolean): string {
  if (!Number.isFinite(serial) || serial < 0 || serial > 2_900_000) return String(serial);
  const whole = Math.floor(serial);
  const days = is1904 ? whole + 1462 : whole < 60 ? whole + 1 : whole;
  return dayToText(dayFromNumber(days - 25_569));
}
