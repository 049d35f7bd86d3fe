import { existsSync, readFileSync } from 'node:fs';
import {
  applyEdit,
  beginDraft,
  checkSite,
  EMPTY_SITE,
  listThings,
  moveCorner,
  NO_PEN,
  recordEdit,
  type Site,
  siteFromGeoJson,
  siteOfDraft,
  siteToGeoJson,
} from '@sillwatch/ring';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { BRUSHES, shapeOf, thingDrawn } from '../../src/desk/drawing/model/brush.ts';
import { importFeatures, listFeatures, nearestFirst } from '../../src/desk/drawing/model/importFile.ts';
import { textToWork, workToText } from '../../src/desk/drawing/model/keep.ts';
import { labelLengthText } from '../../src/desk/drawing/model/names.ts';
import { hitAt, stillThere, wholeOf } from '../../src/desk/drawing/model/selection.ts';
import { shifted, wholeWindow, zoomed } from '../../src/desk/drawing/model/window.ts';
import { leftOver } from '../../src/desk/drawing/storing.ts';

const HOUSE: Site = {
  ...EMPTY_SITE,
  structures: [
    {
      id: 'house',
      name: 'House',
      foundation: 'slab',
      outline: [
        { x: 0, y: 0 },
        { x: 12, y: 0 },
        { x: 12, y: 8 },
        { x: 0, y: 8 },
      ],
      holes: [],
    },
  ],
  parking: { x: 6, y: 4 },
};
const NAMING = { newId: () => 'fresh', unnamed: 'Structure' };
const all = (text: string) => new Set(listFeatures(text).map(({ index }) => index));

describe('the brush', () => {
  it('draws a thing of every kind that the drawing can tell and check', () => {
    for (const brush of BRUSHES) {
      if (brush === 'courtyard' || brush === 'station') continue;
      const places = [
        { x: 20, y: 0 },
        { x: 24, y: 0 },
        { x: 24, y: 3 },
      ];
      const points = shapeOf(brush) === 'place' ? places.slice(0, 1) : places;
      const thing = thingDrawn(brush, { id: 'new', name: 'Shed', clearanceMetres: 1 }, points);
      if (thing === undefined) throw new Error(brush);
      const site = applyEdit(HOUSE, { deed: 'drawn', put: [thing], take: [] });
      expect(checkSite(site), brush).toEqual([]);
      expect(listThings(site)).toHaveLength(brush === 'parking' ? 2 : 3);
    }
  });

  it('makes up no clearance', () => {
    for (const brush of ['well', 'drain', 'utility_line'] as const)
      expect(thingDrawn(brush, { id: 'w', name: '', clearanceMetres: null }, [{ x: 0, y: 0 }])).toBe(
        undefined,
      );
  });
});

describe('a number of the label', () => {
  it('is never rounded: the unit that says it exactly comes first', () => {
    expect(labelLengthText(10 * 0.3048, 'ft')).toBe("10'");
    expect(labelLengthText(3, 'm')).toBe('3 m');
    // By hand: 3 m / 0.0254 m = 118.11 in = 9 ft 10.11 in, and 10.125 is the nearest eighth.
    expect(labelLengthText(3, 'ft')).toBe(`3 m (9' 10 1/8")`);
    expect(labelLengthText(10 * 0.3048, 'm')).toBe("10' (3.05 m)");
  });
});

describe('a press', () => {
  const press = (x: number, y: number, selected = false) =>
    hitAt(HOUSE, { x, y }, 0.4, selected ? wholeOf('house') : null);

  it('finds corners and middles of what is selected, places before grounds, walls from outside', () => {
    expect(press(0.1, 0.1, true)).toEqual({ kind: 'corner', corner: { id: 'house', ring: 0, index: 0 } });
    expect(press(0.1, 0.1)).toEqual({ kind: 'thing', id: 'house' });
    expect(press(6, 0.1, true)).toEqual({ kind: 'middle', corner: { id: 'house', ring: 0, index: 0 } });
    expect(press(6.1, 4)).toEqual({ kind: 'thing', id: 'parking' });
    expect(press(3, 3)).toEqual({ kind: 'thing', id: 'house' });
    expect(press(3, -0.3)).toEqual({ kind: 'thing', id: 'house' });
    expect(press(3, -3)).toBe(undefined);
  });

  it('lets go of what is gone', () => {
    expect(stillThere(EMPTY_SITE, wholeOf('house'))).toBe(null);
    expect(stillThere(HOUSE, { id: 'house', corner: { ring: 0, index: 9 } })).toEqual(wholeOf('house'));
  });
});

describe('the view', () => {
  it('keeps the place under the finger where it is, and goes there and back', () => {
    const number = fc.double({ min: -50, max: 50, noNaN: true });
    fc.assert(
      fc.property(number, number, fc.double({ min: 0.5, max: 2, noNaN: true }), (x, y, factor) => {
        const window = wholeWindow(HOUSE);
        const near = zoomed(window, factor, { x, y });
        const share = (box: typeof window) => (x - box.left) / (box.right - box.left);
        expect(share(near)).toBeCloseTo(share(window), 6);
        expect(zoomed(near, 1 / factor, { x, y }).left).toBeCloseTo(window.left, 6);
        expect(shifted(shifted(window, x, y), -x, -y).top).toBeCloseTo(window.top, 6);
      }),
    );
  });
});

