import { type Banner, type Document, pageText } from '../model.ts';
import { drawBlocks } from './blocks.ts';
import { type Faces, getFaces } from './faces.ts';
import { COLOUR, MARGIN, TYPE } from './look.ts';
import { collect, LETTER, openPdf } from './openPdf.ts';
import {
  createSheet,
  drawArtifact,
  drawLines,
  drawRule,
  flowText,
  openTag,
  type Sheet,
  type Tag,
} from './sheet.ts';
import { createTypesetter } from './type.ts';

/**
 * The paper as PDF 1.7 on letter paper, tagged for PDF/UA-1 (ISO 14289-1): a structure tree in reading order, language,
 * title, embedded fonts, page furniture marked as artifacts. The same document gives the same bytes.
 * Throws a RangeError when `writtenAt` is not an RFC 3339 time with an offset.
 */
export function renderPdf(document: Document, faces: Faces = getFaces()): Promise<Uint8Array> {
  const [short, long] = LETTER;
  const pdf = openPdf(
    {
      lang: document.lang,
      title: `${document.title}: ${document.subtitle}`,
      author: document.letterhead.name,
      writtenAt: document.writtenAt,
      page: document.layout === 'portrait' ? [short, long] : [long, short],
    },
    faces,
  );
  const bytes = collect(pdf);
  const sheet = createSheet(pdf, createTypesetter(pdf, faces));
  const root = pdf.struct('Document', { lang: document.lang });
  pdf.addStructure(root);
  drawOpening(sheet, root, document);
  drawBlocks(sheet, root, document.blocks, document.continuedWords);
  root.end();
  drawFurniture(sheet, document);
  pdf.end();
  return bytes;
}

function drawOpening(sheet: Sheet, root: Tag, document: Document): void {
  const { letterhead } = document;
  sheet.y = 48;
  flowText(sheet, root, 'P', letterhead.name, TYPE.firm);
  for (const line of letterhead.lines) flowText(sheet, root, 'P', line, TYPE.firmLine);
  sheet.y += 8;
  drawRule(sheet, sheet.left, sheet.right, sheet.y, COLOUR.deep, 1.6);
  sheet.y += 26;
  if (document.banner !== null) drawBanner(sheet, root, document.banner);
  flowText(sheet, root, 'H1', document.title, TYPE.title);
  flowText(sheet, root, 'P', document.subtitle, TYPE.subtitle);
  sheet.y += 10;
}

function drawBanner(sheet: Sheet, root: Tag, banner: Banner): void {
  const pad = 8;
  const x = sheet.left + pad + 4;
  const width = sheet.width - 2 * pad - 8;
  const titles = sheet.type.linesOf(banner.title, TYPE.banner, width);
  const texts = sheet.type.linesOf(banner.text, TYPE.bannerText, width);
  const titleHeight = titles.length * TYPE.banner.leading;
  const height = titleHeight + texts.length * TYPE.bannerText.leading + 2 * pad;
  drawArtifact(sheet, () => {
    sheet.pdf
      .rect(sheet.left, sheet.y, sheet.width, height)
      .lineWidth(1.4)
      .dash(5, { space: 3 })
      .strokeColor(COLOUR.warn)
      .stroke()
      .undash();
  });
  const tag = openTag(sheet, root, 'P');
  drawLines(sheet, tag, titles, x, sheet.y + pad, TYPE.banner);
  drawLines(sheet, tag, texts, x, sheet.y + pad + titleHeight, TYPE.bannerText);
  tag.end();
  sheet.y += height + 20;
}

/** Feet, page numbers and running heads, when the count of pages is known. */
function drawFurniture(sheet: Sheet, document: Document): void {
  const { pdf, type } = sheet;
  const { count } = pdf.bufferedPageRange();
  const footTop = pdf.page.height - MARGIN.bottom + 22;
  for (let page = 0; page < count; page += 1) {
    pdf.switchToPage(page);
    drawArtifact(
      sheet,
      () => {
        pdf.moveTo(sheet.left, footTop).lineTo(sheet.right, footTop).lineWidth(0.6);
        pdf.strokeColor(COLOUR.line).stroke();
        const numbers = pageText(document, page + 1, count);
        const numbersWidth = type.widthOf(numbers, TYPE.foot);
        type.draw(numbers, sheet.right - numbersWidth, footTop + 14, TYPE.foot);
        const footLines = type.linesOf(document.foot, TYPE.foot, sheet.width - numbersWidth - 30);
        for (const [index, line] of footLines.slice(0, 2).entries()) {
          type.draw(line, sheet.left, footTop + 14 + index * TYPE.foot.leading, TYPE.foot);
        }
        if (page === 0) return;
        const head = `${document.title}: ${document.subtitle}`;
        const [headLine = ''] = type.linesOf(head, TYPE.foot, sheet.width * 0.62);
        type.draw(headLine, sheet.left, 42, TYPE.foot);
        if (document.banner === null) return;
        const [bannerLine = ''] = type.linesOf(document.banner.title, TYPE.footStrong, sheet.width * 0.35);
        const bannerWidth = type.widthOf(bannerLine, TYPE.footStrong);
        type.draw(bannerLine, sheet.right - bannerWidth, 42, TYPE.footStrong);
      },
      'Pagination',
    );
  }
}
