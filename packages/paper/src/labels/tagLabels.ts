import type { PropertyState } from '@sillwatch/trade';
import { structureNameIn, structureRank } from '../report/format.ts';
import { type PaperLanguage, sayIn } from '../report/words/say.ts';

/** What one label says: the tag, as text and as code, and lines under it. */
export interface TagLabel {
  readonly tag: string;
  readonly lines: readonly string[];
}

/** Which stations of a ring labels are printed for, by their numbers: `1-10, 14`. Throws a RangeError that says what cannot be read. */
export function readStationNumbers(text: string): ReadonlySet<number> {
  const numbers = new Set<number>();
  for (const part of text.split(',').map((one) => one.trim())) {
    const [, first = '', last = first] = /^(\d{1,4})(?:\s*[-\u2013]\s*(\d{1,4}))?$/.exec(part) ?? [];
    if (first === '' || Number(last) < Number(first))
      throw new RangeError(
        `${JSON.stringify(part)} is no number of a station, and no span of such: 1-10, 14`,
      );
    for (let number = Number(first); number <= Number(last); number += 1) numbers.add(number);
  }
  return numbers;
}

export interface PropertyLabels {
  readonly labels: readonly TagLabel[];
  /** Numbers of the stations in service that have no tag yet. */
  readonly untagged: readonly number[];
}

/**
 * One label for each tagged station in service, in ring order; `only` = those with these numbers. It names neither customer nor address: a label lies in a
 * yard for years, and whoever finds it needs only whom to call.
 */
export function labelsOfProperty(
  property: PropertyState,
  firmName: string,
  lang: PaperLanguage = 'en-US',
  only?: ReadonlySet<number>,
): PropertyLabels {
  const say = sayIn(lang);
  const rank = structureRank(property);
  const stations = property.stations
    .filter((state) => state.inService && (only?.has(state.number) ?? true))
    .sort((a, b) => rank(a.structure) - rank(b.structure) || a.number - b.number);
  return {
    labels: stations.flatMap((state) => {
      if (state.tag === null) return [];
      const structure = structureNameIn(property, state.structure);
      const number = say('labels.station', { number: state.number });
      return [{ tag: state.tag, lines: [structure === null ? number : `${number}, ${structure}`, firmName] }];
    }),
    untagged: stations.flatMap((state) => (state.tag === null ? [state.number] : [])),
  };
}

/**
 * Tags that nothing carries yet: `prefix` and a number that counts up from `first`, filled with zeros to its own width
 * (`A`, `0098`, 3 give A0098, A0099, A0100). Throws a RangeError for a start that is no number or a count out of 1 to 10,000.
 */
export function newTags(prefix: string, first: string, count: number): readonly string[] {
  if (!/^\d{1,12}$/.test(first))
    throw new RangeError(`${JSON.stringify(first)} is not a number of 1 to 12 digits`);
  if (!Number.isInteger(count) || count < 1 || count > 10_000)
    throw new RangeError(`${count} labels: give a whole number from 1 to 10,000`);
  return Array.from(
    { length: count },
    (_, index) => `${prefix}${String(Number(first) + index).padStart(first.length, '0')}`,
  );
}
