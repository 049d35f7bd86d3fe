import type { PropertyState, SiteBody, SitePoint } from '@sillwatch/trade';
import type { Chance } from './random.ts';

/** The least distance in metres from a station to a hard surface, a line or a spot that the demo draws. */
const CLEAR_METRES = 0.3;

/** A bounding box of the walls, and the x or y of the stations that stand before one of its sides. */
interface Yard {
  readonly west: number;
  readonly east: number;
  readonly south: number;
  readonly north: number;
  readonly stations: readonly SitePoint[];
}

/** Along a wall: free of stations, in metres from the yard's origin. */
interface Gap {
  readonly from: number;
  readonly to: number;
}

/**
 * Draws what lies round the structures of an invented property so that it agrees with them: the drive and the walk come
 * up from the street in the south between two stations, a patio lies behind, and no station stands on or in any of it.
 */
export function drawYard(chance: Chance, { property, structures, stations }: PropertyState): SiteBody {
  const walls = structures.flatMap(({ outline }) => outline ?? []);
  const yard: Yard = {
    west: Math.min(...walls.map(([x]) => x)),
    east: Math.max(...walls.map(([x]) => x)),
    south: Math.min(...walls.map(([, y]) => y)),
    north: Math.max(...walls.map(([, y]) => y)),
    stations: stations.flatMap(({ position, inService }) =>
      position === null || !inService ? [] : [position],
    ),
  };
  const street = yard.south - 9;
  const front = gapsAlong(yard, yard.south - 1.3, yard.south).toSorted((a, b) => width(b) - width(a));
  const [forDrive, forWalk, forLine] = front;
  const drive = forDrive === undefined ? [] : [strip(forDrive, 3, street, yard.south)];
  const walk = forWalk === undefined ? [] : [strip(forWalk, 1.2, street, yard.south)];
  const [behind] = gapsAlong(yard, yard.north, yard.north + 1.3).toSorted((a, b) => width(b) - width(a));
  // Where no wall reaches the north edge between two stations, the patio lies behind a bed, clear of all of them.
  const patio =
    behind !== undefined && width(behind) > 1.8
      ? strip(behind, 3.2, yard.north, yard.north + 3)
      : box(yard.west + 1, yard.north + 1.6, yard.west + 4, yard.north + 4.6);
  const edge = { west: yard.west - 6, east: yard.east + 6, north: yard.north + 11 };
  const hasWell = chance.happens(0.25);
  const hasPool = !hasWell && chance.happens(0.2);
  const id = (name: string): string => `${property}-${name}`;

  return {
    hardSurfaces: [
      ...drive.map((outline) => ({ id: id('drive'), kind: 'drive' as const, outline })),
      ...walk.map((outline) => ({ id: id('walk'), kind: 'walk' as const, outline })),
      { id: id('patio'), kind: 'patio', outline: patio },
      ...(hasPool
        ? [
            {
              id: id('pool'),
              kind: 'pool' as const,
              outline: box(yard.east - 6, yard.north + 6, yard.east, yard.north + 9),
            },
          ]
        : []),
    ],
    keepOuts: [
      ...(forLine === undefined || width(forLine) < 1.4
        ? []
        : [
            {
              id: id('line'),
              kind: 'utility_line' as const,
              path: [
                [middle(forLine), street],
                [middle(forLine), yard.south],
              ] as const,
              clearanceMetres: 0.6,
            },
          ]),
      ...(hasWell
        ? [
            {
              id: id('well'),
              kind: 'well' as const,
              at: point(yard.west + 2, yard.north + 9),
              clearanceMetres: 5,
            },
          ]
        : []),
      { id: id('drain'), kind: 'drain', at: point(yard.east + 3, yard.south - 3), clearanceMetres: 1 },
    ],
    plantings: [
      {
        id: id('bed'),
        kind: 'planting',
        outline: box(yard.west - 1.4, yard.south, yard.west - 0.1, yard.north),
      },
    ],
    concerns: drawConcerns(chance, yard, id),
    fences: [
      {
        id: id('fence'),
        path: [
          point(edge.west, yard.south),
          point(edge.west, edge.north),
          point(edge.east, edge.north),
          point(edge.east, yard.south),
        ],
      },
    ],
    gates: [{ id: id('gate'), at: point(edge.west, yard.south + 1.5), widthMetres: 1 }],
    parking: point(forDrive === undefined ? yard.west : middle(forDrive), street),
  };
}

function drawConcerns(chance: Chance, yard: Yard, id: (name: string) => string): SiteBody['concerns'] {
  const wanted = chance.pick(['none', 'moisture', 'woodpile', 'stump', 'both'] as const);
  const beside = chance.pick(yard.stations);
  const moisture = {
    id: id('moisture'),
    kind: 'moisture',
    at: point(beside[0] + 0.3, beside[1]),
    note: 'Downspout ends beside the wall.',
  } as const;
  const woodpile = {
    id: id('woodpile'),
    kind: 'woodpile',
    at: point(yard.east + 2, yard.north - 1),
    note: 'Firewood on the soil.',
  } as const;
  const stump = {
    id: id('stump'),
    kind: 'stump',
    at: point(yard.west - 4, yard.north + 4),
    note: 'Old stump, soft at the edge.',
  } as const;
  switch (wanted) {
    case 'none':
      return [];
    case 'moisture':
      return [moisture];
    case 'woodpile':
      return [woodpile];
    case 'stump':
      return [stump];
    case 'both':
      return [moisture, woodpile];
  }
}

/** The stretches between neighbouring stations that stand in a band of y before or behind the walls. */
function gapsAlong({ stations }: Yard, fromY: number, toY: number): readonly Gap[] {
  const places = stations
    .filter(([, y]) => y >= fromY && y <= toY)
    .map(([x]) => x)
    .toSorted((a, b) => a - b);
  return places
    .slice(1)
    .map((to, index) => ({ from: (places[index] ?? to) + CLEAR_METRES, to: to - CLEAR_METRES }));
}

function width({ from, to }: Gap): number {
  return to - from;
}

function middle({ from, to }: Gap): number {
  return centimetres((from + to) / 2);
}

/** A rectangle in the middle of a gap, no wider than wanted. */
function strip(gap: Gap, mostWide: number, fromY: number, toY: number): readonly SitePoint[] {
  const half = Math.min(mostWide, width(gap)) / 2;
  return box(middle(gap) - half, fromY, middle(gap) + half, toY);
}

/** Counter-clockwise. */
function box(west: number, south: number, east: number, north: number): readonly SitePoint[] {
  return [point(west, south), point(east, south), point(east, north), point(west, north)];
}

function point(x: number, y: number): SitePoint {
  return [centimetres(x), centimetres(y)];
}

function centimetres(value: number): number {
  return Math.round(value * 100) / 100;
}
