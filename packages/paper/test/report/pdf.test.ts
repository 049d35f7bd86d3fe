import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Document, pageText, textsOf } from '../../src/document/model.ts';
import { renderPdf } from '../../src/document/pdf/renderPdf.ts';
import { applicationRecords } from '../../src/report/applicationRecords.ts';
import { recordDocument } from '../../src/report/recordPaper.ts';
import { renewalLetter } from '../../src/report/renewalLetter.ts';
import { stationListDocument } from '../../src/report/stationList.ts';
import { visitReport } from '../../src/report/visitReport.ts';
import { PAPER_LANGUAGES, type PaperLanguage } from '../../src/report/words/say.ts';
import { workListDocument } from '../../src/report/workList.ts';
import { missingPdfTools, pagesOf, readPdf, squeeze } from './pdfTools.ts';
import {
  FIRM,
  MODELS,
  PROFILE,
  sampleDue,
  sampleFacts,
  sampleProperty,
  sampleRenewal,
  sampleWorkList,
  VISIT,
  VISIT_DAY,
  WRITTEN_AT,
} from './sample.ts';

function papers(lang: PaperLanguage, stations = 24): Readonly<Record<string, Document>> {
  const facts = sampleFacts(stations);
  const input = {
    firm: FIRM,
    property: sampleProperty(stations),
    profile: PROFILE,
    models: MODELS,
    due: sampleDue(stations),
    asOf: VISIT_DAY,
    writtenAt: WRITTEN_AT,
    lang,
  };
  return {
    visit: visitReport({ ...input, facts, visit: VISIT }),
    stations: stationListDocument(input),
    worklist: workListDocument({ ...sampleWorkList(stations), lang }),
    renewal: renewalLetter({ ...sampleRenewal(stations), lang }),
    record: recordDocument({
      firm: FIRM,
      rows: applicationRecords(facts),
      filter: { from: VISIT_DAY, to: VISIT_DAY },
      profiles: [PROFILE],
      writtenAt: WRITTEN_AT,
      lang,
    }),
  };
}

/** All text of a PDF with the furniture of its pages taken out. */
function bodyText(document: Document, pages: readonly string[]): string {
  return pages
    .map((page, index) => {
      let text = squeeze(page);
      for (const furniture of [
        pageText(document, index + 1, pages.length),
        document.foot,
        `${document.title}: ${document.subtitle}`,
        ...(index > 0 ? [document.banner?.title ?? ''] : []),
      ])
        text = text.replace(squeeze(furniture), '');
      return text;
    })
    .join('');
}

// Outside check: poppler (pdftotext, pdfinfo, pdffonts) and qpdf, independent implementations of ISO 32000, read the file back.
describe.skipIf(missingPdfTools.length > 0).each(PAPER_LANGUAGES)('PDF read back, %s', (lang) => {
  test.each(Object.entries(papers(lang)))('%s', async (_, document) => {
    const bytes = await renderPdf(document);
    expect(readPdf(bytes, 'qpdf', ['--check', '{file}'])).toContain('No syntax or stream encoding errors');

    const info = readPdf(bytes, 'pdfinfo', ['{file}']);
    expect(info).toMatch(/^Tagged:\s+yes$/m);
    expect(info).toMatch(/^Suspects:\s+no$/m);
    expect(info).toContain(`${document.title}: ${document.subtitle}`);
    expect(info).toMatch(/^Page size:\s+(612 x 792|792 x 612) pts \(letter\)$/m);

    const fonts = readPdf(bytes, 'pdffonts', ['{file}']).trim().split('\n').slice(2);
    expect(fonts.length).toBeGreaterThanOrEqual(2);
    // columns from the right: object generation, object number, uni, sub, emb
    for (const font of fonts) expect(font.trim().split(/\s+/).slice(-5, -2)).toEqual(['yes', 'yes', 'yes']);

    const pages = pagesOf(bytes);
    const body = bodyText(document, pages);
    for (const text of textsOf(document)) expect(body).toContain(squeeze(text));
    for (const [index, page] of pages.entries())
      expect(squeeze(page)).toContain(squeeze(pageText(document, index + 1, pages.length)));
  });
});

describe.skipIf(missingPdfTools.length > 0)('structure', () => {
  test('tags stand in reading order with headings, table headers and lists (PDF/UA-1, ISO 14289-1, from memory)', async () => {
    const document = papers('en-US')['visit'];
    if (document === undefined) throw new Error('no visit report');
    const tree = readPdf(await renderPdf(document), 'pdfinfo', ['-struct-text', '{file}']);
    const headings = [...tree.matchAll(/^ {2}H([1-6])\b[^\n]*\n\s+"([^\n]*)"/gm)].map((match) => [
      Number(match[1]),
      match[2],
    ]);
    expect(headings).toEqual([
      [1, document.title],
      ...document.blocks.flatMap((block) => (block.kind === 'heading' ? [[block.level, block.text]] : [])),
    ]);
    for (const tag of ['Table', 'Caption', 'THead', 'TBody', 'TR', 'TH', 'TD', 'L', 'LI', 'Lbl', 'LBody'])
      expect(tree).toMatch(new RegExp(`^\\s+${tag}\\b`, 'm'));
    expect(tree).toMatch(/Scope[^\n]*Column|\/Column/);
    expect(tree).toMatch(/Scope[^\n]*Row|\/Row/);
    // Furniture of the page and repeated headers are artifacts: they do not stand in the tree.
    expect(tree).not.toContain('Page 1 of');
    expect(tree).not.toContain('(continued)');
  });

  test('the file says its language and claims PDF/UA-1', async () => {
    const document = papers('es-US')['visit'];
    if (document === undefined) throw new Error('no visit report');
    const plain = readPdf(await renderPdf(document), 'qpdf', [
      '--qdf',
      '--object-streams=disable',
      '{file}',
      '-',
    ]);
    expect(plain).toContain('/Lang (es-US)');
    expect(plain).toContain('/DisplayDocTitle true');
    expect(plain).toContain('<pdfuaid:part>1</pdfuaid:part>');
  });

  test('a long table goes on over pages with its header drawn again on each', async () => {
    const document = papers('en-US', 120)['stations'];
    if (document === undefined) throw new Error('no station list');
    const pages = pagesOf(await renderPdf(document));
    expect(pages.length).toBeGreaterThan(4);
    for (const page of pages.slice(1, -1)) expect(page).toContain('Stands as');
    for (let number = 1; number <= 120; number += 1)
      expect(pages.some((page) => new RegExp(`^${number}[ \\n](auxiliary )?`, 'm').test(page))).toBe(true);
  });
});

