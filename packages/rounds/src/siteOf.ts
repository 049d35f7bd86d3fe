import { EMPTY_SITE, type RingRules, type Site, type StationMark } from '@sillwatch/ring';
import type { LabelProfile, PropertyState, StationState } from '@sillwatch/trade';
import { metres } from '@sillwatch/trade/units';

/** The property as a drawing: structures with an outline, and stations in service with a place. Local metres. */
export function siteOf(property: PropertyState): Site {
  return {
    ...EMPTY_SITE,
    name: property.body?.name ?? property.property,
    georeference: property.body?.position ?? undefined,
    structures: property.structures.flatMap(({ structure, name, foundation, outline }) =>
      outline === null
        ? []
        : [{ id: structure, name, foundation, outline: outline.map(([x, y]) => ({ x, y })), holes: [] }],
    ),
    stations: property.stations.flatMap(({ station, number, position, inService }) =>
      position === null || !inService
        ? []
        : [{ id: station, number, at: { x: position[0], y: position[1] } }],
    ),
  };
}

/** What the profile asks of a ring. */
export function ringRulesOf(profile: LabelProfile): RingRules {
  const { nearest, farthest } = profile.setbackMetres.value;
  return {
    greatestSpacingMetres: metres(profile.greatestSpacingMetres.value),
    setbackMetres: { nearest: metres(nearest), farthest: metres(farthest) },
    treatedSoilClearanceMetres: metres(profile.treatedSoilClearanceMetres.value),
    concernDistanceMetres: metres(profile.concernDistanceMetres.value),
  };
}

/**
 * The one mark that says most about a station: gone and unseen come before what it was last known to be.
 * Of a state to which the test for clear has been applied (`assessClearance`).
 */
export function stationMarkOf(state: StationState): StationMark {
  if (!state.inService) return 'removed';
  if (state.missesInARow > 0) return 'missed';
  if (state.phase !== 'monitoring' && state.clearedOn === null) return state.phase;
  return state.clearedOn === null ? 'monitoring' : 'clear';
}
