import { type Banner, type Document, pageText } from '../model.ts';
import { drawBlocks } from './blocks.ts';
import { COLOUR, MARGIN, TYPE } from './look.ts';
import { LETTER } from './openPdf.ts';
import { drawArtifact, drawLines, drawRule, flowText, openTag, type Sheet, type Tag } from './sheet.ts';

/** Width and height of a paper's pages, points. */
export function pageOf({ layout }: Document): readonly [number, number] {
  const [short, long] = LETTER;
  return layout === 'portrait' ? [short, long] : [long, short];
}

/** One paper from the page that the sheet stands on, numbered for itself, under a tag that the caller ends. */
export function drawPaper(sheet: Sheet, root: Tag, document: Document): void {
  const { start, count } = sheet.pdf.bufferedPageRange();
  drawOpening(sheet, root, document);
  drawBlocks(sheet, root, document.blocks, document.continuedWords);
  drawFurniture(sheet, document, start + count - 1);
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

/** Feet, page numbers and running heads of the pages from `first` on, when their count is known. */
function drawFurniture(sheet: Sheet, document: Document, first: number): void {
  const { pdf, type } = sheet;
  const { start, count: held } = pdf.bufferedPageRange();
  const count = start + held - first;
  const footTop = pdf.page.height - MARGIN.bottom + 22;
  for (let page = 0; page < count; page += 1) {
    pdf.switchToPage(first + page);
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