describe.skipIf(missingPdfTools.length > 0)('hostile text', () => {
  const base: Document = {
    lang: 'en-US',
    title: 'T',
    subtitle: 'S',
    writtenAt: WRITTEN_AT,
    letterhead: { name: 'F', lines: [] },
    banner: null,
    foot: '',
    pageWords: '{n}/{m}',
    continuedWords: '(continued)',
    layout: 'portrait',
    blocks: [],
  };

  test('letters that the face lacks come from the fallback, and what neither has is written as its code', async () => {
    const text = 'Nguyễn Łódź Ω \u26A0 \u4E2D\u{1F41C} e\u0301 a\u0007b';
    const pages = pagesOf(await renderPdf({ ...base, blocks: [{ kind: 'paragraph', tone: 'body', text }] }));
    const body = squeeze(pages.join(''));
    expect(body).toContain(squeeze('Nguyễn Łódź Ω \u26A0 [U+4E2D][U+1F41C] é'));
    expect(body).toContain('a\uFFFDb');
  });

  test('names with markup in them do not break the metadata of the file', async () => {
    const bytes = await renderPdf({ ...base, title: 'A & B <i>', letterhead: { name: 'C & D', lines: [] } });
    const xml = readPdf(bytes, 'pdfinfo', ['-meta', '{file}']);
    expect(xml).toContain('A &amp; B &lt;i&gt;: S');
    expect(xml).toContain('C &amp; D');
    expect(readPdf(bytes, 'pdfinfo', ['{file}'])).toMatch(/^Title:\s+A & B <i>: S$/m);
  });

  test('any text at all makes a sound file', async () => {
    const texts = fc.sample(fc.string({ unit: 'binary', maxLength: 60 }), { numRuns: 300, seed: 2026 });
    const bytes = await renderPdf({
      ...base,
      title: texts[0] ?? '',
      letterhead: { name: texts[1] ?? '', lines: [texts[2] ?? ''] },
      blocks: [
        { kind: 'list', items: texts.slice(0, 100) },
        { kind: 'details', items: texts.slice(100, 200).map((text) => ({ key: text, value: text })) },
        {
          kind: 'table',
          caption: 'C',
          columns: [
            { header: 'A', align: 'left', share: 1 },
            { header: 'B', align: 'right', share: 3 },
          ],
          rows: texts.slice(200).map((text) => ({ cells: [text, text], look: 'struck' })),
        },
      ],
    });
    expect(readPdf(bytes, 'qpdf', ['--check', '{file}'])).toContain('No syntax or stream encoding errors');
    expect(pagesOf(bytes).length).toBeGreaterThan(3);
  });

  test('a word wider than its column and a cell taller than a page lose nothing', async () => {
    const wide = 'x'.repeat(400);
    const tall = Array.from({ length: 200 }, (_, index) => `line-${index}`).join('\n');
    const bytes = await renderPdf({
      ...base,
      blocks: [
        {
          kind: 'table',
          caption: 'C',
          columns: [
            { header: 'A', align: 'left', share: 1 },
            { header: 'B', align: 'right', share: 1 },
          ],
          rows: [
            { cells: [wide, ''], look: 'plain' },
            { cells: ['row', tall], look: 'plain' },
          ],
        },
      ],
    });
    const pages = pagesOf(bytes);
    const body = squeeze(pages.join(''));
    expect(body.match(/x/g)?.length).toBe(400);
    for (let index = 0; index < 200; index += 1) expect(body).toContain(`line-${index}`);
    expect(readPdf(bytes, 'qpdf', ['--check', '{file}'])).toContain('No syntax or stream encoding errors');
  });
});

test('the same document gives the same bytes', async () => {
  const document = papers('en-US')['visit'];
  if (document === undefined) throw new Error('no visit report');
  expect(Buffer.from(await renderPdf(document)).equals(Buffer.from(await renderPdf(document)))).toBe(true);
});

test('a time without offset is refused, named', async () => {
  const document = papers('en-US')['visit'];
  if (document === undefined) throw new Error('no visit report');
  expect(() => renderPdf({ ...document, writtenAt: '2026-03-04 10:00' })).toThrow(/2026-03-04 10:00/);
});
