import fc from 'fast-check';
import jsqr from 'jsqr';
import { describe, expect, test } from 'vitest';
import {
  findStockFault,
  LABEL_STOCK_NAMES,
  LABEL_STOCKS,
  type LabelStock,
  labelsOfProperty,
  newTags,
  readStationNumbers,
  renderLabels,
} from '../src/index.ts';
import { qrCode } from '../src/labels/code.ts';
import { missingPdfTools, pagesOf, readPdf, renderPage, squeeze } from './report/pdfTools.ts';
import { officeProperty, WRITTEN_AT } from './report/sample.ts';

const FIRM_NAME = 'Invented Sill Care';
const DPI = 300;
const jsQR = jsqr.default;
const paperOf = (stock: LabelStock, tags: readonly string[], skip = 0) => ({
  stock,
  labels: tags.map((tag) => ({ tag, lines: ['Station 1', FIRM_NAME] })),
  skip,
  firmName: FIRM_NAME,
  writtenAt: WRITTEN_AT,
});

/** The code inside a rectangle of the page (millimetres), read by jsQR, which shares no code with our encoder. */
function readCode(
  page: ReturnType<typeof renderPage>,
  box: { readonly x: number; readonly y: number; readonly width: number; readonly height: number },
): string | undefined {
  const toPixels = (mm: number) => Math.round((mm / 25.4) * DPI);
  const [left, top] = [toPixels(box.x), toPixels(box.y)];
  const width = Math.min(toPixels(box.width), page.width - left);
  const height = Math.min(toPixels(box.height), page.height - top);
  const data = new Uint8ClampedArray(width * height * 4);
  for (let y = 0; y < height; y += 1)
    for (let x = 0; x < width; x += 1) {
      const from = ((top + y) * page.width + left + x) * 3;
      const to = (y * width + x) * 4;
      for (let part = 0; part < 3; part += 1) data[to + part] = page.pixels[from + part] ?? 255;
      data[to + 3] = 255;
    }
  return jsQR(data, width, height)?.data;
}

// Outside check: poppler draws the page, jsQR reads each code where the grid says that the label lies (ISO/IEC 18004).
describe.skipIf(missingPdfTools.length > 0)('printed labels', () => {
  test.each(LABEL_STOCK_NAMES)('%s: each code decodes to its tag, in its place', async (name) => {
    const stock: LabelStock = LABEL_STOCKS[name];
    const perPage = stock.kind === 'roll' ? 1 : stock.columns * stock.rows;
    const tags = newTags('TAG-', '0997', perPage + 2);
    const bytes = await renderLabels(paperOf(stock, tags));
    expect(readPdf(bytes, 'qpdf', ['--check', '{file}'])).toContain('No syntax or stream encoding errors');
    const pages = [...new Set(tags.map((_, index) => Math.floor(index / perPage)))];
    const drawn = pages.map((page) => renderPage(bytes, page + 1, DPI));
    for (const [index, tag] of tags.entries()) {
      const page = drawn[Math.floor(index / perPage)];
      if (page === undefined) throw new Error('no page');
      const onPage = index % perPage;
      const box =
        stock.kind === 'roll'
          ? { x: 0, y: 0 }
          : {
              x: stock.leftMm + (onPage % stock.columns) * stock.pitchXMm,
              y: stock.topMm + Math.floor(onPage / stock.columns) * stock.pitchYMm,
            };
      expect(
        readCode(page, { ...box, width: stock.labelWidthMm, height: stock.labelHeightMm }),
        `label ${index}`,
      ).toBe(tag);
    }
    const text = squeeze(pagesOf(bytes).join(''));
    for (const tag of tags) expect(text).toContain(tag);
  });

  test('the file is tagged with embedded fonts, and each code has words for those who cannot see it', async () => {
    const bytes = await renderLabels(paperOf(LABEL_STOCKS['letter 3x10'], ['A-1', 'A-2']));
    expect(readPdf(bytes, 'pdfinfo', ['{file}'])).toMatch(/^Tagged:\s+yes$/m);
    const fonts = readPdf(bytes, 'pdffonts', ['{file}']).trim().split('\n').slice(2);
    for (const font of fonts) expect(font.trim().split(/\s+/).slice(-5, -2)).toEqual(['yes', 'yes', 'yes']);
    const plain = readPdf(bytes, 'qpdf', ['--qdf', '--object-streams=disable', '{file}', '-']);
    for (const tag of ['A-1', 'A-2']) expect(plain).toContain(`/Alt (Code of tag ${tag})`);
  });

  test('a sheet that was begun goes on where it is whole', async () => {
    const stock = LABEL_STOCKS['A4 3x7'];
    const bytes = await renderLabels(paperOf(stock, ['NEXT'], 20));
    const page = renderPage(bytes, 1, DPI);
    const last = {
      x: stock.leftMm + 2 * stock.pitchXMm,
      y: stock.topMm + 6 * stock.pitchYMm,
      width: stock.labelWidthMm,
      height: stock.labelHeightMm,
    };
    expect(readCode(page, last)).toBe('NEXT');
  });
});

