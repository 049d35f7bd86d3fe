import { type Day, findDay, GRAMS_PER_OUNCE, type PropertyState } from '@sillwatch/trade';
import type { PaperLanguage, Say } from './words/say.ts';

const DAY_FORMATS: Readonly<Record<PaperLanguage, Intl.DateTimeFormat>> = {
  'en-US': new Intl.DateTimeFormat('en-US', { dateStyle: 'long', timeZone: 'UTC' }),
  'es-US': new Intl.DateTimeFormat('es-US', { dateStyle: 'long', timeZone: 'UTC' }),
};
const SHORT_DAY_FORMATS: Readonly<Record<PaperLanguage, Intl.DateTimeFormat>> = {
  'en-US': new Intl.DateTimeFormat('en-US', { dateStyle: 'medium', timeZone: 'UTC' }),
  'es-US': new Intl.DateTimeFormat('es-US', { dateStyle: 'medium', timeZone: 'UTC' }),
};

/** `March 4, 2026`. */
export function dayInWords(day: Day, lang: PaperLanguage): string {
  return DAY_FORMATS[lang].format(day * 86_400_000);
}

/** `Mar 4, 2026`, for tables. */
export function shortDay(day: Day, lang: PaperLanguage): string {
  return SHORT_DAY_FORMATS[lang].format(day * 86_400_000);
}

const MONTH_FORMATS: Readonly<Record<PaperLanguage, Intl.DateTimeFormat>> = {
  'en-US': new Intl.DateTimeFormat('en-US', { month: 'long', year: 'numeric', timeZone: 'UTC' }),
  'es-US': new Intl.DateTimeFormat('es-US', { month: 'long', year: 'numeric', timeZone: 'UTC' }),
};

/** `March 2026` of `2026-03`; what is no month stays as it is. */
export function monthInWords(month: string, lang: PaperLanguage): string {
  const first = findDay(`${month}-01`);
  return first === undefined ? month : MONTH_FORMATS[lang].format(first * 86_400_000);
}

/** `10:15` as the device wrote it, its own local time; null when the text is no RFC 3339 time. */
export function clockOf(at: string): string | null {
  return /^\d{4}-\d{2}-\d{2}T(\d{2}:\d{2})/.exec(at)?.[1] ?? null;
}

/** `75 g (2.65 oz)`: both units, since labels in the United States are written in ounces. */
export function massInWords(grams: number, say: Say): string {
  return say('grams', { grams: plainNumber(grams), ounces: (grams / GRAMS_PER_OUNCE).toFixed(2) });
}

/** At most two decimals, none that say nothing, no exponent: `75`, `0.25`. */
export function plainNumber(value: number): string {
  return String(Math.round(value * 100) / 100);
}

/** `1 to 4, 7 and 9` in rising order, doubles dropped. Empty for no numbers. */
export function numbersInWords(numbers: readonly number[], say: Say): string {
  const rising = [...new Set(numbers)].sort((a, b) => a - b);
  const runs: { from: number; to: number }[] = [];
  for (const number of rising) {
    const last = runs.at(-1);
    if (last !== undefined && number === last.to + 1) last.to = number;
    else runs.push({ from: number, to: number });
  }
  const parts = runs.flatMap(({ from, to }) => {
    if (from === to) return [String(from)];
    return to === from + 1 ? [String(from), String(to)] : [say('range', { from, to })];
  });
  const last = parts.pop();
  if (last === undefined) return '';
  return parts.length === 0 ? last : say('and', { list: parts.join(', '), last });
}

/** `Station 5`, or `Garage, station 5` where the structure has to be told. */
export function stationInWords(number: number, structureName: string | null, say: Say): string {
  return structureName === null
    ? say('station', { number })
    : say('station.of', { structure: structureName, number });
}

/** A station of a property that is to be named. */
export interface StationRef {
  readonly structure: string;
  readonly number: number;
}

/** `stations 1 to 4 and 7`; numbers start afresh on each ring, so with several structures each is named. */
export function stationsInWords(stations: readonly StationRef[], property: PropertyState, say: Say): string {
  const rank = structureRank(property);
  const structures = [...new Set(stations.map((station) => station.structure))].sort(
    (a, b) => rank(a) - rank(b),
  );
  return structures
    .map((structure) => {
      const numbers = stations.filter((item) => item.structure === structure).map((item) => item.number);
      const params = { n: new Set(numbers).size, list: numbersInWords(numbers, say) };
      const name = structureNameIn(property, structure);
      return name === null ? say('stations', params) : say('stations.of', { ...params, structure: name });
    })
    .join('; ');
}

/** Place of a structure among those of the property: the one with the lowest station number first. */
export function structureRank(property: PropertyState): (structure: string) => number {
  const lowest = (structure: string) =>
    Math.min(...property.stations.flatMap((item) => (item.structure === structure ? [item.number] : [])));
  const ordered = property.structures
    .map((item) => ({ id: item.structure, lowest: lowest(item.structure) }))
    .sort((a, b) => (a.lowest === b.lowest ? 0 : a.lowest - b.lowest));
  const ranks = new Map(ordered.map((item, index) => [item.id, index]));
  return (structure) => ranks.get(structure) ?? ranks.size;
}

/** The structure's name where the property has several, otherwise null: no need to say it. */
export function structureNameIn(property: PropertyState, structure: string): string | null {
  if (property.structures.length <= 1) return null;
  return property.structures.find((item) => item.structure === structure)?.name ?? structure;
}
