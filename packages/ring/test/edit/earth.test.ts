import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  applyEdit,
  type EarthMark,
  fitEarth,
  listThings,
  placeByBearing,
  placeByMarks,
  ringsOf,
  type Site,
  siteFromGeoJson,
  siteToGeoJson,
  tangentPlane,
} from '../../src/index.ts';
import { houseOf, rectangle, SHAPES } from '../placement/support/sites.ts';

/**
 * Geodesics on WGS 84 between places one property apart: from, to (latitude, longitude, degrees), metres, azimuth at the start.
 * GeographicLib (C. Karney, Algorithms for geodesics, 2013; npm geographiclib-geodesic 2.2.0), accurate to nanometres.
 */
const GEODESICS = [
  [33.75, -84.39, 33.7503, -84.3896, 49.8079, 48.08126],
  [45, 7, 45.0004, 7.0005, 59.4158, 41.56832],
  [-33.9, 151.2, -33.9002, 151.2006, 59.7654, 111.78898],
  [60.17, 24.94, 60.1705, 24.9392, 71.2434, 321.43827],
] as const;

const HOUSE = houseOf(rectangle(2, 3, 12, 8));

describe('placing a drawing on the earth', () => {
  it.each(GEODESICS)(
    'turns a wall of the geodesic from %d, %d to %d, %d by its azimuth, and both ways of placing agree',
    (latitude, longitude, latitude2, longitude2, lengthMetres, azimuth) => {
      // Drawn due east, as one draws a wall before anybody knows where north is.
      const from = { x: 5, y: 1 };
      const to = { x: 5 + lengthMetres, y: 1 };
      const fit = fitEarth([
        { at: from, latitude, longitude },
        { at: to, latitude: latitude2, longitude: longitude2 },
      ]);
      if (fit === undefined) throw new Error('two places');
      expect(Math.max(...fit.residualsMetres)).toBeLessThan(0.001);
      expect(Math.abs(fit.scale - 1)).toBeLessThan(2e-5);
      expect(Math.abs(fit.turnDegrees - (azimuth > 270 ? azimuth - 450 : azimuth - 90))).toBeLessThan(0.001);
      const placed = placeByBearing(HOUSE, { at: from, latitude, longitude }, [from, to], azimuth);
      if (!placed.ok) throw new Error(placed.fault);
      const origin = placed.edit.georeference;
      expect(origin?.latitude).toBeCloseTo(fit.origin.latitude, 7);
      expect(origin?.longitude).toBeCloseTo(fit.origin.longitude, 7);
    },
  );

  /** The same library, the other way: 42.5 m at 37° from 33.75, -84.39 and 60 m at 120° from 45, 7. */
  it.each([
    [33.75, -84.39, 37, 42.5, 33.7503060099, -84.3897239506],
    [45, 7, 120, 60, 44.9997300483, 7.0006590154],
  ])(
    'puts the far end of a wall where the geodesic ends',
    (latitude, longitude, azimuth, length, lat2, lon2) => {
      const site: Site = { ...HOUSE, parking: { x: 0, y: length } };
      const at = { x: 0, y: 0 };
      const placed = placeByBearing(site, { at, latitude, longitude }, [at, { x: 0, y: 1 }], azimuth);
      if (!placed.ok) throw new Error(placed.fault);
      const { parking, georeference } = applyEdit(site, placed.edit);
      if (parking === undefined || georeference === undefined) throw new Error('both are there');
      const there = tangentPlane(georeference).toDegrees(parking);
      expect(there.latitude).toBeCloseTo(lat2, 8);
      expect(there.longitude).toBeCloseTo(lon2, 8);
    },
  );

  it('finds any turn and shift again, whichever corners are named', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -179, max: 179, noNaN: true }),
        fc.double({ min: -70, max: 70, noNaN: true }),
        fc.double({ min: -180, max: 180, noNaN: true }),
        (longitude, latitude, turn) => {
          const plane = tangentPlane({ longitude, latitude });
          const radians = (turn * Math.PI) / 180;
          const marks = (HOUSE.structures[0]?.outline ?? []).map((at): EarthMark => {
            const x = at.x * Math.cos(radians) + at.y * Math.sin(radians);
            const y = at.y * Math.cos(radians) - at.x * Math.sin(radians);
            return { at, ...plane.toDegrees({ x, y }) };
          });
          const fit = fitEarth(marks);
          expect(fit?.rmsMetres).toBeLessThan(1e-4);
          expect(Math.abs(((((fit?.turnDegrees ?? 0) - turn) % 360) + 540) % 360) - 180).toBeCloseTo(0, 3);
        },
      ),
    );
  });

  it('shows what is left over, and refuses lengths that do not fit', () => {
    const plane = tangentPlane({ longitude: 7, latitude: 45 });
    const mark = (at: { x: number; y: number }, x: number): EarthMark => ({
      at,
      ...plane.toDegrees({ x, y: 0 }),
    });
    const fit = fitEarth([mark({ x: 0, y: 0 }, 0), mark({ x: 10, y: 0 }, 10.2)]);
    expect(fit?.residualsMetres[0]).toBeCloseTo(0.1, 4);
    expect(fit?.rmsMetres).toBeCloseTo(0.1, 4);
    expect(placeByMarks(HOUSE, [mark({ x: 0, y: 0 }, 0), mark({ x: 10, y: 0 }, 31)])).toEqual({
      ok: false,
      fault: 'does not fit',
    });
    expect(placeByMarks(HOUSE, [mark({ x: 0, y: 0 }, 0), mark({ x: 0, y: 0 }, 0)])).toEqual({
      ok: false,
      fault: 'same place twice',
    });
  });

  /** RFC 7946: written and read again, a placed drawing has its corners where they were to 0.2 mm. */
  it('goes through GeoJSON and back', () => {
    for (const shape of Object.values(SHAPES)) {
      const at = { x: 0, y: 0 };
      const placed = placeByBearing(
        shape,
        { at, latitude: 41.9, longitude: 12.5 },
        [at, { x: 1, y: 1 }],
        200,
      );
      if (!placed.ok) throw new Error(placed.fault);
      const site = applyEdit(shape, placed.edit);
      const read = siteFromGeoJson(JSON.stringify(siteToGeoJson(site)));
      if (!read.ok) throw new Error('refused');
      const corners = (one: Site) =>
        listThings(one).flatMap((thing) => ringsOf(thing).flatMap(({ points }) => points));
      const after = corners(read.site);
      expect(after).toHaveLength(corners(site).length);
      for (const { x, y } of corners(site))
        expect(Math.min(...after.map((other) => Math.hypot(other.x - x, other.y - y)))).toBeLessThan(0.0002);
    }
  });
});
