import { metres } from '@sillwatch/trade/units';
import { describe, expect, it } from 'vitest';
import { checkSite, EMPTY_SITE, type Point, type Site, type SiteFault } from '../../src/index.ts';
import {
  houseOf,
  loadRealHouses,
  points,
  rectangle,
  SHAPES,
  seeded,
  withObstacles,
} from '../placement/support/sites.ts';

const house = houseOf(rectangle(0, 0, 12, 8));
const station = (id: string, number: number, at: Point) => ({ id, number, at });

const bad: readonly (readonly [what: string, site: Site, fault: SiteFault, at: Point])[] = [
  ['nothing drawn', EMPTY_SITE, 'no_structure', { x: 0, y: 0 }],
  ['a bow tie', houseOf(points('0,0 10,10 10,0 0,10')), 'outline_crosses_itself', { x: 5, y: 5 }],
  [
    'a wall that runs back on itself',
    houseOf(points('0,0 10,0 4,0 4,5 0,5')),
    'outline_crosses_itself',
    { x: 10, y: 0 },
  ],
  [
    'two corners in one place',
    houseOf(points('0,0 10,0 10,0 10,5 0,5')),
    'zero_length_wall',
    { x: 10, y: 0 },
  ],
  ['two corners', houseOf(points('0,0 10,0')), 'too_few_corners', { x: 0, y: 0 }],
  ['a 3-km house', houseOf(rectangle(0, 0, 3000, 8)), 'too_large', { x: 0, y: 0 }],
  ["a doll's house", houseOf(rectangle(0, 0, 0.3, 0.3)), 'too_small', { x: 0, y: 0 }],
  [
    'no number',
    houseOf([
      { x: 0, y: 0 },
      { x: Number.NaN, y: 0 },
      { x: 4, y: 4 },
    ]),
    'not_a_number',
    { x: 0, y: 0 },
  ],
  [
    'a courtyard outside',
    houseOf(rectangle(0, 0, 12, 8), [rectangle(20, 0, 2, 2)]),
    'hole_outside_outline',
    { x: 20, y: 0 },
  ],
  [
    'a station inside the house',
    { ...house, stations: [station('s', 1, { x: 3, y: 3 })] },
    'station_inside_structure',
    { x: 3, y: 3 },
  ],
  [
    'two stations in one hole',
    { ...house, stations: [station('s', 1, { x: -1, y: 3 }), station('t', 2, { x: -1, y: 3 })] },
    'stations_in_one_place',
    { x: -1, y: 3 },
  ],
  [
    'one number twice',
    { ...house, stations: [station('s', 1, { x: -1, y: 3 }), station('t', 1, { x: -1, y: 6 })] },
    'same_number_twice',
    { x: -1, y: 6 },
  ],
  [
    'stations in centimetres round a house in metres',
    { ...house, stations: [station('s', 1, { x: 1250, y: 300 })] },
    'probably_centimetres_or_millimetres',
    { x: 1250, y: 300 },
  ],
  [
    'a well without clearance',
    { ...house, keepOuts: [{ id: 'w', kind: 'well', at: { x: -3, y: 0 }, clearanceMetres: metres(0) }] },
    'clearance_out_of_range',
    { x: -3, y: 0 },
  ],
  [
    'a fence of one post',
    { ...house, fences: [{ id: 'f', path: [{ x: 1, y: -3 }] }] },
    'path_too_short',
    { x: 1, y: -3 },
  ],
  ['far from the origin', houseOf(rectangle(9000, 0, 12, 8)), 'too_far_from_origin', { x: 9000, y: 0 }],
  [
    'one id twice',
    { ...house, concerns: [{ id: 'house', kind: 'stump', at: { x: -2, y: 1 } }] },
    'same_id_twice',
    { x: -2, y: 1 },
  ],
  [
    'a place off the globe',
    { ...house, georeference: { longitude: 10, latitude: 97 } },
    'georeference_out_of_range',
    { x: 0, y: 0 },
  ],
];

describe('a drawing', () => {
  for (const [what, site, fault, at] of bad) {
    it(`is refused with a reason and a place: ${what}`, () => {
      const found = checkSite(site);
      expect(found.map((problem) => problem.fault)).toContain(fault);
      const place = found.find((problem) => problem.fault === fault)?.at;
      expect(place?.x).toBeCloseTo(at.x, 6);
      expect(place?.y).toBeCloseTo(at.y, 6);
    });
  }

  it('passes where it can be used', () => {
    for (const [name, site] of Object.entries(SHAPES)) {
      expect(checkSite(withObstacles(site, seeded(3), 4)), name).toEqual([]);
    }
  });

  const real = loadRealHouses();
  it.skipIf(real.length === 0)('passes for every real outline beside the project', () => {
    expect(real.flatMap(checkSite)).toEqual([]);
  });
});
