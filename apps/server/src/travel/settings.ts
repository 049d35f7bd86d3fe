import { openRoadNetwork } from './roadNetwork.ts';
import type { RoadSource } from './roadSource.ts';
import { createTableService } from './tableService.ts';

/** Where road travel comes from; neither = great circle, offline. */
export interface TravelSettings {
  /** `TRAVEL_SERVICE_URL`: a service that speaks the OSRM table request. Places of customers are sent to it. */
  readonly serviceUrl: string | undefined;
  /** `TRAVEL_ROADS`: an OpenStreetMap extract, `.osm.pbf`. */
  readonly roads: string | undefined;
}

/** Throws a RangeError when both are set. */
export function readTravelSettings(env: Readonly<Record<string, string | undefined>>): TravelSettings {
  const serviceUrl = env['TRAVEL_SERVICE_URL'] || undefined;
  const roads = env['TRAVEL_ROADS'] || undefined;
  if (serviceUrl !== undefined && roads !== undefined)
    throw new RangeError('both TRAVEL_SERVICE_URL and TRAVEL_ROADS are set; keep one of them');
  return { serviceUrl, roads };
}

/** `folder` keeps the tiles of a road network. Throws a RangeError that names the setting's fault. */
export async function openRoadSource(
  { serviceUrl, roads }: TravelSettings,
  folder: string,
): Promise<RoadSource | undefined> {
  if (serviceUrl !== undefined) return createTableService({ url: serviceUrl });
  return roads === undefined ? undefined : openRoadNetwork(roads, folder);
}
