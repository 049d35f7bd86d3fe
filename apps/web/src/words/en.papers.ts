import { formatIn } from './format.ts';

const { number, plural } = formatIn('en-US');

/** Words of the papers page, in English. */
export const papers = {
  papers: {
    title: 'Papers',
    lead: 'Choose a paper, see what it will hold, then take the file.',
    inspectorTitle: 'Records',
    inspectorLead:
      'What was applied, by whom, where and when, as it was recorded and with every correction. Nothing here can be changed.',
    which: 'Which paper',
    names: {
      worklist: 'Work list of a day',
      record: 'Application record',
      stations: 'Station inventory',
      labels: 'Tag labels',
      renewals: 'Renewal letters',
      bundle: "Inspector's bundle",
    },
    language: 'Language of the paper',
    find: 'Find a property',
    /** In the list; how many match; how many there are. */
    listed: (shown: number, found: number, all: number) =>
      all === 0
        ? 'There is no property yet.'
        : found === 0
          ? `None of ${plural(all, 'property', 'properties')} matches: type fewer letters.`
          : shown < found
            ? `The list below shows ${number(shown)} of ${number(found)}: type a part of the name to narrow it down.`
            : `The list below shows ${found === all ? 'every property' : `the ${number(found)} that match`}.`,
    property: 'Property',
    pickProperty: 'Choose one',
    everyProperty: 'Every property',
    get: {
      pdf: 'Take the PDF',
      csv: 'Take the table (CSV)',
      zip: 'Take the bundle (ZIP)',
      html: 'Open as a page',
    },
    beingWritten: 'The file is being written. Long ones take a minute.',
    look: 'Look at it here',
    preview: (name: string) => `${name}, as it will be`,
    handOut: 'hand out',
    day: 'Day',
    technician: 'Technician',
    noRound: 'No round was sent out for this day',
    noRoundRemedy: 'Choose another day, or send rounds out from the plan.',
    holdsRound: (visits: number, works: number) =>
      `${plural(visits, 'stop', 'stops')} with work at ${plural(works, 'place', 'places')}, in driving order.`,
    record: {
      from: 'From',
      to: 'To',
      technician: 'Technician',
      technicianHint: 'Name or certification number, whole',
      product: 'Product',
      productHint: 'EPA registration number',
    },
    holdsRecord: ({
      applications,
      wordings,
      properties,
    }: {
      applications: number;
      wordings: number;
      properties: number;
    }) =>
      applications === 0
        ? 'No application is recorded for this. The paper says so.'
        : `${plural(applications, 'application', 'applications')} at ${plural(properties, 'property', 'properties')}${wordings > applications ? `; with corrections ${plural(wordings, 'entry', 'entries')}` : ''}.`,
    gaps: (n: number) =>
      `${plural(n, 'entry lacks', 'entries lack')} something that the record should hold; the paper names it.`,
    whole: 'With every entry of the firm',
    wholeHow: 'The chain can then be recomputed from its beginning, and it shows that nothing is missing.',
    partHow:
      'Only the entries behind the record. Each can be checked, but not that nothing is missing between them.',
    inBundle:
      'In the file: the record as PDF and as a table, the stored entries behind it with their hashes, and a small program that checks them without us.',
    chain: 'Was anything changed afterwards?',
    chainHow:
      'Every entry is sealed together with the one before it. Checking them all shows whether a stored record was altered, removed or put in between.',
    check: 'Check every entry',
    checking: 'Checking…',
    sound: (n: number) =>
      `Nothing was changed: ${plural(n, 'entry', 'entries')} checked, each fits the one before`,
    soundHow: 'The last seal. Write it down: the same number of entries must give the same seal again.',
    broken: (n: number) => `Something was changed: entry ${number(n)} does not fit the one before it`,
    brokenHow: (n: number) =>
      `The first ${plural(n, 'entry fits', 'entries fit')}. Keep a copy of the database as it is, and compare it with the last backup.`,
    holdsStations: (standing: number, removed: number) =>
      `${plural(standing, 'station', 'stations')} in service${removed > 0 ? `, ${number(removed)} taken out` : ''}.`,
    month: 'Month in which the agreement ends',
    noRenewals: 'No agreement ends in this month',
    noRenewalsRemedy: 'Choose another month. A property without an agreement has no letter.',
    holdsRenewals: (n: number) => `${plural(n, 'letter', 'letters')}, the earliest first.`,
    lettersLanguage: 'Language of the letters',
    ownLanguage: "each customer's own",
    sides: 'Printed on',
    sidesOf: { one: 'one side of the sheet', both: 'both sides: each letter begins on a sheet of its own' },
    lettersHow:
      'All letters of the month in one file, ready to print; at its end, which were not written and why.',
    letterByLetter: 'Letter by letter',
    leftOut: 'Not written',
    holdsLeftOut: (n: number) =>
      `${plural(n, 'letter is', 'letters are')} not written: something is missing.`,
    lacks: (what: string) => `lacks: ${what}`,
    letterGaps: {
      'no customer': 'name of the customer',
      'no address': 'street or town',
      'no station': 'a station in service',
      'no label profile': 'label profile',
    },
    listedOnly: (shown: number, all: number) =>
      `The list shows the first ${number(shown)} of ${number(all)}; the file holds all.`,
    letterOf: (day: string, customer: string) =>
      customer === '' ? `ends ${day}` : `${customer}, ends ${day}`,
    labelsFor: 'Labels for',
    labelsOf: {
      stations: 'stations that have a tag',
      'new tags': 'new tags, before they go into the ground',
    },
    prefix: 'Letters before the number',
    prefixHint: 'At most 20; may stay empty',
    prefixWrong: 'At most 20 letters',
    firstTag: 'First number',
    firstTagHint: 'Keeps its width: 0099 is followed by 0100',
    firstTagWrong: 'Digits only, 12 at most',
    count: 'How many',
    countWrong: 'A whole number from 1 to 2000',
    newTags: (from: string, to: string) => (from === to ? `Tag ${from}.` : `Tags ${from} to ${to}.`),
    newTagsHow:
      'Write down where you stopped: nothing is recorded before a station carries its tag, and the same number printed twice is not noticed.',
    ownStock: 'Own measures',
    ownKind: 'What is in the printer',
    ownKinds: { sheet: 'sheets', roll: 'a roll' },
    ownLead: 'In millimetres, from the upper left corner of the sheet. Kept in this browser.',
    measures: {
      pageWidthMm: 'Sheet, width',
      pageHeightMm: 'Sheet, height',
      columns: 'Labels across',
      rows: 'Labels down',
      labelWidthMm: 'Label, width',
      labelHeightMm: 'Label, height',
      leftMm: 'Left edge to the first label',
      topMm: 'Upper edge to the first label',
      pitchXMm: 'From one label to the next, across',
      pitchYMm: 'From one label to the next, down',
    },
    measureWrong: 'Millimetres from 0 to 2000',
    countOfWrong: 'A whole number from 1 to 100',
    measuresLack: 'Enter every measure first.',
    stock: 'Labels',
    sheet: (page: string, columns: number, rows: number) =>
      `Sheet, ${page}: ${number(columns)} across, ${number(rows)} down`,
    roll: (size: string) => `Roll, ${size} mm`,
    only: 'Stations',
    onlyHint: 'Numbers, for example 1-10, 14. Empty = all',
    onlyWrong: 'Write numbers and spans: 1-10, 14',
    first: 'First free place on the sheet',
    firstHint: 'Counted from the upper left, row by row',
    firstWrong: (n: number) => `A whole number from 1 to ${number(n)}`,
    holdsLabels: (labels: number, sheets: number) =>
      `${plural(labels, 'label', 'labels')} on ${plural(sheets, 'sheet', 'sheets')}.`,
    holdsRoll: (labels: number) => `${plural(labels, 'label', 'labels')}, one after the other.`,
    untagged: (n: number) => `${plural(n, 'station has', 'stations have')} no tag yet and no label.`,
    noTags: 'There is no label to print',
    noTagsRemedy: (n: number): string =>
      n === 0
        ? 'No station in service has one of these numbers.'
        : 'None of these stations has a tag yet: record one, or print new tags first.',
    plainFirst: 'Print at full size, and hold the first print on plain paper against a sheet of labels.',
  },
};
