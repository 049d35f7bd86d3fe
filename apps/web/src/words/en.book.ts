import { SENTENCES, type Sentence, type SentenceKey } from '@sillwatch/rounds';
import { formatIn } from './format.ts';

const { number, plural } = formatIn('en-US');

/** Puts the values of a sentence into its words; numbers to three digits. */
export function fillSentence(
  words: Readonly<Record<SentenceKey, string>>,
  { key, values }: Sentence,
  locale: string,
  unknown: string,
): string {
  return words[key].replace(/\{(\w+)\}/g, (_, name: string) => {
    const value = values[name] ?? null;
    if (value === null) return unknown;
    if (typeof value === 'string') return value;
    return Number.isFinite(value) ? value.toLocaleString(locale, { maximumSignificantDigits: 3 }) : unknown;
  });
}

/** Words of the pages of figures, in English. */
export const book = {
  book: {
    title: 'Book',
    workTitle: 'Do the stations work?',
    pages: 'Pages of figures',
    say: (sentence: Sentence) => fillSentence(SENTENCES, sentence, 'en-US', 'not yet known'),
    summary: (properties: number, stations: number, late: number) =>
      `${plural(properties, 'property', 'properties')}, ${plural(stations, 'station', 'stations')}; ${late === 0 ? 'nothing is late.' : `${plural(late, 'piece of work is', 'pieces of work are')} late.`}`,
    late: 'Late work',
    looksKept: 'Looks inside their windows',
    yearlyKept: 'Yearly services inside their windows',
    unseen: 'Stations not opened twice in a row',
    carried: 'Yearly services carried over',
    hits: 'New hits in a hundred station-quarters',
    openHits: 'Hits that are open',
    workload: 'Hours of work in the coming months',
    renewals: 'Agreements that renew soon',
    missedByPerson: 'Windows missed, by technician',
    notOpenedByPerson: 'Stations not opened, by technician',
    material: 'Time and material of the last year',
    materialHow: 'The most minutes first; minutes are those between arrival and closing, without driving.',
    materialHeads: ['Property', 'Visits', 'Minutes', 'Parts', 'Bait, grams'],
    list: (n: number) => `The list: ${plural(n, 'property', 'properties')}`,
    of: (events: number, trials: number) => `${number(events)} of ${number(trials)}`,
    hitsIn: (hits: number, quarters: number) =>
      `${plural(hits, 'hit', 'hits')} in ${number(Math.round(quarters))} station-quarters`,
    visits: (n: number) => plural(n, 'visit', 'visits'),
    withoutProfile: (n: number) =>
      `${plural(n, 'property is', 'properties are')} in no figure: no label profile.`,
    funnelHow:
      'Across: how much there is to go by. Inside the inner lines lies what chance alone makes in nineteen of twenty, inside the outer lines in 499 of 500.',
    funnelHeads: ['Who', 'How many', 'Share', 'Chance alone', 'Standing'],
    standings: {
      'as the rest': 'as the rest',
      'beyond 95 %': 'beyond nineteen in twenty',
      'beyond 99.8 %': 'beyond 499 in 500',
      'too little to say': 'too little to say',
    },
    tooLittle: 'Too little to say.',
    plot: (label: string) => `${label}: a drawing; the table below says the same`,
    when: 'When',
    inHundred: 'in a hundred',
    between: 'Nineteen in twenty',
    from: 'From',
    day: (n: number) => `day ${number(n)}`,
    curveHeads: ['By', 'Not yet', 'Nineteen in twenty'],
    clearCaution: 'No termites at stations does not prove that a colony is gone.',
    toFirstHit: 'From setting the stations to the first hit, structures',
    toClear: 'From bait to clear, structures',
    criteria: 'Published criteria',
    criteriaCaution:
      'This is no registration study: no study plan, no untreated structures for comparison, nothing looked at but stations.',
    criteriaHeads: ['Asked', 'Source', 'This record'],
    criterion: {
      'free of termites, preventive use': 'Structures free of termites, preventive use',
      'gone within 12 months, remedial use': 'Gone within 12 months, remedial use',
      'colonies suppressed': 'Treated colonies suppressed',
      'current standards': 'Current performance standards',
    },
    risk: 'Where a hit is likeliest at the next look',
    riskCaution: 'An order of urgency, never a reason to skip a due visit.',
    riskFrom: (hits: number, looks: number) =>
      `Learned from ${plural(hits, 'hit', 'hits')} at ${plural(looks, 'look', 'looks')}.`,
    calibration: (happened: number, expected: number) =>
      `Over the last six months ${number(happened)} happened where ${number(Math.round(expected * 10) / 10)} were expected.`,
    riskHeads: ['Station', 'Chance', 'Nine in ten'],
  },
};
