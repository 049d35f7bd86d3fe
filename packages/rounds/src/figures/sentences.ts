/** Plain sentences beside figures, by key: screens put their own language in; these are the English ones. `{name}` takes a value. */
export const SENTENCES = {
  'too little to say':
    'Too little to say: {events} of at least {leastEvents} events, {subjects} of at least {leastSubjects} {unit}.',
  'half by': 'Half of {subjects} {unit} had come to it by day {median} (95 %: day {lower} to {upper}).',
  'half not yet': 'Fewer than half of {subjects} {unit} have come to it; {events} have.',
  rate: '{events} in {exposure} station-quarters: {rate} in a hundred (95 %: {lower} to {upper}).',
  'rate unchanged':
    'Now {ratio} times as many as the year before (95 %: {lower} to {upper}): chance alone can do that.',
  'rate fell':
    'Now {ratio} times as many as the year before (95 %: {lower} to {upper}): fewer than chance explains.',
  'rate rose':
    'Now {ratio} times as many as the year before (95 %: {lower} to {upper}): more than chance explains.',
  'groups alike':
    'No difference between the groups that chance could not make (log-rank {chiSquare} on {degrees}, p {p}).',
  'groups differ': 'The groups differ by more than chance makes (log-rank {chiSquare} on {degrees}, p {p}).',
  'groups too few': 'Too little to say whether the groups differ.',
  'mean wait': 'On average {mean} of the first {horizon} days went by without it (95 %: {lower} to {upper}).',
  'funnel inside': 'All {points} lie where chance alone puts them.',
  'funnel edge':
    '{edge} of {points} beyond the inner lines, none beyond the outer ones: chance alone puts one in twenty there.',
  'funnel outside':
    '{outside} of {points} lie farther from the rest than chance alone puts them: look there, with their yards in mind.',
  'funnel too few':
    'Too little to say: fewer than two of {points} have enough to be held against each other.',
  share: '{events} of {trials}: {share} % (95 %: {lower} to {upper}).',
  'share as colonies':
    '{events} of {trials}: {share} % (95 %: {lower} to {upper}), all hits of a structure at one time taken for one colony, and no termites at stations for a suppressed one.',
  none: 'None.',
  count: '{count} at {properties} properties.',
  workload: '{visits} visits, {minutes} minutes.',
  'bait used':
    '{applications} applications in the last four quarters: {grams} grams of product, {activeGrams} grams of active ingredient.',
  'minutes assumed': 'Nothing is learned yet: these are the assumptions.',
  'minutes learned':
    'Learned from {stations} looks and {visits} visits; {odd} records are far off, and left out.',
  'chances kept': '{happened} hits where {expected} were expected: chance alone can do that (p {p}).',
  'chances off':
    '{happened} hits where {expected} were expected: farther off than chance makes it (p {p}). Take the order, not the numbers.',
  'chances not tried':
    'Too little to say how true these chances are: no half year of looks follows ten hits.',
  'soil warm': 'Warm enough for termites to forage from {from} to {to}: {days} days of the year.',
  'soil never warm': 'Never warm enough for termites to forage, by these numbers.',
  'soil always warm': 'Warm enough for termites to forage all year.',
  'structures are not inspected':
    'Not in this record: it holds looks at stations, and no inspections of the structures themselves.',
  'take it from the guideline': "Take this figure from the guideline's own text.",
} as const;
export type SentenceKey = keyof typeof SENTENCES;

/** A sentence as data. Numbers are as they are: the screen rounds them. */
export interface Sentence {
  readonly key: SentenceKey;
  readonly values: Readonly<Record<string, number | string | null>>;
}

export function sentence(key: SentenceKey, values: Sentence['values'] = {}): Sentence {
  return { key, values };
}

/** The English sentence, numbers to three digits; a value that is not known reads "not yet known". */
export function sentenceText({ key, values }: Sentence): string {
  return SENTENCES[key].replace(/\{(\w+)\}/g, (_, name: string) => {
    const value = values[name] ?? null;
    if (value === null) return 'not yet known';
    return typeof value === 'string' ? value : roundText(value);
  });
}

function roundText(value: number): string {
  if (!Number.isFinite(value)) return 'no limit';
  if (Number.isInteger(value)) return String(value);
  return String(Math.abs(value) >= 100 ? Math.round(value) : Number(value.toPrecision(3)));
}
