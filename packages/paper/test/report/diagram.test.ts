import { spawnSync } from 'node:child_process';
import {
  drawingToSvg,
  EMPTY_SITE,
  layOutSite,
  layoutLabels,
  type Site,
  type SiteView,
} from '@sillwatch/ring';
import { type AnyFact, foldProperty } from '@sillwatch/trade';
import { describe, expect, it, test } from 'vitest';
import { renderHtml } from '../../src/document/html.ts';
import { getFaces } from '../../src/document/pdf/faces.ts';
import { renderDiagramPdf } from '../../src/document/pdf/renderDiagram.ts';
import { renderPdf } from '../../src/document/pdf/renderPdf.ts';
import { visitReport } from '../../src/report/visitReport.ts';
import { missingPdfTools, readPdf, squeeze } from './pdfTools.ts';
import {
  FIRM,
  fact,
  MODELS,
  PROFILE,
  sampleDue,
  sampleFacts,
  VISIT,
  VISIT_DAY,
  WRITTEN_AT,
} from './sample.ts';

const at = (x: number, y: number) => ({ x, y });

/** 12 m by 9 m in local metres, invented. */
const SITE: Site = {
  ...EMPTY_SITE,
  name: 'Invented house & garden',
  structures: [
    {
      id: 'house',
      name: 'House',
      foundation: 'slab',
      outline: [at(0, 0), at(12, 0), at(12, 9), at(0, 9)],
      holes: [],
    },
  ],
  hardSurfaces: [{ id: 'drive', kind: 'drive', outline: [at(1, -6), at(6, -6), at(6, -0.1), at(1, -0.1)] }],
  stations: [at(-0.5, -0.5), at(12.5, -0.5), at(12.5, 9.5), at(-0.5, 9.5)].map((spot, index) => ({
    id: `s${index + 1}`,
    number: index + 1,
    at: spot,
  })),
};
const VIEW: SiteView = {
  medium: { kind: 'print', paper: 'letter', scale: 100 },
  contrast: 'high',
  units: 'ft',
  marks: new Map([['s2', 'feeding']]),
  wallLengths: true,
};
const sheet = (view: SiteView = VIEW) => ({
  drawing: layOutSite(SITE, view),
  lang: 'en-US',
  author: 'Invented Sill Care',
  writtenAt: WRITTEN_AT,
});

