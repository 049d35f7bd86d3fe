import { formatIn } from './format.ts';

const { number, trim, plural } = formatIn('en-US');

/** Words of the pages on what to carry and what to order, in English. */
export const load = {
  load: {
    title: 'Load',
    stockTitle: 'Stock',
    pages: 'Pages of load and stock',
    reckoning: 'Being reckoned from all that was recorded…',
    lead: 'What to take, so that no part runs out in the yard.',
    for: 'For',
    round: 'My round of a day',
    branch: 'A branch',
    day: 'Day',
    from: 'From',
    to: 'To and including',
    chance: 'A part may run out',
    chances: { '5': 'once in 20 times', '1': 'once in 100 times' } as Readonly<Record<string, string>>,
    noRound: 'No round has been sent out to you for that day.',
    nothing: 'Nothing is due by then: take nothing but tools.',
    said: (visits: number, stations: number, live: number, missed: number) =>
      `${plural(visits, 'visit', 'visits')}, ${plural(stations, 'station', 'stations')}. Expected: ${trim(live)} with live termites, ${trim(missed)} that cannot be opened.`,
    anyShort: (percent: string) => `Any of them runs out with a chance of at most ${percent}.`,
    parts: 'Parts',
    partHeads: ['Take', 'Part', 'Certain', 'Expected', 'Runs out', 'Why'],
    because: (step: string, stations: number) => `${step}: ${plural(stations, 'station', 'stations')}`,
    tools: 'Tools',
    maybe: (tool: string, percent: string) => `${tool} (${percent})`,
    print: 'Print',
    left: (n: number) => `${plural(n, 'station is', 'stations are')} not reckoned:`,
    percent: (share: number) => `${trim(100 * share)} %`,
    few: (n: number) => trim(n),
    whole: (n: number) => number(n),
    stockLead:
      'What the branch and its trucks hold together, and what to order. What is ordered and has not come is not known here: take it off.',
    order: 'To order',
    orderHeads: [
      'Order now',
      'Part',
      'In hand',
      'Order at',
      'Up to',
      'Days to come',
      'Expected till then',
      'Runs out',
    ],
    orderSays: (n: number) =>
      n === 0
        ? 'Nothing needs to be ordered now.'
        : `${plural(n, 'part needs', 'parts need')} to be ordered now.`,
    noLead: (names: string) =>
      `Nobody said how long these take to come, so nothing can be reckoned: ${names}. Enter it under Office, Parts.`,
    never: (part: string, places: string) => `${part} was never counted at: ${places}.`,
    expires: (part: string, n: number, day: string) =>
      `${part}: ${number(n)} can be used until ${day} and no longer.`,
    expired: (part: string, n: number) => `${part}: ${number(n)} have expired and do not count.`,
    shelves: 'What is where',
    shelfHeads: ['Place', 'Part', 'Lot', 'Held', 'Usable until', 'Counted on'],
    notCounted: 'never',
    empty: 'Nothing has been counted, received or moved here yet.',
    change: 'Count, receive or move',
    acts: { counted: 'Count', received: 'Receive', moved: 'Move' },
    place: 'Place',
    target: 'To',
    part: 'Part',
    count: 'Pieces',
    lot: 'Lot, as printed on the pack',
    usableUntil: 'Last day of use',
    optional: 'Leave empty if there is none',
    record: 'Record it',
    recorded: 'Recorded',
    step: {
      'set the stations beside a hit': 'Set the stations beside a hit',
      'set the replacement': 'Set the replacement',
    } as Readonly<Record<string, string>>,
    tool: {} as Readonly<Record<string, string>>,
  },
};