describe('what is kept on the device', () => {
  const moved = moveCorner(HOUSE, { id: 'house', ring: 0, index: 2 }, { x: 13, y: 8 });
  if (!moved.ok) throw new Error(moved.fault);
  const draft = recordEdit(beginDraft(HOUSE), moved.edit);

  it('is the drawing, the edits and the pen', () => {
    const work = { draft, brush: 'drive', pen: { corners: [{ x: 1, y: 2 }] } } as const;
    const read = textToWork(workToText(work));
    expect(read?.draft.edits).toEqual(draft.edits);
    expect(read === undefined ? undefined : siteOfDraft(read.draft).structures).toEqual(
      siteOfDraft(draft).structures,
    );
    expect([read?.brush, read?.pen]).toEqual([work.brush, work.pen]);
  });

  it('is passed over, and not crashed on, when the text was cut or is of another version', () => {
    const whole = workToText({ draft, brush: null, pen: NO_PEN });
    for (let length = 0; length < whole.length; length += 7)
      expect(textToWork(whole.slice(0, length))).toBe(undefined);
    expect(textToWork(whole.replace('"version":1', '"version":2'))).toBe(undefined);
    expect(textToWork(whole.replace('"outline":[', '"outline":7,"x":['))).toBe(undefined);
    expect(textToWork(whole.replaceAll('"deed":"reshaped"', '"deed":"burnt"'))).toBe(undefined);
  });

  it('leaves the stations that nobody set on the drawing after the rest was stored', () => {
    const station = { id: 'n', number: 1, at: { x: -1, y: 2 }, structureId: 'house' };
    const more = recordEdit(draft, {
      deed: 'stations taken over',
      put: [{ layer: 'stations', value: station }],
      take: [],
    });
    expect(leftOver(more, siteOfDraft(draft)).map(({ value }) => value)).toEqual([station]);
    expect(leftOver(more, siteOfDraft(more))).toEqual([]);
  });
});

describe('a GeoJSON file brought in', () => {
  const placed: Site = { ...HOUSE, georeference: { longitude: -84.39, latitude: 33.75 } };
  const text = JSON.stringify(siteToGeoJson(placed));

  it('gives its place to a drawing that has none, and goes onto the plane of one that has', () => {
    const fresh = importFeatures(EMPTY_SITE, text, all(text), NAMING);
    if (!fresh.ok) throw new Error('refused');
    expect(fresh.result.edit.georeference).toEqual(placed.georeference);
    const other: Site = { ...EMPTY_SITE, georeference: { longitude: -84.3901, latitude: 33.75 } };
    const beside = importFeatures(other, text, all(text), NAMING);
    if (!beside.ok) throw new Error('refused');
    const [house] = applyEdit(other, beside.result.edit).structures;
    // 0.0001 degree of longitude at 33.75: 9.26 m by the radii of WGS 84 (NGA.STND.0036).
    expect(house?.outline[0]?.x).toBeCloseTo(9.265, 2);
    expect(house?.outline[0]?.y).toBeCloseTo(0, 4);
  });

  it('is refused for a drawing from nowhere with things on it, and for one far away', () => {
    expect(importFeatures(HOUSE, text, all(text), NAMING)).toEqual({ ok: false, why: 'no place' });
    const far = { ...placed, georeference: { longitude: -84.39, latitude: 34.75 } };
    expect(importFeatures(far, text, all(text), NAMING)).toEqual({ ok: false, why: 'far' });
  });

  it('lists what is nearest first, each with its place', () => {
    const listed = listFeatures(text);
    expect(listed.map(({ name }) => name)).toEqual(['House, structure, house', 'parking, parking']);
    expect(listed[0]?.at?.latitude).toBeCloseTo(33.75, 6);
    const near = { index: 2, name: '', at: { longitude: -84.39, latitude: 33.7501 } };
    const far = { index: 3, name: '', at: { longitude: 12, latitude: 41 } };
    expect(nearestFirst([far, near], placed.georeference).map(({ index }) => index)).toEqual([2, 3]);
    expect(nearestFirst([far, near], undefined).map(({ index }) => index)).toEqual([3, 2]);
  });

  it('names the feature at fault by its place in the whole file', () => {
    const broken = JSON.parse(text);
    broken.features.push({
      type: 'Feature',
      properties: { kind: 'castle' },
      geometry: { type: 'Point', coordinates: [0, 0] },
    });
    const result = importFeatures(EMPTY_SITE, JSON.stringify(broken), new Set([2]), NAMING);
    expect(result).toMatchObject({
      refusals: [{ fault: 'unknown_kind', path: 'features[2].properties.kind', found: 'castle' }],
    });
    expect(importFeatures(EMPTY_SITE, 'no json', new Set(), NAMING)).toMatchObject({
      refusals: [{ fault: 'not_json' }],
    });
  });

  /** 735 outlines of OpenStreetMap (ODbL 1.0), beside the project: skipped where they are not there. */
  const file = new URL('../../../../../shared/data/footprints/houses.geojson', import.meta.url);
  it.skipIf(!existsSync(file))('takes any one real building out of a file of many', () => {
    const many = readFileSync(file, 'utf8');
    const features = listFeatures(many);
    expect(features.length).toBeGreaterThan(700);
    for (let index = 0; index < features.length; index += 60) {
      const result = importFeatures(EMPTY_SITE, many, new Set([index]), NAMING);
      if (!result.ok) throw new Error(JSON.stringify(result));
      const site = applyEdit(EMPTY_SITE, result.result.edit);
      expect(site.structures).toHaveLength(1);
      expect(site.structures[0]?.name).not.toBe('');
      expect(checkSite(site)).toEqual([]);
      expect(siteFromGeoJson(JSON.stringify(siteToGeoJson(site))).ok).toBe(true);
    }
  });
});
