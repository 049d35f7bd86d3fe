import type { FirmState, Place, PropertyState, RoundBody } from '@sillwatch/trade';

/** RFC 7946: WGS 84, longitude before latitude, no other reference system. */
export interface PlanFeatures {
  readonly type: 'FeatureCollection';
  readonly features: readonly (RoundFeature | VisitFeature)[];
}

export interface RoundFeature {
  readonly type: 'Feature';
  /** Straight from stop to stop, start and end places included: not the roads. */
  readonly geometry: { readonly type: 'LineString'; readonly coordinates: readonly Position[] };
  readonly properties: {
    readonly kind: 'round';
    readonly plan: string;
    readonly person: string;
    readonly name: string;
    readonly day: string;
    readonly startsAt: string;
    readonly endsAt: string;
    readonly visits: number;
    /** The way back to the end place not included. */
    readonly driveMetresOut: number;
  };
}

export interface VisitFeature {
  readonly type: 'Feature';
  readonly geometry: { readonly type: 'Point'; readonly coordinates: Position };
  readonly properties: {
    readonly kind: 'visit';
    readonly visit: string;
    readonly property: string;
    readonly name: string;
    readonly person: string;
    readonly day: string;
    /** From 1, in driving order. */
    readonly order: number;
    readonly startsAt: string;
    readonly endsAt: string;
    readonly works: number;
    readonly frozen: boolean;
  };
}

/** Degrees: longitude, latitude. */
export type Position = readonly [number, number];

/** Rounds as a map shows them: a line a round, a point a visit. Visits to a property without a position are passed over. */
export function planGeoJson(
  rounds: readonly RoundBody[],
  properties: readonly PropertyState[],
  firm: Pick<FirmState, 'technicians'>,
): PlanFeatures {
  const byId = new Map(properties.map((state) => [state.property, state]));
  const features = rounds.flatMap((round): readonly (RoundFeature | VisitFeature)[] => {
    const technician = firm.technicians[round.person];
    const points = round.visits.flatMap((visit, index): readonly VisitFeature[] => {
      const body = byId.get(visit.property)?.body;
      if (body?.position == null) return [];
      return [
        {
          type: 'Feature',
          geometry: { type: 'Point', coordinates: toPosition(body.position) },
          properties: {
            kind: 'visit',
            visit: visit.visit,
            property: visit.property,
            name: body.name,
            person: round.person,
            day: round.day,
            order: index + 1,
            startsAt: visit.startsAt,
            endsAt: visit.endsAt,
            works: visit.works.length,
            frozen: visit.frozen,
          },
        },
      ];
    });
    const coordinates = [
      ...(technician === undefined ? [] : [toPosition(technician.start)]),
      ...points.map(({ geometry }) => geometry.coordinates),
      ...(technician === undefined ? [] : [toPosition(technician.end)]),
    ];
    // A line has two positions or more (RFC 7946, section 3.1.4).
    if (coordinates.length < 2) return points;
    const line: RoundFeature = {
      type: 'Feature',
      geometry: { type: 'LineString', coordinates },
      properties: {
        kind: 'round',
        plan: round.plan,
        person: round.person,
        name: technician?.name ?? round.person,
        day: round.day,
        startsAt: round.startsAt,
        endsAt: round.endsAt,
        visits: round.visits.length,
        driveMetresOut: round.visits.reduce((sum, { driveMetres }) => sum + driveMetres, 0),
      },
    };
    return [line, ...points];
  });
  return { type: 'FeatureCollection', features };
}

function toPosition({ longitude, latitude }: Place): Position {
  return [longitude, latitude];
}
