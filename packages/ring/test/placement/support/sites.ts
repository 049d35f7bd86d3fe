import { existsSync, readFileSync } from 'node:fs';
import { metres } from '@sillwatch/trade/units';
import {
  EMPTY_SITE,
  type HardSurface,
  type KeepOut,
  type Outline,
  type Point,
  type RingRules,
  type Site,
  siteFromGeoJson,
} from '../../../src/index.ts';

/** Invented numbers: 3 m spacing (10 ft, the near end of common practice, no source), 0.3 to 1.2 m from the wall. */
export const RULES: RingRules = {
  greatestSpacingMetres: metres(3),
  setbackMetres: { nearest: metres(0.3), farthest: metres(1.2) },
  treatedSoilClearanceMetres: metres(0.6),
  concernDistanceMetres: metres(1.5),
};

export function rectangle(x: number, y: number, width: number, height: number): Outline {
  return [
    { x, y },
    { x: x + width, y },
    { x: x + width, y: y + height },
    { x, y: y + height },
  ];
}

export function houseOf(outline: Outline, holes: readonly Outline[] = []): Site {
  return {
    ...EMPTY_SITE,
    structures: [{ id: 'house', name: '', foundation: 'slab', outline, holes }],
  };
}

export function points(text: string): Outline {
  return text.split(' ').map((pair) => {
    const [x = '0', y = '0'] = pair.split(',');
    return { x: Number(x), y: Number(y) };
  });
}

/** Invented shapes that each try something. */
export const SHAPES: Readonly<Record<string, Site>> = {
  square: houseOf(rectangle(0, 0, 10, 10)),
  ell: houseOf(points('0,0 12,0 12,5 6,5 6,11 0,11')),
  you: houseOf(points('0,0 14,0 14,9 10,9 10,4 4,4 4,9 0,9')),
  tee: houseOf(points('0,0 15,0 15,5 10,5 10,12 5,12 5,5 0,5')),
  narrowSlot: houseOf(points('0,0 10,0 10,9 6,9 6,2 5,2 5,9 0,9')),
  acute: houseOf(points('0,0 14,0 1,6')),
  bay: houseOf(points('0,0 4,0 4.8,-0.9 6.2,-0.9 7,0 11,0 11,8 0,8')),
  round: houseOf(
    Array.from({ length: 40 }, (_, side) => ({
      x: 5 * Math.cos((side * Math.PI) / 20),
      y: 5 * Math.sin((side * Math.PI) / 20),
    })),
  ),
  courtyard: houseOf(rectangle(0, 0, 16, 14), [rectangle(4, 4, 8, 6)]),
  lightWell: houseOf(rectangle(0, 0, 12, 12), [rectangle(5, 5, 1, 1)]),
  terrace: {
    ...EMPTY_SITE,
    structures: [0, 1, 2].map((index) => ({
      id: `house-${index}`,
      name: '',
      foundation: 'basement' as const,
      outline: rectangle(index * 5.5, index * 0.4, 5.5, 9),
      holes: [],
    })),
  },
  houseAndShed: {
    ...EMPTY_SITE,
    structures: [
      { id: 'house', name: '', foundation: 'slab', outline: rectangle(0, 0, 12, 8), holes: [] },
      { id: 'shed', name: '', foundation: 'pier', outline: rectangle(13, 1, 3, 3), holes: [] },
      { id: 'far', name: '', foundation: 'slab', outline: rectangle(20, 0, 6, 6), holes: [] },
    ],
  },
};

/** Invented shapes with inner corners so blunt that what lies square to the line leans there. */
export const BLUNT: Readonly<Record<string, Site>> = {
  roundCourtyard: houseOf(rectangle(0, 0, 12, 12), [
    Array.from({ length: 16 }, (_, side) => ({
      x: 6 + 3 * Math.cos((side * Math.PI) / 8),
      y: 6 + 3 * Math.sin((side * Math.PI) / 8),
    })),
  ]),
  folded: houseOf(points('0,0 6,1.5 12,0 12,8 6,6.5 0,8')),
};

/** The real outlines that lie beside the project, or none. */
export function loadRealHouses(): readonly Site[] {
  const file = new URL('../../../../../../shared/data/footprints/houses.geojson', import.meta.url);
  if (!existsSync(file)) return [];
  const json: unknown = JSON.parse(readFileSync(file, 'utf8'));
  const features: readonly unknown[] =
    typeof json === 'object' && json !== null && 'features' in json && Array.isArray(json.features)
      ? json.features
      : [];
  return features.map((feature) => {
    const read = siteFromGeoJson(JSON.stringify({ type: 'FeatureCollection', features: [feature] }));
    if (!read.ok) throw new Error(JSON.stringify(read.refusals));
    return read.site;
  });
}

/** Numbers from 0 up to 1 from a seed (Park and Miller's minimal standard generator, 1988). */
export function seeded(seed: number): () => number {
  let state = seed % 2_147_483_647 || 1;
  return () => {
    state = (state * 48_271) % 2_147_483_647;
    return state / 2_147_483_647;
  };
}

/** Invented drives, walks, utility lines, wells and treated soil about a building. */
export function withObstacles(site: Site, random: () => number, count: number): Site {
  const corners = site.structures.flatMap(({ outline }) => outline);
  const somewhere = (): Point => {
    const a = corners[Math.floor(random() * corners.length)] ?? { x: 0, y: 0 };
    const b = corners[Math.floor(random() * corners.length)] ?? a;
    const share = random();
    return { x: a.x + (b.x - a.x) * share, y: a.y + (b.y - a.y) * share };
  };
  const hardSurfaces: HardSurface[] = [];
  const keepOuts: KeepOut[] = [];
  for (let index = 0; index < count; index++) {
    const { x, y } = somewhere();
    const size = 0.5 + random() * 5;
    const kind = Math.floor(random() * 4);
    const id = `obstacle-${index}`;
    if (kind < 2) {
      const outline = rectangle(x - size / 2, y - size / 2, size, size * (0.3 + random()));
      hardSurfaces.push({ id, kind: kind === 0 ? 'drive' : 'patio', outline });
    } else if (kind === 2) {
      const to = { x: x + (random() - 0.5) * 30, y: y + (random() - 0.5) * 30 };
      keepOuts.push({
        id,
        kind: 'utility_line',
        path: [{ x, y }, to],
        clearanceMetres: metres(0.2 + random()),
      });
    } else keepOuts.push({ id, kind: 'well', at: { x, y }, clearanceMetres: metres(0.5 + random() * 2) });
  }
  return { ...site, hardSurfaces, keepOuts };
}
