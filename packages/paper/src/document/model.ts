import type { Shape, SiteDrawing } from '@sillwatch/ring';

/**
 * One paper as data: what it says, in reading order, with nothing about how it is drawn.
 * Two renderers read it (html.ts, pdf/renderPdf.ts), so screen and print never say different things.
 */
export interface Document {
  /** BCP 47, e.g. `en-US`. */
  readonly lang: string;
  readonly title: string;
  /** One line under the title: whose paper it is, e.g. the property and the day. */
  readonly subtitle: string;
  /** RFC 3339 with offset: when it was written. */
  readonly writtenAt: string;
  readonly letterhead: Letterhead;
  /** Said loudly on the first page, its title again at the head of each further one; null = none. */
  readonly banner: Banner | null;
  /** At the foot of each page. */
  readonly foot: string;
  /** `{n}` and `{m}` stand for the page and the count of pages. */
  readonly pageWords: string;
  /** Said where a table goes on over a page: after its caption. */
  readonly continuedWords: string;
  readonly layout: 'portrait' | 'landscape';
  readonly blocks: readonly Block[];
}

export interface Letterhead {
  readonly name: string;
  readonly lines: readonly string[];
}

export interface Banner {
  readonly title: string;
  readonly text: string;
}

export type Block =
  | HeadingBlock
  | ParagraphBlock
  | DetailsBlock
  | CountsBlock
  | ListBlock
  | TableBlock
  | CautionBlock
  | NoteBlock
  | FigureBlock
  | DiagramBlock;

/** The title is level 1; sections are 2, their parts 3. */
export interface HeadingBlock {
  readonly kind: 'heading';
  readonly level: 2 | 3;
  readonly text: string;
}
export interface ParagraphBlock {
  readonly kind: 'paragraph';
  readonly tone: 'lead' | 'body' | 'small';
  readonly text: string;
}
export interface DetailsBlock {
  readonly kind: 'details';
  readonly items: readonly { readonly key: string; readonly value: string }[];
}
/** A few large numbers with what they count. */
export interface CountsBlock {
  readonly kind: 'counts';
  readonly items: readonly { readonly value: string; readonly label: string }[];
}
export interface ListBlock {
  readonly kind: 'list';
  readonly items: readonly string[];
}
export interface TableBlock {
  readonly kind: 'table';
  readonly caption: string;
  readonly columns: readonly Column[];
  readonly rows: readonly TableRow[];
}
export interface Column {
  readonly header: string;
  readonly align: 'left' | 'right';
  /** Share of the table's width; the shares need not sum to anything. */
  readonly share: number;
  /** Stays as it is in a struck row: the column that says why. */
  readonly steady?: true;
}
export interface TableRow {
  /** As many as there are columns; the first is the row's header. A line break is a new line in the cell. */
  readonly cells: readonly string[];
  /** `struck` is drawn through; the words of the row must say so too. */
  readonly look: 'plain' | 'strong' | 'struck';
}
export interface CautionBlock {
  readonly kind: 'caution';
  readonly title: string;
  readonly items: readonly string[];
}
export interface NoteBlock {
  readonly kind: 'note';
  readonly title: string;
  readonly text: string;
}
/** A drawing made of SVG path data; what it shows stands in `alt` for those who cannot see it. */
export interface FigureBlock {
  readonly kind: 'figure';
  readonly alt: string;
  readonly caption: string;
  /** Of the drawing's own coordinates, x to the right, y down. */
  readonly width: number;
  readonly height: number;
  readonly marks: readonly FigureMark[];
}
export type FigureMark =
  | {
      readonly kind: 'path';
      /** SVG 1.1 path data. */
      readonly d: string;
      /** `#rrggbb`, or null for none. */
      readonly fill: string | null;
      readonly stroke: string | null;
      readonly strokeWidth: number;
    }
  | {
      readonly kind: 'label';
      readonly x: number;
      /** Of the baseline. */
      readonly y: number;
      readonly size: number;
      readonly anchor: 'start' | 'middle' | 'end';
      readonly text: string;
    };

/** The drawing of a site, to its scale where the page has the room; its own description stands for it. */
export interface DiagramBlock {
  readonly kind: 'diagram';
  readonly caption: string;
  readonly drawing: SiteDrawing;
}

/** The page words with the numbers filled in. */
export function pageText(document: Document, page: number, pages: number): string {
  return document.pageWords.replaceAll('{n}', String(page)).replaceAll('{m}', String(pages));
}

/** Every string that a reader is to find on the paper, in reading order; labels of figures included. */
export function textsOf(document: Document): readonly string[] {
  const texts = [document.letterhead.name, ...document.letterhead.lines, document.title, document.subtitle];
  if (document.banner !== null) texts.push(document.banner.title, document.banner.text);
  for (const block of document.blocks) texts.push(...textsOfBlock(block));
  return texts.filter((text) => text !== '');
}

function textsOfBlock(block: Block): readonly string[] {
  switch (block.kind) {
    case 'heading':
    case 'paragraph':
      return [block.text];
    case 'details':
      return block.items.flatMap((item) => [item.key, item.value]);
    case 'counts':
      return block.items.flatMap((item) => [item.value, item.label]);
    case 'list':
      return block.items;
    case 'table':
      return [
        block.caption,
        ...block.columns.map((column) => column.header),
        ...block.rows.flatMap((row) => row.cells),
      ];
    case 'caution':
      return [block.title, ...block.items];
    case 'note':
      return [block.title, block.text];
    case 'figure':
      return [...block.marks.flatMap((mark) => (mark.kind === 'label' ? [mark.text] : [])), block.caption];
    case 'diagram':
      return [...block.drawing.shapes.flatMap(textsOfShape), block.caption];
  }
}

function textsOfShape(shape: Shape): readonly string[] {
  switch (shape.kind) {
    case 'group':
      return shape.shapes.flatMap(textsOfShape);
    case 'text':
      return [shape.text];
    case 'path':
    case 'hatch':
      return [];
  }
}