test('any tag that the encoder takes is read back', () => {
  fc.assert(
    fc.property(fc.string({ unit: 'grapheme', minLength: 1, maxLength: 24 }), (tag) => {
      const code = qrCode(tag);
      const scale = 4;
      const side = (code.size + 8) * scale;
      const data = new Uint8ClampedArray(side * side * 4).fill(255);
      for (let y = 0; y < side; y += 1)
        for (let x = 0; x < side; x += 1) {
          const [column, row] = [Math.floor(x / scale) - 4, Math.floor(y / scale) - 4];
          const inside = column >= 0 && row >= 0 && column < code.size && row < code.size;
          if (inside && code.isDark(column, row)) data.fill(0, (y * side + x) * 4, (y * side + x) * 4 + 3);
        }
      expect(jsQR(data, side, side)?.data).toBe(tag);
    }),
    { numRuns: 60, seed: 2026 },
  );
});

test('labels of a property follow the ring, name no customer, and say which stations have no tag', () => {
  const property = officeProperty();
  const untagged = property.stations.map((state) => (state.number === 4 ? { ...state, tag: null } : state));
  const { labels, untagged: missing } = labelsOfProperty({ ...property, stations: untagged }, FIRM_NAME);
  expect(missing).toEqual([4]);
  expect(labels).toHaveLength(23);
  expect(labels[0]).toEqual({ tag: 'T1', lines: ['Station 1, House', FIRM_NAME] });
  expect(JSON.stringify(labels)).not.toMatch(/Ida|Marsh/);
});

test('new tags count up in their own width', () => {
  expect(newTags('A', '0098', 3)).toEqual(['A0098', 'A0099', 'A0100']);
  expect(() => newTags('A', 'x', 3)).toThrow(/"x" is not a number/);
  expect(() => newTags('A', '1', 0)).toThrow(/1 to 10,000/);
});

test('a grid that cannot be printed on is refused with its reason', async () => {
  const sheet = LABEL_STOCKS['letter 3x10'];
  for (const name of LABEL_STOCK_NAMES) expect(findStockFault(LABEL_STOCKS[name])).toBeUndefined();
  expect(findStockFault({ ...sheet, columns: 4 })).toMatch(/over the page's edge/);
  expect(findStockFault({ ...sheet, pitchYMm: 20 })).toMatch(/pitchYMm/);
  expect(findStockFault({ ...sheet, rows: 0.5 })).toMatch(/whole columns/);
  expect(findStockFault({ ...sheet, leftMm: Number.NaN })).toMatch(/leftMm/);
  const tiny: LabelStock = { kind: 'roll', labelWidthMm: 20, labelHeightMm: 10 };
  expect(() => renderLabels(paperOf(tiny, ['a tag that is far too long for so small a label']))).toThrow(
    /does not fit a label of this size/,
  );
  expect(() => renderLabels(paperOf(sheet, []))).toThrow(/no label to print/);
});

test('stations are chosen by number and span, in any order, and what is neither is named', () => {
  expect([...readStationNumbers('14, 1-3, 2')].sort((a, b) => a - b)).toEqual([1, 2, 3, 14]);
  expect([...readStationNumbers('7 \u2013 8')]).toEqual([7, 8]);
  for (const wrong of ['', '3-1', 'one', '1,,2', '-4', '1.5', '12345'])
    expect(() => readStationNumbers(wrong)).toThrow(RangeError);
});
