import type { AnyFact, SiteBody, StructureBody } from '@sillwatch/trade';

/** One fact of an invented property; `seq` orders it. */
export function bodyFact(kind: string, station: string | null, body: unknown, seq: number): AnyFact {
  const digits = String(seq).padStart(2, '0');
  return {
    id: `0190a3b0-0000-7000-8000-0000000000${digits}`,
    firm: 'firm-1',
    property: 'property-1',
    station,
    by: 'person-1',
    device: 'phone-1',
    seq,
    at: '2026-01-05T09:00:00-05:00',
    clock: `001767621600000.000${digits}`,
    kind,
    body,
  };
}

export function installed(
  station: string,
  number: number,
  position: readonly [number, number] | null,
  seq: number,
): AnyFact {
  return bodyFact(
    'station installed',
    station,
    {
      structure: 'house',
      number,
      tag: null,
      model: 'two-part',
      position,
      auxiliary: false,
      visit: null,
      inserts: [],
      application: null,
    },
    seq,
  );
}

/** 12 m by 8 m with a courtyard. */
export const HOUSE: StructureBody = {
  structure: 'house',
  name: 'House',
  foundation: 'crawl space',
  outline: [
    [0, 0],
    [12, 0],
    [12, 8],
    [0, 8],
  ],
  holes: [
    [
      [4, 3],
      [8, 3],
      [8, 5],
      [4, 5],
    ],
  ],
};

/** One of everything that a site can hold; the fence runs all round, its gate is in the north. */
export const SURROUNDINGS: SiteBody = {
  hardSurfaces: [
    {
      id: 'drive',
      kind: 'drive',
      outline: [
        [-8, -3],
        [-4, -3],
        [-4, 2],
      ],
    },
  ],
  keepOuts: [
    {
      id: 'gas',
      kind: 'utility_line',
      path: [
        [2, -3.5],
        [2, 0],
      ],
      clearanceMetres: 0.6,
    },
    { id: 'well', kind: 'well', at: [15, 10], clearanceMetres: 1.5 },
    { id: 'drain', kind: 'drain', at: [-3, 10], clearanceMetres: 0.5 },
    {
      id: 'old',
      kind: 'treated_soil',
      outline: [
        [8, -2],
        [11, -2],
        [11, -1],
      ],
    },
  ],
  plantings: [
    {
      id: 'bed',
      kind: 'planting',
      outline: [
        [13, 2],
        [14, 2],
        [14, 6],
      ],
    },
  ],
  concerns: [{ id: 'damp', kind: 'moisture', at: [12.4, 1], note: 'downspout drips' }],
  fences: [
    {
      id: 'fence',
      path: [
        [-10, -4],
        [20, -4],
        [20, 14],
        [-10, 14],
        [-10, -4],
      ],
    },
  ],
  gates: [{ id: 'back', at: [6, 14], widthMetres: 1 }],
  parking: [6, -6.5],
};
