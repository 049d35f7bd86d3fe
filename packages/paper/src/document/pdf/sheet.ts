import { MARGIN } from './look.ts';
import type { TypeStyle, Typesetter } from './type.ts';

/** The paper being filled from the top: where the pen is, how much room is left, and the tree of tags beside it. */
export interface Sheet {
  readonly pdf: PDFKit.PDFDocument;
  readonly type: Typesetter;
  /** Whether sections are bookmarks of the file; where it holds several papers, those are. */
  readonly bookmarks: 'sections' | 'none';
  readonly left: number;
  readonly top: number;
  right: number;
  width: number;
  bottom: number;
  /** Of the next thing's upper edge, points from the top of the page. */
  y: number;
  room(): number;
  /** Goes to a new page unless this many points are left on this one. */
  need(height: number): void;
  newPage(): void;
  /** Goes to a new page of this width and height, points, which those after it have too. */
  newPaper(page: readonly [number, number]): void;
  space(height: number): void;
}

export type Tag = PDFKit.PDFStructureElement;

export function createSheet(
  pdf: PDFKit.PDFDocument,
  type: Typesetter,
  { bookmarks }: Pick<Sheet, 'bookmarks'>,
): Sheet {
  let page: readonly [number, number] = [pdf.page.width, pdf.page.height];
  const sheet: Sheet = {
    pdf,
    type,
    bookmarks,
    left: MARGIN.left,
    top: MARGIN.top,
    ...edgesOf(page),
    y: MARGIN.top,
    room: () => sheet.bottom - sheet.y,
    need(height) {
      if (sheet.room() < height && sheet.y > sheet.top) sheet.newPage();
    },
    newPage() {
      pdf.addPage({ size: [...page], margin: 0 });
      sheet.y = sheet.top;
    },
    newPaper(size) {
      page = size;
      Object.assign(sheet, edgesOf(size));
      sheet.newPage();
    },
    space(height) {
      if (sheet.y > sheet.top) sheet.y += height;
    },
  };
  return sheet;
}

function edgesOf([width, height]: readonly [number, number]): Pick<Sheet, 'right' | 'width' | 'bottom'> {
  return {
    right: width - MARGIN.right,
    width: width - MARGIN.left - MARGIN.right,
    bottom: height - MARGIN.bottom,
  };
}

/** A child tag of `parent`; the caller ends it. */
export function openTag(
  sheet: Sheet,
  parent: Tag,
  name: string,
  options: PDFKit.Mixins.StructureElementOptions = {},
): Tag {
  const tag = sheet.pdf.struct(name, options);
  parent.add(tag);
  return tag;
}

/** Draws what is decoration only: readers pass over it. */
export function drawArtifact(sheet: Sheet, draw: () => void, kind: 'Layout' | 'Pagination' = 'Layout'): void {
  sheet.pdf.markContent('Artifact', { type: kind });
  draw();
  sheet.pdf.endMarkedContent();
}

export function drawRule(
  sheet: Sheet,
  x1: number,
  x2: number,
  y: number,
  colour: string,
  weight: number,
): void {
  drawArtifact(sheet, () => {
    sheet.pdf.moveTo(x1, y).lineTo(x2, y).lineWidth(weight).strokeColor(colour).stroke();
  });
}

/** The baseline of a line whose box starts at `y`: the letters sit in the middle of their leading. */
export function baselineOf(y: number, style: TypeStyle): number {
  return y + (style.leading - style.size) / 2 + style.size * 0.86;
}

/** Lines one under the other from `y` down, into a tag. Does not look at the page's end. */
export function drawLines(
  sheet: Sheet,
  tag: Tag,
  lines: readonly string[],
  x: number,
  y: number,
  style: TypeStyle,
): void {
  if (lines.every((line) => line === '')) return;
  tag.add(() => {
    for (const [index, line] of lines.entries()) {
      sheet.type.draw(line, x, baselineOf(y + index * style.leading, style), style);
    }
  });
}

/** A text that flows down the page and on to the next, tagged as one. */
export function flowText(
  sheet: Sheet,
  parent: Tag,
  tagName: string,
  text: string,
  style: TypeStyle,
  box: { readonly x: number; readonly width: number } = { x: sheet.left, width: sheet.width },
): void {
  const lines = sheet.type.linesOf(text, style, box.width);
  const tag = openTag(sheet, parent, tagName);
  let done = 0;
  // Two lines at least stay together, so that no page starts or ends with a lone one.
  sheet.need(Math.min(lines.length, 2) * style.leading);
  while (done < lines.length) {
    const fit = Math.max(1, Math.floor(sheet.room() / style.leading));
    const part = lines.slice(done, done + fit);
    drawLines(sheet, tag, part, box.x, sheet.y, style);
    sheet.y += part.length * style.leading;
    done += part.length;
    if (done < lines.length) sheet.newPage();
  }
  tag.end();
}
