import {
  EMPTY_SITE,
  type KeepOut,
  type Point,
  type RingRules,
  type Site,
  type StationMark,
} from '@sillwatch/ring';
import type {
  KeepOutBody,
  LabelProfile,
  PropertyState,
  SiteBody,
  SitePoint,
  StationState,
  StructureBody,
} from '@sillwatch/trade';
import { metres } from '@sillwatch/trade/units';

/**
 * The property as a drawing: structures with an outline, what was drawn round them, and stations in service with a place.
 * Local metres; `siteToBodies` is the way back.
 */
export function siteOf(
  property: Pick<PropertyState, 'property' | 'body' | 'structures' | 'site' | 'stations'>,
): Site {
  const { site } = property;
  return {
    ...EMPTY_SITE,
    name: property.body?.name ?? property.property,
    georeference: property.body?.position ?? undefined,
    structures: property.structures.flatMap(({ structure, name, foundation, outline, holes }) =>
      outline === null
        ? []
        : [
            {
              id: structure,
              name,
              foundation,
              outline: outline.map(toPoint),
              holes: (holes ?? []).map((hole) => hole.map(toPoint)),
            },
          ],
    ),
    ...(site === null
      ? {}
      : {
          hardSurfaces: site.hardSurfaces.map(withOutline),
          keepOuts: site.keepOuts.map(toKeepOut),
          plantings: site.plantings.map(withOutline),
          concerns: site.concerns.map(({ id, kind, at, note }) => ({
            id,
            kind,
            at: toPoint(at),
            ...(note === '' ? {} : { note }),
          })),
          fences: site.fences.map(({ id, path }) => ({ id, path: path.map(toPoint) })),
          gates: site.gates.map(({ id, at, widthMetres }) => ({
            id,
            at: toPoint(at),
            widthMetres: metres(widthMetres),
          })),
          parking: site.parking === null ? undefined : toPoint(site.parking),
        }),
    stations: property.stations.flatMap(({ station, structure, number, position, inService }) =>
      position === null || !inService
        ? []
        : [{ id: station, number, at: toPoint(position), structureId: structure }],
    ),
  };
}

const toPoint = ([x, y]: SitePoint): Point => ({ x, y });

function withOutline<K>({
  id,
  kind,
  outline,
}: {
  readonly id: string;
  readonly kind: K;
  readonly outline: readonly SitePoint[];
}) {
  return { id, kind, outline: outline.map(toPoint) };
}

function toKeepOut(body: KeepOutBody): KeepOut {
  switch (body.kind) {
    case 'utility_line':
      return {
        id: body.id,
        kind: body.kind,
        path: body.path.map(toPoint),
        clearanceMetres: metres(body.clearanceMetres),
      };
    case 'well':
    case 'drain':
      return {
        id: body.id,
        kind: body.kind,
        at: toPoint(body.at),
        clearanceMetres: metres(body.clearanceMetres),
      };
    case 'treated_soil':
      return { id: body.id, kind: body.kind, outline: body.outline.map(toPoint) };
  }
}

/**
 * The bodies of the facts that store the drawing (`structure added`, `site drawn`), so that `siteOf` gives it back. Its name,
 * its georeference and its stations are facts of their own: what a drawing proposes is not yet in the ground.
 */
export function siteToBodies(site: Site): {
  readonly structures: readonly StructureBody[];
  readonly site: SiteBody;
} {
  return {
    structures: site.structures.map(({ id, name, foundation, outline, holes }) => ({
      structure: id,
      name,
      foundation,
      outline: outline.map(toPair),
      ...(holes.length === 0 ? {} : { holes: holes.map((hole) => hole.map(toPair)) }),
    })),
    site: {
      hardSurfaces: site.hardSurfaces.map(({ id, kind, outline }) => ({
        id,
        kind,
        outline: outline.map(toPair),
      })),
      keepOuts: site.keepOuts.map(toKeepOutBody),
      plantings: site.plantings.map(({ id, kind, outline }) => ({ id, kind, outline: outline.map(toPair) })),
      concerns: site.concerns.map(({ id, kind, at, note }) => ({
        id,
        kind,
        at: toPair(at),
        note: note ?? '',
      })),
      fences: site.fences.map(({ id, path }) => ({ id, path: path.map(toPair) })),
      gates: site.gates.map(({ id, at, widthMetres }) => ({ id, at: toPair(at), widthMetres })),
      parking: site.parking === undefined ? null : toPair(site.parking),
    },
  };
}

const toPair = ({ x, y }: Point): SitePoint => [x, y];

function toKeepOutBody(keepOut: KeepOut): KeepOutBody {
  switch (keepOut.kind) {
    case 'utility_line': {
      const { id, kind, path, clearanceMetres } = keepOut;
      return { id, kind, path: path.map(toPair), clearanceMetres };
    }
    case 'well':
    case 'drain': {
      const { id, kind, at, clearanceMetres } = keepOut;
      return { id, kind, at: toPair(at), clearanceMetres };
    }
    case 'treated_soil':
      return { id: keepOut.id, kind: keepOut.kind, outline: keepOut.outline.map(toPair) };
  }
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
