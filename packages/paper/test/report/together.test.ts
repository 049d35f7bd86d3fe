import { describe, expect, test } from 'vitest';
import { type Document, pageText, textsOf } from '../../src/document/model.ts';
import { renderPdf } from '../../src/document/pdf/renderPdf.ts';
import { type Binding, type BoundPaper, renderTogether } from '../../src/document/pdf/renderTogether.ts';
import { applicationRecords } from '../../src/report/applicationRecords.ts';
import { recordDocument } from '../../src/report/recordPaper.ts';
import { renewalLetter } from '../../src/report/renewalLetter.ts';
import {
  LETTER_GAPS,
  type LetterSubject,
  letterGaps,
  lettersBinding,
  lettersLeftOut,
} from '../../src/report/renewalMonth.ts';
import { PAPER_LANGUAGES, type PaperLanguage } from '../../src/report/words/say.ts';
import { missingPdfTools, pagesOf, readPdf, squeeze } from './pdfTools.ts';
import { FIRM, officeProperty, PROFILE, sampleFacts, sampleRenewal, WRITTEN_AT } from './sample.ts';

const MONTH = { firm: FIRM, month: '2026-04', writtenAt: WRITTEN_AT, lang: 'en-US' } as const;

function letterOf(name: string, lang: PaperLanguage, stations = 24): BoundPaper {
  const property = officeProperty(stations, { name });
  return { mark: name, document: renewalLetter({ ...sampleRenewal(stations), property, lang }) };
}

/** One between letters, on pages that lie. */
function recordOf(mark: string): BoundPaper {
  const document = recordDocument({
    firm: FIRM,
    rows: applicationRecords(sampleFacts(90)),
    filter: {},
    profiles: [PROFILE],
    writtenAt: WRITTEN_AT,
    lang: 'en-US',
  });
  return { mark, document };
}

const LEFT_OUT = { property: 'p-9', name: 'Reed & Sons <yard>', renewsOn: '2026-04-30', gaps: LETTER_GAPS };

const PAPERS: readonly BoundPaper[] = [
  letterOf('Marsh Lane 7', 'en-US'),
  letterOf('Calle Ñandú 12 (invented)', 'es-US'),
  recordOf('Long Row 3'),
  // One page, so that the next one would begin on its back.
  { mark: 'Left out', document: lettersLeftOut(MONTH, [LEFT_OUT]) },
  letterOf('Marsh Lane 9', 'en-US'),
];

function bind(
  papers: readonly BoundPaper[] = PAPERS,
  eachOnNew: Binding['eachOnNew'] = 'page',
): Promise<Uint8Array> {
  return renderTogether(lettersBinding(MONTH, eachOnNew), papers);
}

/** The counts of pages that each paper has by itself. */
function counts(papers: readonly BoundPaper[]): Promise<readonly number[]> {
  return Promise.all(papers.map(async ({ document }) => pagesOf(await renderPdf(document)).length));
}

