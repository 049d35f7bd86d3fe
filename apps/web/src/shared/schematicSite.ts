import { EMPTY_SITE, type Site } from '@sillwatch/ring';
import type { StationState, StructureState } from '@sillwatch/trade';
import { schematicRing } from '../desk/property/planLayout.ts';

/** One plain ring; stations of several structures follow each other in it. */
export function schematicSite(
  structures: readonly StructureState[],
  stations: readonly StationState[],
): Site {
  const [first] = structures;
  const ring = schematicRing(stations.map(({ number }) => number));
  return {
    ...EMPTY_SITE,
    structures: [
      {
        id: 'house',
        name: structures.map(({ name }) => name).join(', '),
        foundation: first?.foundation ?? 'unknown',
        outline: ring.outline.map(([x, y]) => ({ x, y })),
        holes: [],
      },
    ],
    stations: stations.flatMap(({ station, number }, index) => {
      const position = ring.positions[index];
      return position === undefined ? [] : [{ id: station, number, at: { x: position[0], y: position[1] } }];
    }),
  };
}