describe.skipIf(missingPdfTools.length > 0)('a diagram as a PDF of its own', () => {
  it('is a sound letter sheet with one tagged figure that says in words what it shows', async () => {
    const bytes = await renderDiagramPdf(sheet());
    expect(readPdf(bytes, 'qpdf', ['--check', '{file}'])).toContain('No syntax or stream encoding errors');
    const info = readPdf(bytes, 'pdfinfo', ['{file}']);
    expect(info).toMatch(/^Tagged:\s+yes$/m);
    expect(info).toMatch(/^Page size:\s+612 x 792 pts \(letter\)$/m);
    const tree = readPdf(bytes, 'pdfinfo', ['-struct', '{file}']);
    expect(tree.match(/\bFigure\b/g)).toHaveLength(1);
    const plain = readPdf(bytes, 'qpdf', ['--qdf', '--object-streams=disable', '{file}', '-']);
    expect(plain).toContain('4 stations round 1 structure: monitoring 1, 3, 4; feeding: leave it 2.');
  });

  it('says every label once, as the SVG does: halos are no text', async () => {
    const words = readPdf(await renderDiagramPdf(sheet()), 'pdftotext', ['{file}', '-'])
      .split(/\n+/)
      .map((line) => squeeze(line));
    const svg = drawingToSvg(layOutSite(SITE, VIEW), 'site');
    const labels = [...svg.matchAll(/<text[^>]*>([^<]*)<\/text>/g)].map((match) =>
      squeeze((match[1] ?? '').replaceAll('&#39;', "'").replaceAll('&quot;', '"').replaceAll('&amp;', '&')),
    );
    expect(labels.length).toBeGreaterThan(12);
    for (const label of new Set(labels))
      expect(words.filter((line) => line === label).length, label).toBe(
        labels.filter((other) => other === label).length,
      );
  });

  it('is to scale: a wall of 12 m is 120 mm long on paper at 1:100, 60 mm at 1:200', async () => {
    for (const [scale, millimetres] of [
      [100, 120],
      [200, 60],
    ] as const) {
      const view: SiteView = { ...VIEW, medium: { kind: 'print', paper: 'letter', scale } };
      const plain = readPdf(await renderDiagramPdf(sheet(view)), 'qpdf', [
        '--qdf',
        '--object-streams=disable',
        '{file}',
        '-',
      ]);
      const { metresToSheet: m } = layOutSite(SITE, view);
      const corner = (x: number, y: number) => [m.a * x + m.c * y + m.e, m.b * x + m.d * y + m.f] as const;
      const [left, right] = [corner(0, 0), corner(12, 0)];
      // The path stands in the file with the sheet's own millimetres, under one matrix of 72 / 25.4 points each.
      const number = (value: number) => String(Math.round(value * 100) / 100).replace('.', '\\.');
      expect(plain).toMatch(new RegExp(`${number(left[0])} ${number(left[1])} m\\n${number(right[0])} `));
      expect(plain).toMatch(/2\.8346\d* 0 0 2\.8346\d* 0 0 cm/);
      expect(right[0] - left[0]).toBeCloseTo(millimetres, 6);
    }
  });

  it('has ink where marks and hatchings are, and paper inside rings and in the house (drawn by poppler)', async () => {
    const drawing = layOutSite(SITE, { ...VIEW, wallLengths: false });
    const bytes = await renderDiagramPdf({ ...sheet(), drawing });
    const image = pixelsOf(bytes);
    const inkAt = (x: number, y: number, half: number) => image.inkIn(x - half, y - half, x + half, y + half);
    for (const { x, y, radius, mark } of drawing.stations) {
      expect(inkAt(x, y, radius)).toBeGreaterThan(0.05);
      // Feeding is filled with ink but for its bar; monitoring is a ring with paper inside.
      if (mark === 'feeding') expect(inkAt(x, y - radius * 0.4, radius * 0.2)).toBeGreaterThan(0.7);
      else expect(inkAt(x, y, radius * 0.25)).toBe(0);
    }
    const { a, d, e, f } = drawing.metresToSheet;
    expect(inkAt(a * 3 + e, d * 7 + f, 8)).toBe(0);
    const hatched = inkAt(a * 2.2 + e, d * -4.5 + f, 6);
    expect(hatched).toBeGreaterThan(0.005);
    expect(hatched).toBeLessThan(0.2);
  });
});

/** Of the first page at 100 dots to the inch, in greys (PGM, netpbm): asked for in millimetres. */
function pixelsOf(bytes: Uint8Array) {
  const run = spawnSync('pdftoppm', ['-r', '100', '-gray', '-f', '1', '-l', '1', '-'], {
    input: bytes,
    maxBuffer: 64_000_000,
  });
  const head = /^P5\s+(\d+)\s+(\d+)\s+255\s/.exec(run.stdout.subarray(0, 40).toString('latin1'));
  if (head === null) throw new Error('pdftoppm gave no picture');
  const [all, width = '', height = ''] = head;
  const pixels = run.stdout.subarray(all.length);
  return {
    inkIn(left: number, top: number, right: number, bottom: number): number {
      let dark = 0;
      let count = 0;
      for (let y = Math.round((top / 25.4) * 100); y <= Math.round((bottom / 25.4) * 100); y += 1)
        for (let x = Math.round((left / 25.4) * 100); x <= Math.round((right / 25.4) * 100); x += 1) {
          if (x < 0 || y < 0 || x >= Number(width) || y >= Number(height)) continue;
          count += 1;
          if ((pixels[y * Number(width) + x] ?? 255) < 128) dark += 1;
        }
      return count === 0 ? 0 : dark / count;
    },
  };
}

