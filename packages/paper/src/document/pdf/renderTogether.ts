import type { Document } from '../model.ts';
import { drawPaper, pageOf } from './drawPaper.ts';
import { type Faces, getFaces } from './faces.ts';
import { collect, openPdf } from './openPdf.ts';
import { createSheet, openTag } from './sheet.ts';
import { createTypesetter } from './type.ts';

/** What a file of several papers says of itself. */
export interface Binding {
  readonly title: string;
  readonly author: string;
  /** BCP 47, of the title; each paper has its own. */
  readonly lang: string;
  /** RFC 3339 with offset. */
  readonly writtenAt: string;
  /** `sheet`: printed on both sides, a paper never begins on the back of another; a blank page is put in where it would. */
  readonly eachOnNew: 'page' | 'sheet';
}

export interface BoundPaper {
  /** Its bookmark in the file. */
  readonly mark: string;
  readonly document: Document;
}

/**
 * Several papers as one PDF, tagged as `renderPdf` tags one: each begins on a new page, counts its own pages, has a bookmark, and is a
 * Part of the structure tree with its own language (ISO 32000-1, 14.8.4.2). Pages leave memory paper by paper.
 * Rejects with a RangeError when there is no paper, or `writtenAt` is not an RFC 3339 time with an offset.
 */
export async function renderTogether(
  binding: Binding,
  papers: Iterable<BoundPaper> | AsyncIterable<BoundPaper>,
  faces: Faces = getFaces(),
): Promise<Uint8Array> {
  let file: OpenFile | undefined;
  for await (const paper of papers) {
    file ??= open(binding, pageOf(paper.document), faces);
    file.add(paper);
  }
  if (file === undefined) throw new RangeError('there is no paper to put into the file');
  return file.end();
}

interface OpenFile {
  add(paper: BoundPaper): void;
  end(): Promise<Uint8Array>;
}

function open(binding: Binding, firstPage: readonly [number, number], faces: Faces): OpenFile {
  const pdf = openPdf({ ...binding, page: firstPage }, faces);
  const bytes = collect(pdf);
  const sheet = createSheet(pdf, createTypesetter(pdf, faces), { bookmarks: 'none' });
  const root = pdf.struct('Document', { lang: binding.lang });
  pdf.addStructure(root);
  let isFirst = true;
  return {
    add({ mark, document }) {
      if (!isFirst) {
        if (binding.eachOnNew === 'sheet' && pageCount() % 2 === 1) sheet.newPage();
        sheet.newPaper(pageOf(document));
      }
      isFirst = false;
      pdf.outline.addItem(mark);
      const part = openTag(sheet, root, 'Part', { lang: document.lang, title: mark });
      drawPaper(sheet, part, document);
      part.end();
      pdf.flushPages();
    },
    end() {
      root.end();
      pdf.end();
      return bytes;
    },
  };

  function pageCount(): number {
    const { start, count } = pdf.bufferedPageRange();
    return start + count;
  }
}
