import { readdirSync, readFileSync } from 'node:fs';
import { metres } from '@sillwatch/trade/units';
import { describe, expect, it } from 'vitest';
import {
  checkSite,
  NOWHERE,
  type Point,
  type Site,
  siteFromGeoJson,
  siteToGeoJson,
  tangentPlane,
} from '../../src/index.ts';
import { signedArea } from '../../src/site/plane.ts';
import { rectangle } from '../placement/support/sites.ts';

const full: Site = {
  name: 'Invented house',
  georeference: { longitude: -95.5, latitude: 29.75 },
  structures: [
    {
      id: 'house',
      name: 'House',
      foundation: 'crawl space',
      outline: rectangle(0, 0, 20, 14),
      holes: [rectangle(6, 5, 6, 4)],
    },
  ],
  hardSurfaces: [{ id: 'drive', kind: 'drive', outline: rectangle(3, -8, 4, 8) }],
  keepOuts: [
    {
      id: 'gas',
      kind: 'utility_line',
      path: [
        { x: -5, y: 3 },
        { x: 0, y: 3 },
      ],
      clearanceMetres: metres(0.6),
    },
    { id: 'well', kind: 'well', at: { x: 25, y: 2 }, clearanceMetres: metres(3) },
    { id: 'soil', kind: 'treated_soil', outline: rectangle(8, 14, 4, 1) },
  ],
  plantings: [{ id: 'roses', kind: 'planting', outline: rectangle(0, 14.5, 4, 1) }],
  concerns: [{ id: 'stump', kind: 'stump', at: { x: -3, y: -3 }, note: 'old oak' }],
  fences: [
    {
      id: 'fence',
      path: [
        { x: -6, y: -6 },
        { x: 26, y: -6 },
      ],
    },
  ],
  gates: [{ id: 'gate', at: { x: 4, y: -6 }, widthMetres: metres(1) }],
  stations: [{ id: 'st', number: 1, at: { x: -0.7, y: 1 }, structureId: 'house' }],
  parking: { x: 12, y: -9 },
};

function numbersOf(value: unknown): readonly number[] {
  if (typeof value === 'number') return [value];
  return typeof value === 'object' && value !== null ? Object.values(value).flatMap(numbersOf) : [];
}

