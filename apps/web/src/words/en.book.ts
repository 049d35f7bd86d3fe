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
    missedByBranch: 'Windows missed, by branch',
    notOpenedByBranch: 'Stations not opened, by branch',
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
    group: {
      '1 winter': 'set in winter',
      '2 spring': 'set in spring',
      '3 summer': 'set in summer',
      '4 autumn': 'set in autumn',
    } as Readonly<Record<string, string>>,
    byQuarter: 'Quarter by quarter',
    byQuarterHow:
      'Stations are counted: several of one structure may share a colony, and then their interval is wider than the table says. The sentence above has that in it.',
    quarterHeads: [
      'Quarter',
      'Hits',
      'In a hundred station-quarters',
      'Nineteen in twenty',
      'Became clear',
      'Monitors lost',
      'Not opened',
      'Looks',
    ],
    curveHeads: ['By', 'Not yet', 'Nineteen in twenty'],
    clearCaution: 'No termites at stations does not prove that a colony is gone.',
    toFirstHit: 'From setting the stations to the first hit, structures',
    toClear: 'From bait to clear, structures',
    criteria: 'Published criteria',
    criteriaCaution:
      'This is no registration study: no study plan, no untreated structures for comparison, nothing looked at but stations.',
    criteriaLead:
      'What was asked of bait studies, and where this firm’s structures would stand: those first baited a year ago or more.',
    criteriaHeads: ['Criterion', 'Asked', 'This record, and the source'],
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
    calibrationTitle: 'How true the chances of half a year ago were',
    calibrationHeads: ['Said', 'Came', 'Nineteen in twenty', 'Hits of looks'],
    riskList: 'The likeliest first',
    rowsLeft: (n: number) =>
      `Lists show their first 200 rows; ${number(n)} more are left out here. The API gives them all (most=).`,
    minutesTitle: 'Time',
    minutesLead: 'What the planner reckons with. Until there are records, an assumption stands in.',
    minutesByWork: 'Minutes by work',
    minutesHeads: ['Work', 'Minutes', 'Records'],
    minuteClass: {
      check: 'Check of a station',
      'baited check': 'Check of a station with bait',
      'yearly service': 'Yearly service of a station',
      replacement: 'Replacement of a station',
    },
    visitShare: 'The visit itself: arriving, walking round, talking, paperwork',
    factors: 'Who and where it takes longer or shorter',
    factorsHow:
      'Times the minutes at stations. Drawn towards 1 as far as the own record is short: the share of it that is their own stands beside it.',
    factorsNone: 'Too little to say: the records tell nobody and no place apart from the rest.',
    factorHeads: ['Who or where', 'Times', 'Own record', 'Visits'],
    times: (n: number) => `× ${n.toLocaleString('en-US')}`,
    odd: 'Records that are far off',
    oddHow:
      'Left out of what is learned. A clock that ran on, or a visit that was closed late: correct the entry.',
    oddNone: 'No record is far off.',
    oddHeads: ['Property', 'Of', 'Minutes', 'Usual'],
    wholeVisit: 'the visit besides its stations',
    oneStation: 'one station',
    baitTitle: 'Bait',
    baitLead:
      'From the application records of the last four quarters. The records themselves are what an inspector reads.',
    baitGrams: 'Grams of product by quarter',
    gramsUnit: 'g',
    applications: (n: number) => plural(n, 'application', 'applications'),
    noLabel: 'no label profile',
    totalHeads: ['Quarter', 'Product', 'EPA number', 'Applications', 'Product, grams', 'Active, grams'],
    reconciled: 'Held against counted stock',
    reconciledHow:
      'Counted first, plus received and moved in, less recorded at stations, less counted last: what is left over nobody accounts for.',
    reconciledNone: 'Too little to say: no place counted its bait on two days.',
    reconciledHeads: [
      'Place',
      'Between',
      'First',
      'Received',
      'Moved in',
      'Recorded',
      'Last',
      'Not accounted for',
    ],
    unaccounted: (pieces: number, grams: number | null) =>
      `${number(pieces)}${grams === null ? '' : ` (${number(grams)} g)`}`,
    notCounted: (n: number) =>
      `Nothing to hold against: ${plural(n, 'shelf was', 'shelves were')} counted on one day at most`,
    baitByProperty: 'By property',
    byPropertyHeads: ['Property', 'Quarter', 'Product', 'Applications', 'Product, grams', 'Active, grams'],
    riskHeads: ['Station', 'Chance', 'Nine in ten'],
  },
};