test('no label is wider in the faces of the paper than the room that was kept for it', () => {
  const faces = getFaces();
  const names = ['House', 'Wohnhaus mit Anbau', 'Garage WM', 'Bodega número 3', 'mmmm', 'WWWW', '@%&'];
  const site: Site = {
    ...SITE,
    structures: names.map((name, index) => ({
      id: `h${index}`,
      name,
      foundation: 'slab',
      outline: [at(index * 30, 0), at(index * 30 + 25, 0), at(index * 30 + 25, 15), at(index * 30, 15)],
      holes: [],
    })),
    stations: Array.from({ length: 120 }, (_, index) => ({
      id: `s${index}`,
      number: index + 1,
      at: at(index, -3),
    })),
    concerns: (['moisture', 'old_damage', 'mud_tube', 'stump', 'woodpile'] as const).map((kind, index) => ({
      id: kind,
      kind,
      at: at(index * 20, 30),
    })),
  };
  const { placed, dropped } = layoutLabels(site, {
    ...VIEW,
    medium: { kind: 'print', paper: 'letter', scale: 1000 },
  });
  const wishes = [...placed.map(({ wish }) => wish), ...dropped];
  expect(wishes.length).toBeGreaterThan(100);
  for (const { text, style, width, height } of wishes) {
    const { font } = style === 'station' ? faces.strong : faces.regular;
    const size = height / 1.15;
    const real = (font.layout(text).advanceWidth / font.unitsPerEm) * size;
    expect(real, `${text} (${style})`).toBeLessThanOrEqual(width);
  }
});

/** The sample's facts, drawn: its structures side by side, its stations south of them. */
function withPlace(one: AnyFact, index: number): AnyFact {
  const { body } = one;
  if (typeof body !== 'object' || body === null) return one;
  const x = index * 3;
  if (one.kind === 'structure added')
    return {
      ...one,
      body: {
        ...body,
        outline: [
          [x * 6, 0],
          [x * 6 + 12, 0],
          [x * 6 + 12, 9],
          [x * 6, 9],
        ],
      },
    };
  return one.kind === 'station installed' ? { ...one, body: { ...body, position: [x, -0.5] } } : one;
}

describe('the visit report', () => {
  const facts = [
    ...sampleFacts(6).map(withPlace),
    fact(
      'site drawn',
      {
        hardSurfaces: [
          {
            id: 'drive',
            kind: 'drive',
            outline: [
              [1, -6],
              [6, -6],
              [6, -1],
            ],
          },
        ],
        keepOuts: [],
        plantings: [],
        concerns: [],
        fences: [],
        gates: [],
        parking: null,
      },
      { at: '2026-06-01T09:00:00-04:00' },
    ),
  ];
  const input = {
    firm: FIRM,
    property: foldProperty(facts),
    facts,
    visit: VISIT,
    profile: PROFILE,
    models: MODELS,
    due: sampleDue(6),
    asOf: VISIT_DAY,
    writtenAt: WRITTEN_AT,
  };

  it('holds the diagram, on the ground as drawn since, with each station as the visit left it', () => {
    const document = visitReport(input);
    const block = document.blocks.find(({ kind }) => kind === 'diagram');
    if (block?.kind !== 'diagram') throw new Error('no diagram');
    expect(block.drawing.stations.length).toBe(
      input.property.stations.filter(({ inService }) => inService).length,
    );
    expect(block.drawing.scale).not.toBeNull();
    const html = renderHtml(document);
    expect(html).toContain('<figure class="diagram"><svg');
    expect(html).toContain('hard surface');
  });

  it('does not let a later visit into the picture', () => {
    const [first] = input.property.stations;
    if (first === undefined) throw new Error('the sample has stations');
    const later = [
      ...facts,
      fact(
        'station removed',
        { why: 'invented' },
        { station: first.station, at: '2026-07-01T09:00:00-04:00' },
      ),
    ];
    const document = visitReport({ ...input, facts: later, property: foldProperty(later) });
    const block = document.blocks.find(({ kind }) => kind === 'diagram');
    expect(block?.kind === 'diagram' && block.drawing.stations.map(({ id }) => id)).toContain(first.station);
  });

  it.skipIf(missingPdfTools.length > 0)(
    'tags it as a figure with its words in PDF, in both languages',
    async () => {
      for (const lang of ['en-US', 'es-US'] as const) {
        const bytes = await renderPdf(visitReport({ ...input, lang }));
        expect(readPdf(bytes, 'qpdf', ['--check', '{file}'])).toContain(
          'No syntax or stream encoding errors',
        );
        expect(readPdf(bytes, 'pdfinfo', ['-struct', '{file}'])).toMatch(/\bFigure\b/);
        const text = readPdf(bytes, 'pdftotext', ['{file}', '-']);
        expect(text).toContain(lang === 'en-US' ? 'Where the stations are' : 'Dónde están las estaciones');
        expect(text).toContain(lang === 'en-US' ? 'hard surface' : 'superficie dura');
      }
    },
  );
});
