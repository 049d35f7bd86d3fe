import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  drawSite,
  ENGLISH,
  layOutSite,
  layoutLabels,
  type Medium,
  overlaps,
  type SiteView,
  SPANISH,
  STATION_MARK_KINDS,
  STATION_MARK_PARTS,
  type StationMark,
} from '../../src/diagram/index.ts';
import { EMPTY_SITE, type Point, type Site } from '../../src/site/model.ts';
import { INVENTED_HOUSE } from './sites.ts';

const at = (x: number, y: number): Point => ({ x, y });
const VIEW: SiteView = {
  medium: { kind: 'screen', width: 900, height: 700 },
  contrast: 'usual',
  units: 'ft',
  marks: new Map<string, StationMark>([
    ['s2', 'hit'],
    ['s3', 'feeding'],
    ['s7', 'missed'],
  ]),
};
const MEDIA: readonly Medium[] = [
  VIEW.medium,
  { kind: 'screen', width: 360, height: 560 },
  { kind: 'print', paper: 'letter', scale: 'fit' },
  { kind: 'print', paper: 'letter landscape', scale: 200 },
];

/** A small reader of XML: throws where tags do not match or an attribute is left open. */
function readXml(text: string): { readonly names: readonly string[]; readonly texts: readonly string[] } {
  const names: string[] = [];
  const texts: string[] = [];
  const open: string[] = [];
  let rest = text;
  while (rest !== '') {
    const plain = /^[^<]+/.exec(rest);
    if (plain !== null) {
      if (!/^(?:[^&]|&(?:amp|lt|gt|quot|#39);)*$/.test(plain[0])) throw new Error(`bare & in ${plain[0]}`);
      texts.push(plain[0]);
      rest = rest.slice(plain[0].length);
      continue;
    }
    const tag = /^<(\/?)([a-zA-Z]+)((?: [a-zA-Z:-]+="[^"<>]*")*)(\/?)>/.exec(rest);
    if (tag === null) throw new Error(`not a tag: ${rest.slice(0, 80)}`);
    const [all, isEnd, name, , isEmpty] = tag;
    if (isEnd === '/') {
      if (open.pop() !== name) throw new Error(`</${name}> closes nothing`);
    } else {
      names.push(name ?? '');
      if (isEmpty !== '/') open.push(name ?? '');
    }
    rest = rest.slice(all.length);
  }
  if (open.length > 0) throw new Error(`left open: ${open.join(' ')}`);
  return { names, texts };
}

function expectNoOverlap(site: Site, view: SiteView): void {
  const { placed, dropped, obstacles } = layoutLabels(site, view);
  for (const [index, one] of placed.entries()) {
    for (const other of placed.slice(index + 1))
      expect(overlaps(one.box, other.box), `${one.wish.id} and ${other.wish.id}`).toBe(false);
    expect(obstacles.some((mark) => overlaps(one.box, mark))).toBe(false);
  }
  if (view.medium.kind === 'screen' || view.medium.scale === 'fit')
    expect(dropped.filter((wish) => wish.style === 'station')).toEqual([]);
}

describe('labels', () => {
  it('never overlap on the invented house, whatever it is drawn for', () => {
    for (const medium of MEDIA) {
      for (const wallLengths of [false, true])
        expectNoOverlap(INVENTED_HOUSE, { ...VIEW, medium, wallLengths });
      const { placed } = layoutLabels(INVENTED_HOUSE, { ...VIEW, medium });
      expect(
        placed.filter((label) => label.wish.style === 'structure').map((label) => label.wish.text),
      ).toEqual(['Garage', 'House']);
    }
  });

  it('keep off the handles of what is selected, and every long wall still says its length', () => {
    const outline = INVENTED_HOUSE.structures.find(({ name }) => name === 'House')?.outline ?? [];
    const middles = outline.map((from, index) => {
      const to = outline[(index + 1) % outline.length] ?? from;
      return at((from.x + to.x) / 2, (from.y + to.y) / 2);
    });
    const view: SiteView = { ...VIEW, wallLengths: true };
    const lengths = (one: SiteView) =>
      layoutLabels(INVENTED_HOUSE, one).placed.filter(({ wish }) => wish.style === 'length').length;
    const handles = [...outline, ...middles];
    expect(handles.length).toBeGreaterThan(8);
    expectNoOverlap(INVENTED_HOUSE, { ...view, handles });
    const { obstacles } = layoutLabels(INVENTED_HOUSE, { ...view, handles });
    expect(obstacles.length).toBe(layoutLabels(INVENTED_HOUSE, view).obstacles.length + handles.length);
    expect(lengths({ ...view, handles })).toBe(lengths(view));
  });

  it('never overlap on random sites, and every station keeps its number', () => {
    const spot = fc.tuple(fc.integer({ min: 0, max: 60 }), fc.integer({ min: 0, max: 45 }));
    const site = fc
      .record({
        stations: fc.uniqueArray(spot, { maxLength: 45, selector: ([x, y]) => `${x},${y}` }),
        concerns: fc.array(spot, { maxLength: 10 }),
        houses: fc.array(fc.tuple(spot, fc.integer({ min: 2, max: 25 }), fc.integer({ min: 2, max: 25 })), {
          maxLength: 4,
        }),
      })
      .map(
        ({ stations, concerns, houses }): Site => ({
          ...EMPTY_SITE,
          stations: stations.map(([x, y], index) => ({ id: `s${index}`, number: index + 1, at: at(x, y) })),
          concerns: concerns.map(([x, y], index) => ({
            id: `c${index}`,
            kind: 'moisture',
            at: at(x + 0.3, y),
          })),
          structures: houses.map(([[x, y], width, height], index) => ({
            id: `h${index}`,
            name: `Invented building ${index}`,
            foundation: 'slab',
            outline: [at(x, y), at(x + width, y), at(x + width, y + height), at(x, y + height)],
            holes: [],
          })),
        }),
      );
    fc.assert(
      fc.property(site, fc.constantFrom(...MEDIA), fc.boolean(), (random, medium, wallLengths) => {
        expectNoOverlap(random, { ...VIEW, medium, wallLengths, nextStationId: 's0' });
      }),
      { numRuns: 200 },
    );
  });
});

describe('drawSite', () => {
  it('is well-formed for every medium, contrast and turn, and the same every time', () => {
    for (const medium of MEDIA)
      for (const contrast of ['usual', 'high'] as const)
        for (const turnDegrees of [0, 90, 217]) {
          const view: SiteView = {
            ...VIEW,
            medium,
            contrast,
            turnDegrees,
            wallLengths: true,
            walk: [at(0, -3), at(9, -3)],
          };
          const svg = drawSite(INVENTED_HOUSE, view);
          expect(readXml(svg).names[0]).toBe('svg');
          expect(drawSite(INVENTED_HOUSE, view)).toBe(svg);
          expect(svg).not.toMatch(/NaN|Infinity|undefined/);
        }
  });

  it('says in words what it shows: title, summary, and every station with its state', () => {
    const { names, texts } = readXml(drawSite(INVENTED_HOUSE, VIEW));
    expect(names.slice(0, 3)).toEqual(['svg', 'title', 'desc']);
    expect(texts[0]).toBe(INVENTED_HOUSE.name);
    expect(texts[1]).toBe(
      '14 stations round 2 structures: monitoring 1, 4, 5, 6, 8, 9, 10, 11, 12, 13, 14; hit 2; feeding: leave it 3; not seen last time 7.',
    );
    expect(texts).toContain('Station 3: feeding: leave it');
    expect(texts).toContain('Station 2: hit');
    expect(texts).toContain('utility line: locate before digging');
  });

  it('keeps whatever people type out of the markup', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary' }), fc.string(), (name, id) => {
        const site: Site = {
          ...INVENTED_HOUSE,
          name: `</title><script>${name}`,
          structures: INVENTED_HOUSE.structures.map((structure) => ({
            ...structure,
            name: `"'><b>&${name}`,
          })),
          stations: INVENTED_HOUSE.stations.map((station) => ({ ...station, id: `${station.id}"${id}` })),
        };
        expect(readXml(drawSite(site, { ...VIEW, note: name })).names).not.toContain('script');
      }),
    );
  });

  it('prints to scale: 1:100 draws a 12 m wall 120 mm long, and the sheet is US letter', () => {
    const wall = (scale: number) => {
      const svg = drawSite(INVENTED_HOUSE, { ...VIEW, medium: { kind: 'print', paper: 'letter', scale } });
      expect(svg).toMatch(/width="215.9mm" height="279.4mm" viewBox="0 0 215.9 279.4"/);
      const path =
        /<g class="structures"><g><title>[^<]*<\/title><path d="M([-\d.]+) ([-\d.]+)L([-\d.]+) ([-\d.]+)/.exec(
          svg,
        );
      return Math.hypot(Number(path?.[1]) - Number(path?.[3]), Number(path?.[2]) - Number(path?.[4]));
    };
    expect(wall(100)).toBeCloseTo(120, 1);
    expect(wall(200)).toBeCloseTo(60, 1);
  });

  it('draws scale bars that measure what they say', () => {
    const svg = drawSite(INVENTED_HOUSE, { ...VIEW, medium: { kind: 'print', paper: 'letter', scale: 200 } });
    const bars = /<g class="scale-bars">.*?<\/g>/.exec(svg)?.[0] ?? '';
    const widths = [...bars.matchAll(/d="M[\d.]+ [\d.]+h([\d.]+)v/g)].map((match) => Number(match[1]));
    const labels = [...bars.matchAll(/>([\d.]+) (m|ft)</g)].map(
      (match) => [Number(match[1]), match[2]] as const,
    );
    expect(labels.map(([, unit]) => unit)).toEqual(['m', 'ft']);
    expect(widths[0]).toBeCloseTo((labels[0]?.[0] ?? 0) * 5, 1);
    expect(widths[2]).toBeCloseTo((labels[1]?.[0] ?? 0) * 5 * 0.3048, 1);
  });

  it('says when the site does not fit the sheet at the scale asked for, and which scale does', () => {
    const large = { ...INVENTED_HOUSE, fences: [{ id: 'far', path: [at(0, 0), at(70, 40)] }] };
    const draw = (scale: number | 'fit') =>
      drawSite(large, { ...VIEW, medium: { kind: 'print', paper: 'letter', scale } });
    expect(draw(100)).toContain('Not all of the site fits on this sheet: print at 1:500.');
    expect(draw('fit')).toContain('1:500');
    expect(draw('fit')).not.toContain('Not all of the site');
  });

  it('says where each station stands on the sheet, as its drawing does', () => {
    for (const medium of MEDIA)
      for (const turnDegrees of [0, 217]) {
        const drawing = layOutSite(INVENTED_HOUSE, { ...VIEW, medium, turnDegrees });
        const { a, b, c, d, e, f } = drawing.metresToSheet;
        for (const [index, { id, number, x, y, radius }] of drawing.stations.entries()) {
          const station = INVENTED_HOUSE.stations[index];
          expect([id, number]).toEqual([station?.id, station?.number]);
          const { x: east, y: north } = station?.at ?? at(0, 0);
          expect(x).toBeCloseTo(a * east + c * north + e, 9);
          expect(y).toBeCloseTo(b * east + d * north + f, 9);
          // The mark's own box is placed round the same spot.
          const svg = drawSite(INVENTED_HOUSE, { ...VIEW, medium, turnDegrees });
          const place = new RegExp(
            `data-station="${id}"[^>]*>.*?translate\\(([-\\d.]+) ([-\\d.]+)\\) scale`,
          ).exec(svg);
          expect(Number(place?.[1]) + radius).toBeCloseTo(x, 1);
          expect(Number(place?.[2]) + radius).toBeCloseTo(y, 1);
        }
      }
  });

  it('leaves out its heading where the page has one, and takes the room', () => {
    const bare = layOutSite(INVENTED_HOUSE, { ...VIEW, heading: false, legend: false });
    const full = layOutSite(INVENTED_HOUSE, VIEW);
    expect(bare.unitsPerMetre).toBeGreaterThan(full.unitsPerMetre);
    expect(drawSite(INVENTED_HOUSE, { ...VIEW, heading: false })).not.toMatch(
      /<text[^>]*>Invented house, 12/,
    );
  });

  it('takes no more of a screen than the site needs, at the same size', () => {
    const medium = { kind: 'screen', width: 900, height: 2000 } as const;
    const loose = layOutSite(INVENTED_HOUSE, { ...VIEW, medium });
    const snug = layOutSite(INVENTED_HOUSE, { ...VIEW, medium: { ...medium, isSnug: true } });
    expect(snug.height).toBeLessThan(1200);
    expect(snug.unitsPerMetre).toBeCloseTo(loose.unitsPerMetre, 1);
    expectNoOverlap(INVENTED_HOUSE, { ...VIEW, medium: { ...medium, isSnug: true } });
  });

  it('shows the window that is asked for, whatever is drawn in it', () => {
    const window = { left: -5, right: 15, top: -4, bottom: 8 };
    const medium: Medium = { kind: 'screen', width: 900, height: 700, window };
    const one = layOutSite(INVENTED_HOUSE, { ...VIEW, medium });
    const other = layOutSite({ ...EMPTY_SITE, parking: at(300, 300) }, { ...VIEW, medium, legend: false });
    const { a, d } = other.metresToSheet;
    expect(one.metresToSheet.a).toBeCloseTo(one.unitsPerMetre, 9);
    expect(a).toBeCloseTo(-d, 9);
    expect(a).toBeCloseTo(Math.min((900 - 24) / 20, 616.8 / 12), 0);
    expect(layOutSite(EMPTY_SITE, { ...VIEW, medium, legend: false }).metresToSheet).toEqual(
      other.metresToSheet,
    );
  });

  it('leaves out the labels and nothing else while something moves', () => {
    const whole = layOutSite(INVENTED_HOUSE, VIEW);
    const bare = layOutSite(INVENTED_HOUSE, { ...VIEW, labels: false });
    const [site, ...furniture] = whole.shapes;
    if (site?.kind !== 'group') throw new Error('the site is a group');
    const shapes = site.shapes.filter((shape) => !(shape.kind === 'group' && shape.name === 'labels'));
    expect(shapes).toHaveLength(site.shapes.length - 1);
    expect(bare).toEqual({ ...whole, shapes: [{ ...site, shapes }, ...furniture] });
  });

  it('shows no scale where nothing was measured', () => {
    const svg = drawSite(INVENTED_HOUSE, { ...VIEW, scaleBars: false });
    expect(svg).not.toMatch(/scale-bars|class="north"/);
  });

  it('fills the room that a page leaves, to scale', () => {
    const paper = { widthMillimetres: 170, heightMillimetres: 120 };
    const drawing = layOutSite(INVENTED_HOUSE, { ...VIEW, medium: { kind: 'print', paper, scale: 'fit' } });
    expect([drawing.width, drawing.height, drawing.scale]).toEqual([170, 120, 500]);
    expect(drawing.unitsPerMetre).toBe(2);
  });

  it('speaks Spanish to the last word', () => {
    const { texts } = readXml(drawSite(INVENTED_HOUSE, { ...VIEW, words: SPANISH }));
    const english = new Set<string>(
      [ENGLISH.marks, ENGLISH.surfaces, ENGLISH.plantings, ENGLISH.concerns].flatMap((table) =>
        Object.values(table),
      ),
    );
    const spanish = new Set<string>([SPANISH.surfaces.patio]);
    expect(texts.filter((text) => english.has(text) && !spanish.has(text))).toEqual([]);
    expect(texts).toContain('Estación 3: comiendo cebo: no tocar');
  });

  it('draws an empty site', () => {
    expect(readXml(drawSite(EMPTY_SITE, VIEW)).texts).toContain('Site diagram');
  });

  it('uses black and white only where the contrast is high', () => {
    const colours = drawSite(INVENTED_HOUSE, { ...VIEW, contrast: 'high' }).match(/#[0-9a-f]{6}/g) ?? [];
    expect(new Set(colours)).toEqual(new Set(['#000000', '#ffffff']));
  });
});

describe('marks', () => {
  it('are told apart without colour: no two have the same shapes', () => {
    const shapes = STATION_MARK_KINDS.map((kind) => JSON.stringify(STATION_MARK_PARTS[kind]));
    expect(new Set(shapes).size).toBe(STATION_MARK_KINDS.length);
  });
});
