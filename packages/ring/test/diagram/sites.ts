import { metres } from '@sillwatch/trade/units';
import type { Point, Site } from '../../src/site/model.ts';
import { EMPTY_SITE } from '../../src/site/model.ts';

const at = (x: number, y: number): Point => ({ x, y });

/** An invented house with an attached garage, a fenced yard and one of everything that the diagram knows. */
export const INVENTED_HOUSE: Site = {
  ...EMPTY_SITE,
  name: 'Invented house, 12 Example Lane',
  structures: [
    {
      id: 'house',
      name: 'House',
      foundation: 'slab',
      outline: [at(0, 0), at(12, 0), at(12, 3), at(16, 3), at(16, 9), at(6, 9), at(6, 12), at(0, 12)],
      holes: [],
    },
    {
      id: 'garage',
      name: 'Garage',
      foundation: 'slab',
      outline: [at(-9, 1), at(-3, 1), at(-3, 7), at(-9, 7)],
      holes: [],
    },
  ],
  hardSurfaces: [
    { id: 'drive', kind: 'drive', outline: [at(-9, -6), at(-3, -6), at(-3, 1), at(-9, 1)] },
    { id: 'patio', kind: 'patio', outline: [at(7, 9), at(13, 9), at(13, 13), at(7, 13)] },
    { id: 'pool', kind: 'pool', outline: [at(14.5, 12), at(20, 12), at(20, 16), at(14.5, 16)] },
  ],
  keepOuts: [
    { id: 'gas', kind: 'utility_line', path: [at(3, -6), at(3, 0)], clearanceMetres: metres(0.6) },
    { id: 'well', kind: 'well', at: at(19, -3), clearanceMetres: metres(1.5) },
    { id: 'drain', kind: 'drain', at: at(-1.5, 11), clearanceMetres: metres(0.5) },
    { id: 'old', kind: 'treated_soil', outline: [at(6, -2), at(10, -2), at(10, -0.2), at(6, -0.2)] },
  ],
  plantings: [
    { id: 'bed', kind: 'planting', outline: [at(16.2, 3), at(18, 3), at(18, 8), at(16.2, 8)] },
    { id: 'deck', kind: 'wood_to_soil', outline: [at(1, 12.2), at(5, 12.2), at(5, 14), at(1, 14)] },
  ],
  concerns: [
    { id: 'stump', kind: 'stump', at: at(-1, 15) },
    { id: 'damp', kind: 'moisture', at: at(13, 1.5) },
  ],
  fences: [{ id: 'fence', path: [at(16, 9), at(22, 9), at(22, 18), at(-9, 18), at(-9, 7)] }],
  parking: at(-11, -4),
  gates: [{ id: 'gate', at: at(-9, 12), widthMetres: metres(1) }],
  stations: [
    [-0.5, -0.5],
    [5, -0.5],
    [11, -0.5],
    [12.5, 2.5],
    [16.4, 2.6],
    [16.4, 9.4],
    [13.5, 9.4],
    [6.5, 12.4],
    [0, 12.5],
    [-0.5, 8],
    [-0.5, 4],
    [-9.5, 0.5],
    [-2.6, 7.4],
    [-9.4, 7.5],
  ].map(([x, y], index) => ({ id: `s${index + 1}`, number: index + 1, at: at(x ?? 0, y ?? 0) })),
};
