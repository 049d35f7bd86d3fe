import type { Entry } from '../property/history.ts';

/** No id is empty, and no station is called this. */
export const ALL = '';
export const OF_PROPERTY = 'property';

export interface Filter {
  /** a station's id, ALL or OF_PROPERTY */
  readonly station: string;
  readonly kind: string;
}

export function filterEntries(entries: readonly Entry[], { station, kind }: Filter): readonly Entry[] {
  return entries.filter(
    ({ fact }) =>
      (kind === ALL || fact.kind === kind) &&
      (station === ALL || (station === OF_PROPERTY ? fact.station === null : fact.station === station)),
  );
}
