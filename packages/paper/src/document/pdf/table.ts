import type { TableBlock, TableRow } from '../model.ts';
import { COLOUR, TYPE } from './look.ts';
import { baselineOf, drawArtifact, drawRule, flowText, openTag, type Sheet, type Tag } from './sheet.ts';
import type { TypeStyle } from './type.ts';

/** Between columns: less where there are many. */
function gapOf(block: TableBlock): number {
  return block.columns.length > 5 ? 10 : 14;
}

const PAD = 4;

const SPACE_BEFORE = 6;

interface Place {
  readonly x: number;
  readonly width: number;
  readonly align: 'left' | 'right';
  readonly steady: boolean;
}

/**
 * A table that may run over many pages. The header row is tagged once and drawn again, as decoration, at the top of
 * each further page (PDF/UA: repeated headers are artifacts). A row goes to the next page whole when a page can hold it.
 */
export function drawTable(sheet: Sheet, parent: Tag, block: TableBlock, continuedWords: string): void {
  const places = placesOf(sheet, block);
  const headers = headersOf(sheet, block, places);
  const headerHeight = heightOf(headers, TYPE.columnHeader);
  const table = openTag(sheet, parent, 'Table');
  sheet.space(SPACE_BEFORE);
  sheet.need(leastTableHeight(sheet, block) - SPACE_BEFORE);
  flowText(sheet, table, 'Caption', block.caption, TYPE.caption);

  const head = openTag(sheet, table, 'THead');
  const headRow = openTag(sheet, head, 'TR');
  for (const [index, lines] of headers.entries()) {
    const cell = openTag(sheet, headRow, 'TH', { scope: 'Column' });
    const place = places[index];
    if (place !== undefined) drawCell(sheet, cell, lines, place, sheet.y + PAD, TYPE.columnHeader, false);
    cell.end();
  }
  head.end();
  closeHeader(sheet, headerHeight);

  function startPage(): void {
    sheet.newPage();
    const words = `${block.caption} ${continuedWords}`;
    const shown = sheet.type.linesOf(words, TYPE.caption, sheet.width);
    drawArtifact(sheet, () => {
      for (const line of shown) {
        sheet.type.draw(line, sheet.left, baselineOf(sheet.y, TYPE.caption), TYPE.caption);
        sheet.y += TYPE.caption.leading;
      }
      for (const [index, lines] of headers.entries()) {
        const place = places[index];
        if (place !== undefined) paintCell(sheet, lines, place, sheet.y + PAD, TYPE.columnHeader, false);
      }
    });
    closeHeader(sheet, headerHeight);
  }

  const body = openTag(sheet, table, 'TBody');
  for (const row of block.rows) drawRow(sheet, body, row, places, startPage);
  table.end();
  sheet.space(10);
}

function placesOf(sheet: Sheet, block: TableBlock): readonly Place[] {
  const total = block.columns.reduce((sum, column) => sum + column.share, 0);
  const usable = sheet.width - gapOf(block) * (block.columns.length - 1);
  let x = sheet.left;
  return block.columns.map((column) => {
    const width = (usable * column.share) / total;
    const place = { x, width, align: column.align, steady: column.steady === true };
    x += width + gapOf(block);
    return place;
  });
}

function headersOf(
  sheet: Sheet,
  block: TableBlock,
  places: readonly Place[],
): readonly (readonly string[])[] {
  return block.columns.map((column, index) =>
    sheet.type.linesOf(column.header, TYPE.columnHeader, places[index]?.width ?? 0),
  );
}

function heightOf(cells: readonly (readonly string[])[], style: TypeStyle): number {
  return Math.max(1, ...cells.map((lines) => lines.length)) * style.leading + 2 * PAD;
}