// Outside check: poppler (pdftotext, pdfinfo) and qpdf, independent implementations of ISO 32000, read the file back.
describe.skipIf(missingPdfTools.length > 0)('several papers in one file', () => {
  test('each begins on a new page, says all that it says by itself, and counts its own pages', async () => {
    const bytes = await bind();
    expect(readPdf(bytes, 'qpdf', ['--check', '{file}'])).toContain('No syntax or stream encoding errors');
    const pages = pagesOf(bytes);
    const each = await counts(PAPERS);
    expect(new Set(each).size).toBeGreaterThan(1);
    expect(pages.length).toBe(each.reduce((sum, count) => sum + count, 0));
    let from = 0;
    for (const [index, { document }] of PAPERS.entries()) {
      const own = pages.slice(from, from + (each[index] ?? 0));
      from += own.length;
      expect(squeeze(own[0] ?? '')).toContain(squeeze(document.title));
      for (const [place, page] of own.entries())
        expect(squeeze(page)).toContain(squeeze(pageText(document, place + 1, own.length)));
      expect(own).toEqual(pagesOf(await renderPdf(document)));
    }
  });

  test('pages lie or stand as each paper does', async () => {
    const info = readPdf(await bind(), 'pdfinfo', ['-f', '1', '-l', '99', '{file}']);
    const sizes = [...info.matchAll(/^Page +\d+ size: +(.+?) pts/gm)].map((match) => match[1]);
    const expected: string[] = [];
    const each = await counts(PAPERS);
    for (const [index, { document }] of PAPERS.entries())
      for (let page = 0; page < (each[index] ?? 0); page += 1)
        expected.push(document.layout === 'portrait' ? '612 x 792' : '792 x 612');
    expect(sizes).toEqual(expected);
    expect(new Set(sizes).size).toBe(2);
  });

  test('a bookmark for each leads to its first page', async () => {
    const { outlines } = JSON.parse(
      readPdf(await bind(), 'qpdf', ['--json', '--json-key=outlines', '{file}']),
    );
    const each = await counts(PAPERS);
    expect(
      outlines.map((one: { title: string; destpageposfrom1: number }) => [one.title, one.destpageposfrom1]),
    ).toEqual(
      PAPERS.map(({ mark }, index) => [
        mark,
        1 + each.slice(0, index).reduce((sum, count) => sum + count, 0),
      ]),
    );
    for (const { kids } of outlines) expect(kids).toEqual([]);
  });

  test('each is a part of the tree with its own language, headings from 1 down (ISO 14289-1, 7.4.2, from memory)', async () => {
    const bytes = await bind();
    const tree = readPdf(bytes, 'pdfinfo', ['-struct-text', '{file}']);
    expect(tree.match(/^Document\b/gm)?.length).toBe(1);
    expect(tree.match(/^ {2}Part\b/gm)?.length).toBe(PAPERS.length);
    const headings = [...tree.matchAll(/^ {4}H([1-6])\b[^\n]*\n\s+"([^\n]*)"/gm)].map((match) => [
      Number(match[1]),
      // Where a heading goes on in a next line, this reader joins the two.
      squeeze(match[2] ?? ''),
    ]);
    expect(headings).toEqual(
      PAPERS.flatMap(({ document }) => [
        [1, squeeze(document.title)],
        ...document.blocks.flatMap((block) =>
          block.kind === 'heading' ? [[block.level, squeeze(block.text)]] : [],
        ),
      ]),
    );
    const plain = readPdf(bytes, 'qpdf', ['--qdf', '--object-streams=disable', '{file}', '-']);
    const languages = [...plain.matchAll(/\/Lang \((es-US|en-US)\)[^>]*?\/S \/Part/g)].map(
      (match) => match[1],
    );
    expect(languages.toSorted()).toEqual(PAPERS.map(({ document }) => document.lang).toSorted());
    expect(plain).toContain('<pdfuaid:part>1</pdfuaid:part>');
    expect(readPdf(bytes, 'pdfinfo', ['{file}'])).toMatch(/^Title:\s+Renewal letters, April 2026$/m);
  });

  test('printed on both sides, each begins on a front: blank pages only before one that would not', async () => {
    const each = await counts(PAPERS);
    const pages = pagesOf(await bind(PAPERS, 'sheet'));
    const starts = PAPERS.map(({ document }) => squeeze(pageText(document, 1, 0)).replace(/0$/, ''));
    let place = 0;
    for (const [index, count] of each.entries()) {
      if (place % 2 === 1) {
        expect(pages[place]?.trim()).toBe('');
        place += 1;
      }
      expect(squeeze(pages[place] ?? '')).toContain(starts[index]);
      place += count;
    }
    expect(pages.length).toBe(place);
    expect(pages.filter((page) => page.trim() === '').length).toBeGreaterThan(0);
  });

  test.each(PAPER_LANGUAGES)(
    'the sheet of what was left out names property, gap and remedy, %s',
    async (lang) => {
      const document: Document = lettersLeftOut({ ...MONTH, lang }, [LEFT_OUT]);
      const body = squeeze(pagesOf(await renderPdf(document)).join(''));
      for (const text of textsOf(document)) expect(body).toContain(squeeze(text));
    },
  );
});

test('the same papers give the same bytes, handed over at once or one by one', async () => {
  async function* slowly(): AsyncGenerator<BoundPaper> {
    for (const paper of PAPERS) {
      await new Promise((resolve) => setImmediate(resolve));
      yield paper;
    }
  }
  const slow = await renderTogether(lettersBinding(MONTH, 'page'), slowly());
  expect(Buffer.from(slow).equals(Buffer.from(await bind()))).toBe(true);
});

test('no paper, no file', async () => {
  await expect(bind([])).rejects.toThrow(/no paper/);
});

test('a letter that nobody reads over needs a name, an address, a station and a label profile', () => {
  const whole: LetterSubject = {
    customer: 'Ida',
    street: '7 Marsh Lane',
    town: 'Springs',
    stations: 3,
    hasProfile: true,
  };
  expect(letterGaps(whole)).toEqual([]);
  expect(letterGaps({ ...whole, customer: ' ' })).toEqual(['no customer']);
  expect(letterGaps({ ...whole, street: '' })).toEqual(['no address']);
  expect(letterGaps({ ...whole, town: '\t' })).toEqual(['no address']);
  expect(letterGaps({ ...whole, stations: 0 })).toEqual(['no station']);
  expect(letterGaps({ ...whole, hasProfile: false })).toEqual(['no label profile']);
  expect(letterGaps({ customer: '', street: '', town: '', stations: 0, hasProfile: false })).toEqual(
    LETTER_GAPS,
  );
});
