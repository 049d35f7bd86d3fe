import type {
  Block,
  CautionBlock,
  CountsBlock,
  DetailsBlock,
  DiagramBlock,
  FigureBlock,
  ListBlock,
  NoteBlock,
} from '../model.ts';
import { drawDiagram, sizeOfDiagram } from './diagram.ts';
import { COLOUR, TYPE } from './look.ts';
import {
  baselineOf,
  drawArtifact,
  drawLines,
  drawRule,
  flowText,
  openTag,
  type Sheet,
  type Tag,
} from './sheet.ts';
import { drawTable, leastTableHeight } from './table.ts';

/** A heading takes at least this much of what it heads with it, points. */
const HEADING_KEEPS = 52;

/** Blocks in order; a heading stays with the start of what it heads. */
export function drawBlocks(
  sheet: Sheet,
  parent: Tag,
  blocks: readonly Block[],
  continuedWords: string,
): void {
  for (const [index, block] of blocks.entries()) {
    const next = blocks[index + 1];
    drawBlock(sheet, parent, block, continuedWords, keptWith(sheet, next));
  }
}

/** A table's first rows, and a drawing whole, stay with their heading. */
function keptWith(sheet: Sheet, next: Block | undefined): number {
  switch (next?.kind) {
    case 'table':
      return leastTableHeight(sheet, next);
    case 'diagram':
      return diagramSize(sheet, next).height + TYPE.caption.leading + 20;
    default:
      return HEADING_KEEPS;
  }
}

function drawBlock(
  sheet: Sheet,
  parent: Tag,
  block: Block,
  continuedWords: string,
  keepsHeight: number,
): void {
  switch (block.kind) {
    case 'heading': {
      const style = block.level === 2 ? TYPE.heading2 : TYPE.heading3;
      sheet.space(block.level === 2 ? 20 : 12);
      sheet.need(style.leading + keepsHeight);
      if (block.level === 2 && sheet.bookmarks === 'sections') sheet.pdf.outline.addItem(block.text);
      flowText(sheet, parent, `H${block.level}`, block.text, style);
      sheet.space(4);
      return;
    }
    case 'paragraph':
      sheet.space(3);
      flowText(sheet, parent, 'P', block.text, TYPE[block.tone]);
      sheet.space(5);
      return;
    case 'details':
      drawDetails(sheet, parent, block);
      return;
    case 'counts':
      drawCounts(sheet, parent, block);
      return;
    case 'list':
      drawList(sheet, parent, block);
      return;
    case 'table':
      drawTable(sheet, parent, block, continuedWords);
      return;
    case 'caution':
    case 'note':
      drawBox(sheet, parent, block);
      return;
    case 'figure':
      drawFigure(sheet, parent, block);
      return;
    case 'diagram':
      drawDiagramBlock(sheet, parent, block);
      return;
  }
}

const KEY_SHARE = 0.3;

function drawDetails(sheet: Sheet, parent: Tag, block: DetailsBlock): void {
  const keyWidth = sheet.width * KEY_SHARE;
  const gap = 14;
  const pad = 3.5;
  const list = openTag(sheet, parent, 'L');
  sheet.space(6);
  for (const [index, item] of block.items.entries()) {
    const keys = sheet.type.linesOf(item.key, TYPE.key, keyWidth - gap);
    const values = sheet.type.linesOf(item.value, TYPE.body, sheet.width - keyWidth);
    const height = Math.max(keys.length, values.length) * TYPE.body.leading + 2 * pad;
    sheet.need(height);
    if (index === 0) drawRule(sheet, sheet.left, sheet.right, sheet.y, COLOUR.line, 0.6);
    const entry = openTag(sheet, list, 'LI');
    const label = openTag(sheet, entry, 'Lbl');
    drawLines(sheet, label, keys, sheet.left, sheet.y + pad, TYPE.key);
    const body = openTag(sheet, entry, 'LBody');
    drawLines(sheet, body, values, sheet.left + keyWidth, sheet.y + pad, TYPE.body);
    entry.end();
    sheet.y += height;
    drawRule(sheet, sheet.left, sheet.right, sheet.y, COLOUR.line, 0.6);
  }
  list.end();
  sheet.space(8);
}

function drawCounts(sheet: Sheet, parent: Tag, block: CountsBlock): void {
  const gap = 16;
  const width = (sheet.width - gap * (block.items.length - 1)) / Math.max(1, block.items.length);
  const labels = block.items.map((item) => sheet.type.linesOf(item.label, TYPE.countLabel, width));
  const tallest = Math.max(0, ...labels.map((lines) => lines.length));
  const height = TYPE.count.leading + tallest * TYPE.countLabel.leading;
  sheet.space(8);
  sheet.need(height);
  const list = openTag(sheet, parent, 'L');
  for (const [index, item] of block.items.entries()) {
    const x = sheet.left + index * (width + gap);
    const entry = openTag(sheet, list, 'LI');
    const body = openTag(sheet, entry, 'LBody');
    drawLines(sheet, body, [item.value], x, sheet.y, TYPE.count);
    drawLines(sheet, body, labels[index] ?? [], x, sheet.y + TYPE.count.leading, TYPE.countLabel);
    entry.end();
  }
  list.end();
  sheet.y += height;
  sheet.space(10);
}

const INDENT = 14;

function drawList(sheet: Sheet, parent: Tag, block: ListBlock): void {
  sheet.space(3);
  drawItems(sheet, parent, block.items, { x: sheet.left, width: sheet.width });
  sheet.space(5);
}

