import { getDay } from '@sillwatch/trade';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { GREAT_CIRCLE, greatCircleMetres, greatCircleTravel, momentText } from '../../src/index.ts';

describe('great circles', () => {
  it.each([
    // A haversine example that circulates with two airports, N 36.12 W 86.67 and N 33.94 W 118.40: 2886.44 km on a sphere
    // of 6371.0 km (from memory); ours is 6371.0088 km.
    [{ latitude: 36.12, longitude: -86.67 }, { latitude: 33.94, longitude: -118.4 }, 2_886_448, 1],
    // A quarter of a meridian of a sphere of 6371.0088 km: exact.
    [{ latitude: 0, longitude: 0 }, { latitude: 90, longitude: 0 }, (Math.PI / 2) * 6_371_008.8, 0.001],
    // One degree along the equator.
    [
      { latitude: 0, longitude: 179.5 },
      { latitude: 0, longitude: -179.5 },
      (Math.PI / 180) * 6_371_008.8,
      0.001,
    ],
  ])('from %o to %o are %f m', (from, to, metres, within) => {
    expect(Math.abs(greatCircleMetres(from, to) - metres)).toBeLessThan(within);
  });

  it('are within the flattening of the Earth of published geodesics: at most 0.56 % off', () => {
    // Vincenty’s direct example over Australia, Flinders Peak to Buninyon, GRS 80 ellipsoid: 54,972.271 m (Geocentric Datum of
    // Australia Technical Manual, from memory).
    const flindersPeak = {
      latitude: -(37 + 57 / 60 + 3.7203 / 3600),
      longitude: 144 + 25 / 60 + 29.5244 / 3600,
    };
    const buninyon = {
      latitude: -(37 + 39 / 60 + 10.1561 / 3600),
      longitude: 143 + 55 / 60 + 35.3839 / 3600,
    };
    const off = greatCircleMetres(flindersPeak, buninyon) / 54_972.271 - 1;
    expect(Math.abs(off)).toBeLessThan(0.0056);
  });

  it('make travel that is whole, the same both ways, and never above its own most', () => {
    const place = fc.record({
      latitude: fc.double({ min: 25, max: 49, noNaN: true }),
      longitude: fc.double({ min: -124, max: -67, noNaN: true }),
    });
    fc.assert(
      fc.property(fc.array(place, { minLength: 2, maxLength: 6 }), (places) => {
        const travel = greatCircleTravel()(places);
        places.forEach((place, a) => {
          expect(travel.seconds(a, a)).toBe(0);
          places.forEach((there, b) => {
            const straight = greatCircleMetres(place, there);
            expect(Math.abs(travel.metres(a, b) - GREAT_CIRCLE.detour * straight)).toBeLessThan(0.51);
            expect(Number.isInteger(travel.seconds(a, b))).toBe(true);
            expect(travel.seconds(a, b)).toBe(travel.seconds(b, a));
            expect(travel.seconds(a, b)).toBeLessThanOrEqual(travel.mostSeconds);
            expect(travel.metres(a, b)).toBeLessThanOrEqual(travel.mostMetres);
          });
        });
      }),
    );
  });
});

describe('moments', () => {
  it('are written as RFC 3339 has them, past midnight and in half-hour zones', () => {
    const day = getDay('2026-12-31');
    expect(momentText(() => -300, 'x', day, 8 * 3600 + 61)).toBe('2026-12-31T08:01:01-05:00');
    expect(momentText(() => 330, 'x', day, 86_400 + 59)).toBe('2027-01-01T00:00:59+05:30');
    expect(momentText(() => 0, 'UTC', day, 0.9)).toBe('2026-12-31T00:00:00+00:00');
  });
});
