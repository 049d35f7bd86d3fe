import { metres } from '@sillwatch/trade/units';
import fc from 'fast-check';
import {
  addCourtyard,
  describeThing,
  drawThing,
  type EditResult,
  EMPTY_SITE,
  findThing,
  listThings,
  moveCorner,
  moveThing,
  placeByBearing,
  placeByMarks,
  removeCorner,
  removeThing,
  ringsOf,
  type Site,
  setWallLength,
  splitWall,
  type Thing,
  takeOverStations,
  turnThing,
} from '../../src/index.ts';
import { SHAPES } from '../placement/support/sites.ts';

/** A hand at work: numbers that say which deed, on which thing, where. Any numbers make some edit or a refusal. */
export interface Stroke {
  readonly deed: number;
  readonly thing: number;
  readonly corner: number;
  readonly x: number;
  readonly y: number;
}

const wild = fc.oneof(
  { weight: 8, arbitrary: fc.double({ min: -60, max: 60, noNaN: true }) },
  { weight: 1, arbitrary: fc.constantFrom(0, Number.NaN, Number.POSITIVE_INFINITY, 1e9, -1e-12) },
);

export const strokes = fc.array(
  fc.record<Stroke>({
    deed: fc.nat(11),
    thing: fc.nat(30),
    corner: fc.nat(12),
    x: wild,
    y: wild,
  }),
  { maxLength: 25 },
);

export const startSites = fc.constantFrom(
  EMPTY_SITE,
  ...['ell', 'courtyard', 'terrace'].map((name) => withStations(SHAPES[name] ?? EMPTY_SITE)),
);

function withStations(site: Site): Site {
  return {
    ...site,
    georeference: { longitude: -84.39, latitude: 33.75 },
    stations: site.structures.map(({ id }, index) => ({
      id: `station-${index}`,
      number: index + 1,
      at: { x: -0.6, y: index * 2 },
      structureId: id,
    })),
    gates: [{ id: 'gate', at: { x: -4, y: 0 }, widthMetres: metres(1) }],
    fences: [
      {
        id: 'fence',
        path: [
          { x: -4, y: -3 },
          { x: -4, y: 8 },
        ],
      },
    ],
    parking: { x: -8, y: 0 },
  };
}

export function evaluateStroke(site: Site, { deed, thing, corner, x, y }: Stroke, count: number): EditResult {
  const things = listThings(site);
  const id = things[thing % Math.max(1, things.length)]?.value.id ?? '';
  const found = findThing(site, id);
  const ring = found === undefined ? 0 : corner % ringsOf(found).length;
  const part = { id, ring, index: corner };
  switch (deed) {
    case 0:
      return moveCorner(site, part, { x, y });
    case 1:
      return moveThing(site, id, x, y);
    case 2:
      return turnThing(site, id, x);
    case 3:
      return setWallLength(site, part, Math.abs(y));
    case 4:
      return splitWall(site, part, { x, y });
    case 5:
      return removeCorner(site, part);
    case 6:
      return removeThing(site, id, new Set(['station-0']));
    case 7:
      return drawThing(site, newThing(count, x, y));
    case 8:
      return takeOverStations(site, [{ id: `new-${count}`, at: { x, y } }]);
    case 9:
      return addCourtyard(site, id, square(x, y, 1));
    case 10:
      return found === undefined ? moveThing(site, id, 0, 0) : describeThing(site, found);
    default:
      return corner % 2 === 0
        ? placeByBearing(
            site,
            { at: { x: 1, y: 2 }, longitude: x, latitude: y },
            [
              { x: 0, y: 0 },
              { x, y },
            ],
            y,
          )
        : placeByMarks(site, [
            { at: { x: 0, y: 0 }, longitude: x, latitude: y },
            { at: { x: 10, y: 0 }, longitude: x + 1e-4, latitude: y },
          ]);
  }
}

function newThing(count: number, x: number, y: number): Thing {
  const id = `thing-${count}`;
  const kinds: readonly Thing[] = [
    {
      layer: 'structures',
      value: { id, name: '', foundation: 'slab', outline: square(x, y, 3), holes: [] },
    },
    { layer: 'hardSurfaces', value: { id, kind: 'drive', outline: square(x, y, 2) } },
    { layer: 'keepOuts', value: { id, kind: 'well', at: { x, y }, clearanceMetres: metres(1) } },
    { layer: 'concerns', value: { id, kind: 'stump', at: { x, y } } },
    { layer: 'parking', value: { id: 'parking', at: { x, y } } },
  ];
  return kinds[count % kinds.length] ?? { layer: 'parking', value: { id: 'parking', at: { x, y } } };
}

function square(x: number, y: number, side: number) {
  return [
    { x, y },
    { x: x + side, y },
    { x: x + side, y: y + side },
    { x, y: y + side },
  ];
}
