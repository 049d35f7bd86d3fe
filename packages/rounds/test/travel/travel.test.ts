import type { Place } from '@sillwatch/trade';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { GREAT_CIRCLE, greatCircleMetres, greatCircleTravel } from '../../src/plan/travel.ts';
import { greatCircleTable, nearPlaces, roadTable, tableTravel } from '../../src/travel/index.ts';

const at = (latitude: number, longitude: number): Place => ({ latitude, longitude });
const dms = (degrees: number, minutes: number, seconds: number): number =>
  Math.sign(degrees) * (Math.abs(degrees) + minutes / 60 + seconds / 3600);

describe('the great circle', () => {
  // A sphere of the mean radius is off by up to 0.56 % where the geodesic of the ellipsoid is meant.
  it.each([
    // ICSM, Geocentric Datum of Australia Technical Manual, worked example of Vincenty's formulae (from memory).
    [
      'Flinders Peak to Buninyong',
      at(dms(-37, 57, 3.7203), dms(144, 25, 29.5244)),
      at(dms(-37, 39, 10.1561), dms(143, 55, 35.3839)),
      54_972.271,
    ],
    // Karney 2013, Algorithms for geodesics, Journal of Geodesy 87, tables 2 to 4 (from memory).
    ['10,000 km from latitude 40', at(40, 0), at(41.793_310_205_06, 137.844_900_043_77), 10_000_000],
    ['five metres', at(-30.123_45, 0), at(-30.123_44, 0.000_05), 4.944_208],
    ['nearly antipodal', at(-30, 0), at(29.9, 179.8), 19_989_832.827_61],
  ])('agrees with the published geodesic: %s', (_, from, to, metres) => {
    expect(Math.abs(greatCircleMetres(from, to) / metres - 1)).toBeLessThan(0.0056);
    expect(greatCircleMetres(to, from)).toBeCloseTo(greatCircleMetres(from, to), 6);
  });
});

const town = fc.array(
  fc.record({
    latitude: fc.double({ min: 31, max: 31.4, noNaN: true }),
    longitude: fc.double({ min: -48, max: -47.5, noNaN: true }),
  }),
  { minLength: 1, maxLength: 60 },
);

describe('near places', () => {
  it('are the nearest ones, as sorting all of them finds', () => {
    fc.assert(
      fc.property(town, fc.integer({ min: 1, max: 12 }), (places, most) => {
        const near = nearPlaces(places, most);
        expect(near).toHaveLength(places.length);
        places.forEach((from, p) => {
          const all = places
            .map((to, q) => ({ q, metres: greatCircleMetres(from, to) }))
            .filter(({ q }) => q !== p)
            .sort((a, b) => a.metres - b.metres || a.q - b.q)
            .slice(0, most);
          expect([...(near[p] ?? [])]).toEqual(all.map(({ q }) => q).sort((a, b) => a - b));
        });
      }),
      { numRuns: 200 },
    );
  });
});

describe('a travel table', () => {
  const places = [at(31.2, -47.6), at(31.21, -47.6), at(31.2, -47.58), at(31.4, -47.2)];
  const road = roadTable(
    'road service',
    places,
    [
      { to: Int32Array.of(2, 1), seconds: Int32Array.of(300, 120), metres: Int32Array.of(2600, 1500) },
      { to: Int32Array.of(0), seconds: Int32Array.of(180), metres: Int32Array.of(1800) },
      { to: Int32Array.of(0), seconds: Int32Array.of(-1), metres: Int32Array.of(-1) },
      { to: new Int32Array(0), seconds: new Int32Array(0), metres: new Int32Array(0) },
    ],
    ['said'],
  );
  const travel = tableTravel(road)(places);

  it('answers near pairs as the source did, each way by itself', () => {
    expect([travel.seconds(0, 1), travel.metres(0, 1)]).toEqual([120, 1500]);
    expect([travel.seconds(1, 0), travel.metres(1, 0)]).toEqual([180, 1800]);
    expect([travel.seconds(0, 2), travel.metres(0, 2)]).toEqual([300, 2600]);
    expect(travel.source).toBe('road service');
  });

  it('estimates far and unknown pairs, scaled to agree with the near ones', () => {
    const plain = greatCircleTravel()(places);
    expect(road.metresFactor).toBeCloseTo(
      5900 / (plain.metres(0, 1) + plain.metres(1, 0) + plain.metres(0, 2)),
      9,
    );
    for (const [from, to] of [
      [2, 0],
      [0, 3],
      [3, 1],
    ] as const) {
      expect(travel.metres(from, to)).toBe(Math.round(plain.metres(from, to) * road.metresFactor));
      expect(travel.seconds(from, to)).toBe(Math.round(plain.seconds(from, to) * road.secondsFactor));
    }
  });

  it('finds places by where they are, in any order, and estimates one that it does not know', () => {
    const other = tableTravel(road)([at(31.3, -47.7), ...places.toReversed()]);
    expect(other.seconds(4, 3)).toBe(120);
    expect(other.seconds(0, 4)).toBeGreaterThan(600);
    expect(other.seconds(3, 3)).toBe(0);
  });

  it('bounds every pair', () => {
    fc.assert(
      fc.property(town, (some) => {
        const one = tableTravel(greatCircleTable(some))(some);
        for (let from = 0; from < some.length; from += 1)
          for (let to = 0; to < some.length; to += 1) {
            expect(one.seconds(from, to)).toBeLessThanOrEqual(one.mostSeconds);
            expect(one.metres(from, to)).toBeLessThanOrEqual(one.mostMetres);
          }
      }),
      { numRuns: 50 },
    );
  });

  it('without near pairs is the great circle times the detour', () => {
    const plain = tableTravel(greatCircleTable(places))(places);
    expect(plain.source).toBe('great circle');
    expect(plain.metres(0, 1)).toBe(
      Math.round(greatCircleMetres(places[0] ?? at(0, 0), places[1] ?? at(0, 0)) * GREAT_CIRCLE.detour),
    );
  });
});