function drawItems(
  sheet: Sheet,
  parent: Tag,
  items: readonly string[],
  box: { readonly x: number; readonly width: number },
): void {
  const list = openTag(sheet, parent, 'L');
  for (const item of items) {
    sheet.need(TYPE.body.leading * 2);
    const entry = openTag(sheet, list, 'LI');
    const label = openTag(sheet, entry, 'Lbl');
    drawLines(sheet, label, ['\u2022'], box.x + 2, sheet.y, TYPE.body);
    flowText(sheet, entry, 'LBody', item, TYPE.body, { x: box.x + INDENT, width: box.width - INDENT });
    entry.end();
    sheet.y += 2;
  }
  list.end();
}

/** Kept on one page when a page can hold it; the bar is drawn beside what stays together. */
function drawBox(sheet: Sheet, parent: Tag, block: CautionBlock | NoteBlock): void {
  const pad = 10;
  const box = { x: sheet.left + 16, width: sheet.width - 28 };
  const textWidth = block.kind === 'caution' ? box.width - INDENT : box.width;
  const texts = block.kind === 'caution' ? block.items : [block.text];
  const textLines = texts.map((text) => sheet.type.linesOf(text, TYPE.body, textWidth).length);
  const gaps = block.kind === 'caution' ? 2 * texts.length : 0;
  const height =
    TYPE.label.leading +
    2 +
    textLines.reduce((sum, count) => sum + count, 0) * TYPE.body.leading +
    gaps +
    2 * pad;
  const whole = height <= sheet.bottom - sheet.top;
  sheet.space(10);
  if (whole) {
    sheet.need(height);
    const colour = block.kind === 'caution' ? COLOUR.warn : COLOUR.line;
    drawArtifact(sheet, () => {
      sheet.pdf.rect(sheet.left, sheet.y, sheet.width, height).fill(COLOUR.wash);
      sheet.pdf.rect(sheet.left, sheet.y, 3, height).fill(colour);
    });
  }
  const start = sheet.y;
  const section = openTag(sheet, parent, 'Sect');
  sheet.y += pad;
  const titleX = block.kind === 'caution' ? drawTriangle(sheet, box.x) : box.x;
  flowText(sheet, section, 'P', block.title, TYPE.label, { x: titleX, width: box.width - (titleX - box.x) });
  sheet.y += 2;
  if (block.kind === 'caution') drawItems(sheet, section, block.items, box);
  else flowText(sheet, section, 'P', block.text, TYPE.body, box);
  section.end();
  sheet.y = whole ? start + height : sheet.y + pad;
  sheet.space(8);
}

function drawTriangle(sheet: Sheet, x: number): number {
  const y = baselineOf(sheet.y, TYPE.label);
  drawArtifact(sheet, () => {
    sheet.pdf.polygon([x, y], [x + 8, y], [x + 4, y - 7.5]).fill(COLOUR.warn);
  });
  return x + INDENT;
}

const FIGURE_TALLEST = 420;

function drawFigure(sheet: Sheet, parent: Tag, block: FigureBlock): void {
  const scale = Math.min(sheet.width / block.width, FIGURE_TALLEST / block.height);
  const width = block.width * scale;
  const height = block.height * scale;
  sheet.space(8);
  sheet.need(height + TYPE.caption.leading + 6);
  const { pdf, left, y } = sheet;
  const tag = openTag(sheet, parent, 'Figure', {
    alt: block.alt,
    bbox: [left, y, left + width, y + height],
  });
  tag.add(() => {
    pdf.save().translate(left, y).scale(scale);
    for (const mark of block.marks) {
      if (mark.kind === 'label') {
        const style = { ...TYPE.body, size: mark.size };
        const shift = { start: 0, middle: 0.5, end: 1 }[mark.anchor] * sheet.type.widthOf(mark.text, style);
        sheet.type.draw(mark.text, mark.x - shift, mark.y, style);
        continue;
      }
      pdf.path(mark.d).lineWidth(mark.strokeWidth);
      if (mark.fill !== null && mark.stroke !== null) pdf.fillAndStroke(mark.fill, mark.stroke);
      else if (mark.fill !== null) pdf.fill(mark.fill);
      else if (mark.stroke !== null) pdf.stroke(mark.stroke);
    }
    pdf.restore();
  });
  tag.end();
  sheet.y += height + 4;
  flowText(sheet, parent, 'Caption', block.caption, TYPE.caption);
  sheet.space(8);
}

/** To scale, unless the page is too small for it. */
function diagramSize(sheet: Sheet, { drawing }: DiagramBlock) {
  const own = sizeOfDiagram(drawing);
  const tallest = sheet.bottom - sheet.top - TYPE.heading2.leading - TYPE.caption.leading * 2 - 34;
  const shrink = Math.min(1, sheet.width / own.width, tallest / own.height);
  return { shrink, width: own.width * shrink, height: own.height * shrink };
}

function drawDiagramBlock(sheet: Sheet, parent: Tag, block: DiagramBlock): void {
  const { drawing, caption } = block;
  const { shrink, width, height } = diagramSize(sheet, block);
  sheet.space(8);
  sheet.need(height + TYPE.caption.leading + 6);
  const { pdf, type, left, y } = sheet;
  const tag = openTag(sheet, parent, 'Figure', {
    alt: drawing.description,
    bbox: [left, y, left + width, y + height],
  });
  tag.add(() => drawDiagram(pdf, type, drawing, { left, top: y, shrink }));
  tag.end();
  sheet.y += height + 4;
  flowText(sheet, parent, 'Caption', caption, TYPE.caption);
  sheet.space(8);
}