/** Caption, header row and first row with the space before them, points: a table never starts without a row. */
export function leastTableHeight(sheet: Sheet, block: TableBlock): number {
  const places = placesOf(sheet, block);
  const header = heightOf(headersOf(sheet, block, places), TYPE.columnHeader);
  const [first] = block.rows;
  const row = first === undefined ? 0 : heightOf(linesOfRow(sheet, first, places), TYPE.cell);
  const whole = SPACE_BEFORE + TYPE.caption.leading + header + row;
  return Math.min(whole, (sheet.bottom - sheet.top) / 2);
}

function linesOfRow(sheet: Sheet, row: TableRow, places: readonly Place[]): readonly (readonly string[])[] {
  return row.cells.map((text, index) => {
    const place = places[index];
    return place === undefined
      ? []
      : sheet.type.linesOf(text, cellStyleOf(row, index, place.steady), place.width);
  });
}

function cellStyleOf(row: TableRow, index: number, steady = false): TypeStyle {
  if (row.look === 'struck') return steady ? TYPE.cell : TYPE.cellSoft;
  return index === 0 || row.look === 'strong' ? TYPE.cellStrong : TYPE.cell;
}

function closeHeader(sheet: Sheet, height: number): void {
  sheet.y += height;
  drawRule(sheet, sheet.left, sheet.right, sheet.y, COLOUR.ink, 0.9);
}

function drawRow(
  sheet: Sheet,
  body: Tag,
  row: TableRow,
  places: readonly Place[],
  startPage: () => void,
): void {
  const struck = row.look === 'struck';
  const cells = linesOfRow(sheet, row, places);
  const { leading } = TYPE.cell;
  const tallest = Math.max(1, ...cells.map((lines) => lines.length));
  const height = tallest * leading + 2 * PAD;
  const pageHeight = sheet.bottom - sheet.top;
  if (sheet.room() < height && (height < pageHeight / 2 || sheet.room() < 4 * leading)) startPage();

  const tag = openTag(sheet, body, 'TR');
  const tags = cells.map((_, index) =>
    index === 0 ? openTag(sheet, tag, 'TH', { scope: 'Row' }) : openTag(sheet, tag, 'TD'),
  );
  let done = 0;
  while (done < tallest) {
    const fit = Math.max(1, Math.floor((sheet.room() - 2 * PAD) / leading));
    for (const [index, lines] of cells.entries()) {
      const place = places[index];
      const cell = tags[index];
      if (place === undefined || cell === undefined) continue;
      drawCell(
        sheet,
        cell,
        lines.slice(done, done + fit),
        place,
        sheet.y + PAD,
        cellStyleOf(row, index, place.steady),
        struck && !place.steady,
      );
    }
    sheet.y += Math.min(fit, tallest - done) * leading + 2 * PAD;
    done += fit;
    drawRule(sheet, sheet.left, sheet.right, sheet.y, COLOUR.line, 0.6);
    if (done < tallest) startPage();
  }
  tag.end();
}

function drawCell(
  sheet: Sheet,
  tag: Tag,
  lines: readonly string[],
  place: Place,
  y: number,
  style: TypeStyle,
  struck: boolean,
): void {
  if (lines.every((line) => line === '')) return;
  tag.add(() => paintCell(sheet, lines, place, y, style, struck));
}

function paintCell(
  sheet: Sheet,
  lines: readonly string[],
  place: Place,
  y: number,
  style: TypeStyle,
  struck: boolean,
): void {
  for (const [index, line] of lines.entries()) {
    const top = y + index * style.leading;
    // A line to the left needs no measuring, and most lines of a record are such.
    const width = place.align === 'right' || struck ? sheet.type.widthOf(line, style) : 0;
    const x = place.align === 'right' ? place.x + place.width - width : place.x;
    const baseline = baselineOf(top, style);
    sheet.type.draw(line, x, baseline, style);
    if (!struck || line === '') continue;
    const middle = baseline - style.size * 0.3;
    sheet.pdf
      .moveTo(x, middle)
      .lineTo(x + width, middle)
      .lineWidth(0.7)
      .strokeColor(style.colour)
      .stroke();
  }
}
