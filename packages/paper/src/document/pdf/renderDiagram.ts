import type { SiteDrawing } from '@sillwatch/ring';
import { drawDiagram, sizeOfDiagram } from './diagram.ts';
import { type Faces, getFaces } from './faces.ts';
import { collect, openPdf } from './openPdf.ts';
import { createTypesetter } from './type.ts';

export interface DiagramPaper {
  readonly drawing: SiteDrawing;
  /** BCP 47, of the words in the drawing. */
  readonly lang: string;
  /** Whose paper it is. */
  readonly author: string;
  /** RFC 3339 with offset. */
  readonly writtenAt: string;
}

/**
 * A drawing of a site as a sheet of its own, to scale: tagged PDF 1.7 with one Figure whose alternate text says what it shows.
 * Throws a RangeError when `writtenAt` is not an RFC 3339 time with an offset.
 */
export function renderDiagramPdf(
  { drawing, lang, author, writtenAt }: DiagramPaper,
  faces: Faces = getFaces(),
): Promise<Uint8Array> {
  const { width, height } = sizeOfDiagram(drawing);
  const pdf = openPdf({ lang, title: drawing.title, author, writtenAt, page: [width, height] }, faces);
  const bytes = collect(pdf);
  const root = pdf.struct('Document', { lang });
  pdf.addStructure(root);
  const figure = pdf.struct('Figure', { alt: drawing.description, bbox: [0, 0, width, height] });
  root.add(figure);
  const type = createTypesetter(pdf, faces);
  figure.add(() => drawDiagram(pdf, type, drawing, { left: 0, top: 0, shrink: 1 }));
  figure.end();
  root.end();
  pdf.end();
  return bytes;
}
