import type { OpenedFinding, Work } from '@sillwatch/trade';
import type { Look, PropertyHistory } from './history.ts';

/**
 * Makes histories lean: looks that found and did the same share one finding and one record of work, and texts that come again stand in
 * memory once. Of 4 million looks nearly all are alike. What a history says does not change.
 */
export function createSharing(): (history: PropertyHistory) => PropertyHistory {
  const people = createPool<string>();
  const findings = createPool<OpenedFinding>();
  const works = createPool<Work>();
  const noPhotos: readonly string[] = [];
  return (history) => {
    // Ids of stations and visits come again at their own property only.
    const own = createPool<string>();
    const looks = history.looks.map(({ station, day, by, body }): Look => {
      const { finding, work, visit, photos } = body;
      return {
        station: own(station),
        day,
        by: people(by),
        body: {
          ...body,
          visit: own(visit),
          finding: finding.reach === 'opened' ? findings(finding) : finding,
          work: works(work),
          photos: photos.length === 0 ? noPhotos : photos,
        },
      };
    });
    return { ...history, looks };
  };
}

/** One value for all that are written alike. */
function createPool<T extends string | object>(): (value: T) => T {
  const known = new Map<string, T>();
  return (value) => {
    const key = typeof value === 'string' ? value : JSON.stringify(value);
    const first = known.get(key);
    if (first !== undefined) return first;
    known.set(key, value);
    return value;
  };
}
