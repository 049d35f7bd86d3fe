import { getMoment } from '@sillwatch/trade';
import PDFDocument from 'pdfkit';
import type { Faces } from './faces.ts';

/** What a file says of itself, and its first page. */
export interface PdfOpening {
  readonly lang: string;
  readonly title: string;
  readonly author: string;
  /** RFC 3339 with offset. */
  readonly writtenAt: string;
  /** Width and height in points. */
  readonly page: readonly [number, number];
}

export const LETTER: readonly [number, number] = [612, 792];

/**
 * An empty tagged PDF 1.7 (PDF/UA-1, ISO 14289-1) with our faces and its first page.
 * Throws a RangeError when `writtenAt` is not an RFC 3339 time with an offset.
 */
export function openPdf(opening: PdfOpening, faces: Faces): PDFKit.PDFDocument {
  const pdf = new PDFDocument({
    size: [...opening.page],
    margin: 0,
    pdfVersion: '1.7',
    tagged: true,
    lang: opening.lang,
    displayTitle: true,
    bufferPages: true,
    autoFirstPage: false,
    info: {
      Title: opening.title,
      Author: opening.author,
      Creator: 'Sillwatch',
      Producer: 'Sillwatch with pdfkit',
      CreationDate: new Date(getMoment(opening.writtenAt).epochMs),
    },
  });
  for (const face of ['regular', 'strong', 'fallback'] as const) pdf.registerFont(face, faces[face].font);
  pdf.font('regular');
  // The claim that the file follows PDF/UA-1; pdfkit's own `subset` writes the same element.
  pdf.appendXML(
    '<rdf:Description xmlns:pdfuaid="http://www.aiim.org/pdfua/ns/id/" rdf:about=""><pdfuaid:part>1</pdfuaid:part></rdf:Description>',
  );
  escapeMetadata(pdf);
  pdf.addPage();
  gatherContent(pdf);
  return pdf;
}

/**
 * pdfkit keeps each operator of a page as an array of bytes of its own until the file ends: some hundred thousand of them in a
 * long record, and most of the memory it took. Here a page's operators stay text, and become bytes once, when the page is left.
 */
function gatherContent(pdf: PDFKit.PDFDocument): void {
  let { page } = pdf;
  let held: string[] = [];
  const settle = (): void => {
    if (held.length > 0) page.write(held.join('\n'));
    held = [];
  };
  pdf.addContent = (operator: string) => {
    if (pdf.page !== page) settle();
    ({ page } = pdf);
    held.push(operator);
    return pdf;
  };
  const flushPages = pdf.flushPages.bind(pdf);
  pdf.flushPages = () => {
    settle();
    flushPages();
  };
}

/**
 * pdfkit writes title and author into the XML of the metadata as they are, so that `&` or `<` in a name would break it.
 * When it does so the file's own information has been written, and the texts can be escaped in place.
 */
function escapeMetadata(pdf: PDFKit.PDFDocument): void {
  const endMetadata = pdf.endMetadata.bind(pdf);
  pdf.endMetadata = () => {
    const { Title = '', Author = '' } = pdf.info;
    pdf.info = { ...pdf.info, Title: toXmlText(Title), Author: toXmlText(Author) };
    endMetadata();
  };
}

function toXmlText(text: string): string {
  return text
    .replace(/[\p{Cc}\p{Cs}\p{Noncharacter_Code_Point}]/gu, '\uFFFD')
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;');
}

/** The bytes of the file, once it has been ended. */
export function collect(pdf: PDFKit.PDFDocument): Promise<Uint8Array> {
  return new Promise((resolve, reject) => {
    const parts: Uint8Array[] = [];
    pdf.on('data', (part: Uint8Array) => parts.push(part));
    pdf.on('end', () => resolve(Buffer.concat(parts)));
    pdf.on('error', reject);
  });
}