describe('a site as GeoJSON (RFC 7946)', () => {
  it('comes back as it went, to a tenth of a millimetre', () => {
    const written = siteToGeoJson(full);
    const read = siteFromGeoJson(JSON.stringify(written));
    if (!read.ok) throw new Error(JSON.stringify(read.refusals));
    const before = numbersOf(full);
    const after = numbersOf(read.site);
    // Holes are turned clockwise on the way out: compare what they enclose, and all else number by number.
    expect(after.length).toBe(before.length);
    expect(read.site.structures[0]?.outline.length).toBe(4);
    expect(Math.abs(signedArea(read.site.structures[0]?.holes[0] ?? []))).toBeCloseTo(24, 2);
    const strip = (site: Site) =>
      numbersOf({ ...site, structures: site.structures.map(({ outline }) => outline) });
    strip(read.site).forEach((value, index) => {
      expect(Math.abs(value - (strip(full)[index] ?? Number.NaN))).toBeLessThan(1e-4);
    });
    expect(read.site.name).toBe(full.name);
    expect(read.site.structures[0]?.foundation).toBe('crawl space');
  });

  it('comes back from longitude 0, latitude 0 where it lies nowhere, and says so', () => {
    const written = siteToGeoJson({ ...full, georeference: undefined });
    expect(written.site).toMatchObject({
      origin: [NOWHERE.longitude, NOWHERE.latitude],
      placed: false,
      note: expect.stringContaining('no position on the earth'),
    });
    const read = siteFromGeoJson(JSON.stringify(written));
    if (!read.ok) throw new Error(JSON.stringify(read.refusals));
    expect(read.site.georeference).toBeUndefined();
    expect(read.site.parking?.y).toBeCloseTo(-9, 3);
    expect(read.site.concerns[0]?.note).toBe('old oak');
    // A second trip writes the very same file.
    expect(siteToGeoJson(read.site)).toEqual(written);
  });

  it('closes rings, winds the outer one counter-clockwise and holes clockwise (RFC 7946, section 3.1.6)', () => {
    const house = siteToGeoJson(full).features.find(({ id }) => id === 'house');
    if (house?.geometry.type !== 'Polygon') throw new Error('no polygon');
    const areas = house.geometry.coordinates.map((ring) => {
      expect(ring[0]).toEqual(ring[ring.length - 1]);
      return signedArea(ring.slice(0, -1).map(([x, y]): Point => ({ x, y })));
    });
    expect(areas.map(Math.sign)).toEqual([1, -1]);
  });

  it('has the metres of a degree that the tables give (WGS 84; Snyder, Map Projections: A Working Manual, table 3: from memory)', () => {
    // 1 degree of latitude: 110,574 m at the equator, 111,132 m at 45; of longitude: 111,320 m and 78,847 m.
    const cases = [
      [0, 110_574, 111_320],
      [45, 111_132, 78_847],
    ] as const;
    for (const [latitude, north, east] of cases) {
      const { x, y } = tangentPlane({ longitude: 10, latitude }).toMetres(11, latitude + 1);
      expect(Math.abs(y - north)).toBeLessThan(1.5);
      expect(Math.abs(x - east)).toBeLessThan(1.5);
    }
  });

  it('lies across the antimeridian without a jump', () => {
    const plane = tangentPlane({ longitude: 179.9999, latitude: -17 });
    expect(Math.abs(plane.toMetres(-179.9999, -17).x)).toBeLessThan(30);
    expect(plane.toDegrees({ x: 100, y: 0 }).longitude).toBeLessThan(-179);
  });

  it('is refused with the place in the document', () => {
    const withFeature = (feature: unknown) => {
      const read = siteFromGeoJson(
        JSON.stringify({ type: 'FeatureCollection', site: { origin: [10, 50] }, features: [feature] }),
      );
      return read.ok ? [] : read.refusals.map(({ fault, path }) => `${fault} ${path}`);
    };
    const polygon = (ring: unknown) => ({
      type: 'Feature',
      properties: { kind: 'structure' },
      geometry: { type: 'Polygon', coordinates: [ring] },
    });
    expect(
      withFeature(
        polygon([
          [10, 50],
          [10, 50.1],
          [10.1, 50],
        ]),
      ),
    ).toEqual(['ring_not_closed features[0].geometry.coordinates[0]']);
    expect(
      withFeature(
        polygon([
          [10, 50],
          [10, 500],
          [10, 50],
        ]),
      ),
    ).toEqual(['position_out_of_range features[0].geometry.coordinates[0][1]']);
    expect(
      withFeature({
        type: 'Feature',
        properties: { kind: 'castle' },
        geometry: { type: 'Point', coordinates: [1, 2] },
      }),
    ).toEqual(['unknown_kind features[0].properties.kind']);
    expect(
      withFeature({
        type: 'Feature',
        properties: { kind: 'well' },
        geometry: { type: 'Point', coordinates: [1, 2] },
      }),
    ).toEqual(['missing_property features[0].properties.clearanceMetres']);
    expect(
      withFeature({
        type: 'Feature',
        properties: { kind: 'fence' },
        geometry: { type: 'Point', coordinates: [1, 2] },
      }),
    ).toEqual(['wrong_geometry features[0].geometry.type']);
    for (const text of ['', '{', '[]', '{"type":"Feature"}', 'null'])
      expect(siteFromGeoJson(text).ok, text).toBe(false);
  });

  it('reads and passes every sample of the package, which are invented', () => {
    const folder = new URL('../../samples/', import.meta.url);
    const files = readdirSync(folder).filter((name) => name.endsWith('.geojson'));
    expect(files.length).toBeGreaterThan(2);
    for (const name of files) {
      const read = siteFromGeoJson(readFileSync(new URL(name, folder), 'utf8'));
      expect(read.ok ? checkSite(read.site) : read.refusals, name).toEqual([]);
      expect(read.ok && read.site.name).toMatch(/invented/i);
    }
  });
});
