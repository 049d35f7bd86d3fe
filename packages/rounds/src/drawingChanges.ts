import { canonical, isSamePlace, type Site } from '@sillwatch/ring';
import type { FactBodies, FittedInsert, PropertyState, StructureBody } from '@sillwatch/trade';
import { siteOf, siteToBodies } from './siteOf.ts';

/** What a drawing is stored beside: what the facts say of the property so far. */
export type DrawnProperty = Pick<PropertyState, 'property' | 'body' | 'structures' | 'site' | 'stations'>;

type ChangeKind =
  | 'property changed'
  | 'structure added'
  | 'structure removed'
  | 'site drawn'
  | 'station moved'
  | 'station installed';

/** One fact to record, without its head. `station` is its subject; null = the property. */
export type DrawingChange = {
  readonly [K in ChangeKind]: {
    readonly kind: K;
    readonly station: string | null;
    readonly body: FactBodies[K];
  };
}[ChangeKind];

export interface StoringChoices {
  /** Why a structure that the drawing lacks is taken off; null = it stays. */
  readonly whyRemoved: string | null;
  /** Why stations of the property stand elsewhere on the drawing; null = they stay where they were. */
  readonly whyMoved: string | null;
  /** How the stations that the property does not have were set; null = they were not: nothing is recorded of them. */
  readonly installed: { readonly model: string; readonly inserts: readonly FittedInsert[] } | null;
}

/**
 * The facts that make the property look as it is drawn: only what differs (docs/decisions/0124). The drawing must lie in the
 * property's own plane, or the property must have no place on the earth, or the drawing was turned with all its stations.
 */
export function listDrawingChanges(
  property: DrawnProperty,
  site: Site,
  choices: StoringChoices,
): readonly DrawingChange[] {
  return [
    ...listPlaceChange(property, site),
    ...listStructureChanges(property, site, choices.whyRemoved),
    ...listSurroundings(property, site),
    ...listStationChanges(property, site, choices),
  ];
}

function listPlaceChange({ body }: DrawnProperty, { georeference }: Site): readonly DrawingChange[] {
  if (georeference === undefined || isSamePlace(georeference, body?.position ?? undefined)) return [];
  return [{ kind: 'property changed', station: null, body: { position: georeference } }];
}

/** A structure that was entered without an outline is not missing from a drawing that lacks it. */
export function listStructureChanges(
  property: DrawnProperty,
  site: Site,
  whyRemoved: string | null,
): readonly Extract<DrawingChange, { readonly kind: 'structure added' | 'structure removed' }>[] {
  const stored = new Map(property.structures.map(({ property: _, ...body }) => [body.structure, body]));
  const added = siteToBodies(site).structures.flatMap((body) => {
    const before = stored.get(body.structure);
    stored.delete(body.structure);
    if (before !== undefined && canonical(withHoles(before)) === canonical(withHoles(body))) return [];
    return [{ kind: 'structure added', station: null, body } as const];
  });
  if (whyRemoved === null) return added;
  const removed = [...stored.values()]
    .filter(({ outline }) => outline !== null)
    .map(({ structure }) => ({
      kind: 'structure removed' as const,
      station: null,
      body: { structure, why: whyRemoved },
    }));
  return [...added, ...removed];
}

export function listSurroundings(
  property: DrawnProperty,
  site: Site,
): readonly Extract<DrawingChange, { readonly kind: 'site drawn' }>[] {
  const drawn = siteToBodies(site).site;
  const stored = property.site ?? siteToBodies(siteOf(property)).site;
  return canonical(drawn) === canonical(stored) ? [] : [{ kind: 'site drawn', station: null, body: drawn }];
}

/** Nearer than this it is the same place: degrees are written to a tenth of a millimetre. */
export const SAME_PLACE_METRES = 0.001;

function listStationChanges(
  property: DrawnProperty,
  site: Site,
  { whyMoved, installed }: StoringChoices,
): readonly DrawingChange[] {
  const known = new Map(property.stations.map((state) => [state.station, state]));
  return site.stations.flatMap(({ id, number, at, structureId }): readonly DrawingChange[] => {
    const state = known.get(id);
    const position = [at.x, at.y] as const;
    if (state !== undefined) {
      if (whyMoved === null || isAt(state.position, position)) return [];
      return [{ kind: 'station moved', station: id, body: { position, why: whyMoved } }];
    }
    if (installed === null || structureId === undefined) return [];
    const body = {
      structure: structureId,
      number,
      tag: null,
      model: installed.model,
      position,
      auxiliary: false,
      visit: null,
      inserts: installed.inserts,
      application: null,
    };
    return [{ kind: 'station installed', station: id, body }];
  });
}

export function isAt(stored: readonly [number, number] | null, drawn: readonly [number, number]): boolean {
  return stored !== null && Math.hypot(stored[0] - drawn[0], stored[1] - drawn[1]) < SAME_PLACE_METRES;
}

function withHoles(body: StructureBody) {
  return { ...body, holes: body.holes ?? [] };
}
