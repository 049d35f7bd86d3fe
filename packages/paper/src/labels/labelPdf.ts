import { getFaces } from '../document/pdf/faces.ts';
import { COLOUR } from '../document/pdf/look.ts';
import { collect, openPdf } from '../document/pdf/openPdf.ts';
import { createTypesetter, type TypeStyle, type Typesetter } from '../document/pdf/type.ts';
import { type PaperLanguage, type Say, sayIn } from '../report/words/say.ts';
import { type CodeModules, QUIET_MODULES, qrCode } from './code.ts';
import { findStockFault, type LabelStock } from './stock.ts';
import type { TagLabel } from './tagLabels.ts';

export interface LabelPaper {
  readonly stock: LabelStock;
  readonly labels: readonly TagLabel[];
  /** Labels of the first sheet that are used up; 0 on a fresh one. */
  readonly skip?: number;
  readonly firmName: string;
  /** RFC 3339 with offset. */
  readonly writtenAt: string;
  readonly lang?: PaperLanguage;
}

const POINTS_PER_MM = 72 / 25.4;
/** Between a label's edge and what is printed on it: printers and die cuts are off by a millimetre. */
const EDGE_MM = 1.5;
/** A code with smaller modules is hard to read with a phone in the sun; common practice, no source. */
const LEAST_MODULE_MM = 0.33;

/**
 * Labels as a tagged PDF with embedded fonts: each code is a figure with a text for those who cannot see it.
 * Throws a RangeError for a grid that cannot be printed on, and for a tag whose code would not fit its label.
 */
export function renderLabels(paper: LabelPaper): Promise<Uint8Array> {
  const { stock } = paper;
  const fault = findStockFault(stock);
  if (fault !== undefined) throw new RangeError(fault);
  if (paper.labels.length === 0)
    throw new RangeError('there is no label to print: no station here has a tag yet');
  const say = sayIn(paper.lang ?? 'en-US');
  const [width, height] =
    stock.kind === 'sheet'
      ? [stock.pageWidthMm, stock.pageHeightMm]
      : [stock.labelWidthMm, stock.labelHeightMm];
  const faces = getFaces();
  const page: readonly [number, number] = [width * POINTS_PER_MM, height * POINTS_PER_MM];
  const pdf = openPdf(
    {
      lang: say.lang,
      title: `${say('labels.title')}: ${say('labels.subtitle', { n: paper.labels.length })}`,
      author: paper.firmName,
      writtenAt: paper.writtenAt,
      page,
    },
    faces,
  );
  const bytes = collect(pdf);
  const type = createTypesetter(pdf, faces);
  const root = pdf.struct('Document', { lang: say.lang });
  pdf.addStructure(root);
  let pageIndex = 0;
  for (const [index, label] of paper.labels.entries()) {
    const place = placeOf(stock, index + (paper.skip ?? 0));
    for (; pageIndex < place.page; pageIndex += 1) pdf.addPage();
    drawLabel(pdf, type, root, label, place, say);
  }
  root.end();
  pdf.end();
  return bytes;
}

