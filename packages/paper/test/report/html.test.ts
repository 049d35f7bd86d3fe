import fc from 'fast-check';
import { type DefaultTreeAdapterTypes, defaultTreeAdapter, parse } from 'parse5';
import { describe, expect, test } from 'vitest';
import { renderHtml } from '../../src/document/html.ts';
import { type Document, textsOf } from '../../src/document/model.ts';
import { visitReport } from '../../src/report/visitReport.ts';
import { squeeze } from './pdfTools.ts';
import {
  FIRM,
  MODELS,
  PROFILE,
  PROPERTY_BODY,
  sampleDue,
  sampleFacts,
  sampleProperty,
  VISIT,
  VISIT_DAY,
  WRITTEN_AT,
} from './sample.ts';

type Element = DefaultTreeAdapterTypes.Element;

/** Parsed by the WHATWG algorithm (parse5), so what a browser would build; refuses any parse error. */
function elementsOf(html: string): readonly Element[] {
  const errors: string[] = [];
  const tree = parse(html, { onParseError: (error) => errors.push(error.code) });
  expect(errors).toEqual([]);
  const found: Element[] = [];
  const walk = (node: DefaultTreeAdapterTypes.Node): void => {
    if (defaultTreeAdapter.isElementNode(node)) found.push(node);
    if ('childNodes' in node) node.childNodes.forEach(walk);
  };
  walk(tree);
  return found;
}
function textOf(node: DefaultTreeAdapterTypes.Node): string {
  if (defaultTreeAdapter.isTextNode(node)) return node.value;
  return 'childNodes' in node ? node.childNodes.map(textOf).join('') : '';
}
function attribute(element: Element, name: string): string | undefined {
  return element.attrs.find((candidate) => candidate.name === name)?.value;
}

function report(over: Partial<Parameters<typeof visitReport>[0]> = {}): Document {
  return visitReport({
    firm: FIRM,
    property: sampleProperty(),
    facts: sampleFacts(),
    visit: VISIT,
    profile: PROFILE,
    models: MODELS,
    due: sampleDue(),
    asOf: VISIT_DAY,
    writtenAt: WRITTEN_AT,
    ...over,
  });
}

describe('HTML of a paper', () => {
  test('says its language and title, and all of the model', () => {
    const document = report();
    const elements = elementsOf(renderHtml(document));
    const html = elements.find((element) => element.tagName === 'html');
    expect(html && attribute(html, 'lang')).toBe('en-US');
    const title = elements.find((element) => element.tagName === 'title');
    expect(title && textOf(title)).toBe(`${document.title}: ${document.subtitle}`);
    const body = elements.find((element) => element.tagName === 'body');
    const text = squeeze(body ? textOf(body) : '');
    for (const words of textsOf(document)) expect(text).toContain(squeeze(words));
  });

  test('headings go down one level at a time from a single first one (WCAG 2.2, technique G141)', () => {
    const levels = elementsOf(renderHtml(report()))
      .filter((element) => /^h[1-6]$/.test(element.tagName))
      .map((element) => Number(element.tagName.slice(1)));
    expect(levels[0]).toBe(1);
    expect(levels.filter((level) => level === 1)).toHaveLength(1);
    expect(levels.length).toBeGreaterThan(5);
    for (const [index, level] of levels.entries())
      expect(level).toBeLessThanOrEqual((levels[index - 1] ?? 0) + 1);
  });

  test('every table has a caption, column headers and row headers with scope (WCAG 2.2, technique H63)', () => {
    const elements = elementsOf(renderHtml(report()));
    const tables = elements.filter((element) => element.tagName === 'table');
    expect(tables.length).toBeGreaterThanOrEqual(3);
    for (const table of tables) {
      expect(table.childNodes.some((node) => node.nodeName === 'caption' && textOf(node) !== '')).toBe(true);
    }
    const scopes = elements.filter((element) => element.tagName === 'th').map((th) => attribute(th, 'scope'));
    expect(new Set(scopes)).toEqual(new Set(['col', 'row']));
    const rows = elements.filter((element) => element.tagName === 'tr');
    for (const row of rows) expect(row.childNodes.some((node) => node.nodeName === 'th')).toBe(true);
  });

  test('hostile text stays text', () => {
    const hostile = `<script>alert(1)</script>"'><img src=x onerror=alert(2)>&lt;b&gt;\u0000`;
    const property = sampleProperty();
    const document = report({
      firm: { name: hostile, lines: [hostile] },
      property: {
        ...property,
        body: {
          ...PROPERTY_BODY,
          name: hostile,
          customer: { name: hostile, email: null, phone: null },
          address: { street: hostile, town: hostile, state: hostile, postcode: hostile },
        },
      },
    });
    const elements = elementsOf(renderHtml(document));
    expect(elements.filter((element) => ['script', 'img', 'b'].includes(element.tagName))).toEqual([]);
    for (const element of elements)
      expect(element.attrs.filter((attr) => attr.name.startsWith('on'))).toEqual([]);
    const heading = elements.find((element) => element.tagName === 'title');
    expect(heading && textOf(heading)).toContain('<script>alert(1)</script>');
    expect(elements.some((element) => textOf(element).includes('&lt;b&gt;\uFFFD'))).toBe(true);
  });

  test('any text at all stays the text it is', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 80 }), (text) => {
        const elements = elementsOf(renderHtml({ ...report(), blocks: [{ kind: 'list', items: [text] }] }));
        const item = elements.find((element) => element.tagName === 'li');
        const shown = text.replace(/[^\n\t\P{Cc}]|[\p{Cs}\p{Noncharacter_Code_Point}]/gu, '\uFFFD');
        expect(squeeze(item ? textOf(item) : '')).toBe(squeeze(shown));
      }),
      { numRuns: 200 },
    );
  });

  test('a figure speaks for itself to those who cannot see it', () => {
    const html = renderHtml({
      ...report(),
      blocks: [
        {
          kind: 'figure',
          alt: 'House with "2" stations',
          caption: 'Diagram',
          width: 10,
          height: 5,
          marks: [{ kind: 'path', d: 'M0 0H1', fill: null, stroke: '#000000', strokeWidth: 1 }],
        },
      ],
    });
    const svg = elementsOf(html).find((element) => element.tagName === 'svg');
    expect(svg && attribute(svg, 'role')).toBe('img');
    expect(svg && attribute(svg, 'aria-label')).toBe('House with "2" stations');
  });
});
