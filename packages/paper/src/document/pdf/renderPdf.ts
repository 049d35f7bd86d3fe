import type { Document } from '../model.ts';
import { drawPaper, pageOf } from './drawPaper.ts';
import { type Faces, getFaces } from './faces.ts';
import { collect, openPdf } from './openPdf.ts';
import { createSheet } from './sheet.ts';
import { createTypesetter } from './type.ts';

/**
 * The paper as PDF 1.7 on letter paper, tagged for PDF/UA-1 (ISO 14289-1): a structure tree in reading order, language,
 * title, embedded fonts, page furniture marked as artifacts. The same document gives the same bytes.
 * Throws a RangeError when `writtenAt` is not an RFC 3339 time with an offset.
 */
export function renderPdf(document: Document, faces: Faces = getFaces()): Promise<Uint8Array> {
  const pdf = openPdf(
    {
      lang: document.lang,
      title: `${document.title}: ${document.subtitle}`,
      author: document.letterhead.name,
      writtenAt: document.writtenAt,
      page: pageOf(document),
    },
    faces,
  );
  const bytes = collect(pdf);
  const sheet = createSheet(pdf, createTypesetter(pdf, faces), { bookmarks: 'sections' });
  const root = pdf.struct('Document', { lang: document.lang });
  pdf.addStructure(root);
  drawPaper(sheet, root, document);
  root.end();
  pdf.end();
  return bytes;
}