/** Where a label lies, in points. */
interface Place {
  readonly page: number;
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

function placeOf(stock: LabelStock, index: number): Place {
  const width = stock.labelWidthMm * POINTS_PER_MM;
  const height = stock.labelHeightMm * POINTS_PER_MM;
  if (stock.kind === 'roll') return { page: index, x: 0, y: 0, width, height };
  const perPage = stock.columns * stock.rows;
  const onPage = index % perPage;
  const column = onPage % stock.columns;
  const row = Math.floor(onPage / stock.columns);
  return {
    page: Math.floor(index / perPage),
    x: (stock.leftMm + column * stock.pitchXMm) * POINTS_PER_MM,
    y: (stock.topMm + row * stock.pitchYMm) * POINTS_PER_MM,
    width,
    height,
  };
}

function drawLabel(
  pdf: PDFKit.PDFDocument,
  type: Typesetter,
  root: PDFKit.PDFStructureElement,
  label: TagLabel,
  place: Place,
  say: Say,
): void {
  const code = qrCode(label.tag);
  const edge = EDGE_MM * POINTS_PER_MM;
  const side = Math.min(place.height - 2 * edge, (place.width - 2 * edge) * 0.55);
  const module = side / (code.size + 2 * QUIET_MODULES);
  if (module < LEAST_MODULE_MM * POINTS_PER_MM)
    throw new RangeError(
      `the code of tag ${JSON.stringify(label.tag)} does not fit a label of this size: take larger labels or shorter tags`,
    );
  const x = place.x + edge;
  const y = place.y + (place.height - side) / 2;
  const section = pdf.struct('Sect');
  root.add(section);
  const figure = pdf.struct('Figure', {
    alt: say('labels.alt', { tag: label.tag }),
    bbox: [x, y, x + side, y + side],
  });
  section.add(figure);
  figure.add(() => drawCode(pdf, code, x + QUIET_MODULES * module, y + QUIET_MODULES * module, module));
  figure.end();
  // The quiet zone of the code is room enough between it and the text.
  const textX = x + side;
  drawText(pdf, type, section, label, {
    x: textX,
    y: place.y + edge,
    width: place.x + place.width - edge - textX,
    height: place.height - 2 * edge,
  });
  section.end();
}

/** One rectangle a run of dark modules, so that no hairline of paper shows between them. */
function drawCode(pdf: PDFKit.PDFDocument, code: CodeModules, x: number, y: number, module: number): void {
  for (let row = 0; row < code.size; row += 1) {
    for (let column = 0; column < code.size; column += 1) {
      if (!code.isDark(column, row)) continue;
      const from = column;
      while (column + 1 < code.size && code.isDark(column + 1, row)) column += 1;
      pdf.rect(x + from * module, y + row * module, (column - from + 1) * module, module);
    }
  }
  pdf.fill('#000000');
}

const TAG_SIZES = [16, 14, 12, 10, 8.5, 7, 6, 5] as const;

/** The tag as large as its box allows, whole; then the lines for which there is room. */
function drawText(
  pdf: PDFKit.PDFDocument,
  type: Typesetter,
  section: PDFKit.PDFStructureElement,
  label: TagLabel,
  box: { readonly x: number; readonly y: number; readonly width: number; readonly height: number },
): void {
  const tagStyle = fittingStyle(type, label.tag, box.width);
  const lineStyle = styleOf('regular', Math.min(8, tagStyle.size), COLOUR.ink);
  const tagLines = type.linesOf(label.tag, tagStyle, box.width);
  const tagHeight = tagLines.length * tagStyle.leading;
  const room = Math.max(0, Math.floor((box.height - tagHeight) / lineStyle.leading));
  const lines = label.lines.flatMap((line) => type.linesOf(line, lineStyle, box.width)).slice(0, room);
  const height = tagHeight + lines.length * lineStyle.leading;
  let y = box.y + Math.max(0, (box.height - height) / 2);
  for (const [texts, style] of [
    [tagLines, tagStyle],
    [lines, lineStyle],
  ] as const) {
    if (texts.length === 0) continue;
    const paragraph = pdf.struct('P');
    section.add(paragraph);
    paragraph.add(() => {
      for (const text of texts) {
        type.draw(text, box.x, y + style.size, style);
        y += style.leading;
      }
    });
    paragraph.end();
  }
}

function fittingStyle(type: Typesetter, tag: string, width: number): TypeStyle {
  const styles = TAG_SIZES.map((size) => styleOf('strong', size, COLOUR.ink));
  const smallest = styleOf('strong', 4.5, COLOUR.ink);
  return styles.find((style) => type.widthOf(tag, style) <= width) ?? smallest;
}

function styleOf(face: TypeStyle['face'], size: number, colour: string): TypeStyle {
  return { face, size, leading: size * 1.25, colour };
}
