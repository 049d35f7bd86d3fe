import type { Page } from 'playwright-core';

export interface Place {
  readonly property: string;
  readonly name: string;
  readonly station: string;
  readonly number: number;
}

interface ListedStation {
  readonly station: string;
  readonly number: number;
  readonly phase: string;
  readonly inService: boolean;
  readonly missesInARow: number;
  readonly clearedOn: string | null;
  /** a yearly service that waits for feeding to end */
  readonly held: object | null;
  readonly slots: readonly { readonly slot: string; readonly insert: string | null }[];
}

/** A station that answers the question, of the smallest property that has one. Throws when none has: the demo must. */
export async function getPlace(
  page: Page,
  base: string,
  wanted: (station: ListedStation) => boolean,
): Promise<Place> {
  const { properties } = await ask<{
    properties: readonly { property: string; name: string; stations: number }[];
  }>(page, `${base}/api/properties?limit=1000`);
  for (const { property, name } of properties.toSorted((a, b) => a.stations - b.stations)) {
    const { stations } = await ask<{ stations: readonly ListedStation[] }>(
      page,
      `${base}/api/properties/${property}`,
    );
    const found = stations.find((station) => station.inService && wanted(station));
    if (found !== undefined) return { property, name, station: found.station, number: found.number };
  }
  throw new Error('the demo has no such station');
}

export const isFeeding = (station: ListedStation): boolean =>
  station.phase === 'feeding' && station.missesInARow === 0;

/** Monitors only: nothing found so far. */
export const isQuiet = (station: ListedStation): boolean =>
  station.phase === 'monitoring' &&
  station.clearedOn === null &&
  station.missesInARow === 0 &&
  station.slots.length === 2 &&
  station.slots.every(({ insert }) => insert === 'monitor');

async function ask<T>(page: Page, url: string): Promise<T> {
  const response = await page.request.get(url);
  if (!response.ok()) throw new Error(`${url}: ${response.status()}`);
  return response.json();
}
