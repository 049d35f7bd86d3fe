import type { Calibration } from '@sillwatch/figures';
import {
  baitAnswer,
  bookAnswer,
  efficacyAnswer,
  FIGURES,
  type FigureName,
  type Funnel,
  type GroupedTimes,
  minutesAnswer,
  publishedCriteria,
  riskAnswer,
  sentenceText,
} from '@sillwatch/rounds';
import type { Day } from '@sillwatch/trade/units';
import { type CommonOptions, dayOrToday, print, withLedger } from '../context.ts';
import { readFirmFacts } from '../factsOf.ts';
import { CommandError, EXIT, formatTable, type Io } from '../io.ts';

export { FIGURES } from '@sillwatch/rounds';

export interface FiguresOptions extends CommonOptions {
  readonly asOf?: string;
  readonly branch?: string;
  readonly most: string;
}

/** `sillwatch figures`: whether the book is healthy and the stations do their work, each figure with its sentence. */
export async function runFigures(io: Io, asked: string, options: FiguresOptions): Promise<number> {
  const name = FIGURES.find((one) => one === asked);
  if (name === undefined)
    throw new CommandError(EXIT.usage, `no figures ${JSON.stringify(asked)}`, `Use ${FIGURES.join(', ')}.`);
  const most = Number(options.most);
  if (!Number.isInteger(most) || most < 1)
    throw new CommandError(
      EXIT.usage,
      `--most ${options.most} is no number of lines`,
      'Give a whole number.',
    );
  return withLedger(io, options, async (context) => {
    const read = await readFirmFacts(context);
    const subjects = read.subjects.filter(
      ({ branch }) => options.branch === undefined || branch === options.branch,
    );
    if (options.branch !== undefined && subjects.length === 0)
      throw new CommandError(
        EXIT.missing,
        `no property belongs to a branch ${JSON.stringify(options.branch)}`,
        `There are: ${[...new Set(read.subjects.map(({ branch }) => branch))].sort().join(', ') || 'none'}.`,
      );
    const asOf = dayOrToday(io, options.asOf, subjects[0]?.state.body?.timeZone ?? 'UTC');
    const answer = answerOf(name, { ...read, subjects }, asOf, most);
    print(context, answer.value, () => answer.text);
    return EXIT.ok;
  });
}

type Read = Awaited<ReturnType<typeof readFirmFacts>>;
interface Answer {
  readonly value: unknown;
  readonly text: string;
}

function answerOf(name: FigureName, read: Read, asOf: Day, most: number): Answer {
  switch (name) {
    case 'book':
      return describeBook(read, asOf);
    case 'efficacy':
      return describeEfficacy(read, asOf);
    case 'risk':
      return describeRisk(read, asOf, most);
    case 'minutes':
      return describeMinutes(read);
    case 'bait':
      return describeBait(read, asOf);
    case 'criteria': {
      const value = publishedCriteria(read.subjects, asOf);
      const lines = value.criteria.map(
        ({ id, source, says }) => `${id}: ${sentenceText(says)}\n  ${source}\n`,
      );
      return { value, text: `${value.caution}\n\n${lines.join('')}` };
    }
  }
}

function describeBook(read: Read, asOf: Day): Answer {
  const { withoutProfile } = read;
  const book = bookAnswer(read, asOf);
  const lines: readonly (readonly [string, string])[] = [
    ['late work', sentenceText(book.late.says)],
    ['looks in their windows', sentenceText(book.windowsKept.looks.says)],
    ['yearly services in theirs', sentenceText(book.windowsKept.yearlyServices.says)],
    ['stations unseen twice in a row', sentenceText(book.unseenTwice.says)],
    ['services carried over', sentenceText(book.carriedOver.says)],
    ['hits that are open', book.hits === null ? 'None.' : sentenceText(book.hits.open.says)],
    ['hits against last year', book.hits === null ? 'None.' : sentenceText(book.hits.change.says)],
    ['months ahead', sentenceText(book.workload.says)],
    ['agreements that renew', sentenceText(book.renewals.says)],
    ['technicians, windows missed', sentenceText(book.technicians.windowsMissed.says)],
    ['technicians, not opened', sentenceText(book.technicians.notOpened.says)],
    ['branches, windows missed', sentenceText(book.branches.windowsMissed.says)],
    ['branches, not opened', sentenceText(book.branches.notOpened.says)],
  ];
  const table = formatTable(
    [
      { title: 'figure', of: ([title]) => title },
      { title: 'says', of: ([, says]) => says },
    ],
    lines,
  );
  const missing =
    withoutProfile.length === 0 ? '' : `\nIn no figure, no label profile: ${withoutProfile.join(', ')}.\n`;
  const funnel = `${describeFunnel('technician', book.technicians.notOpened)}\n${describeFunnel('branch', book.branches.notOpened)}`;
  return {
    value: book,
    text: `${book.asOf}: ${book.properties} properties, ${book.stations} stations.\n\n${table}\n${funnel}${missing}`,
  };
}

function describeFunnel(title: string, { points }: Funnel): string {
  return formatTable(
    [
      { title, of: ({ key }) => key },
      { title: 'not opened', of: ({ events }) => String(events), alignRight: true },
      { title: 'of', of: ({ trials }) => String(trials), alignRight: true },
      { title: 'standing', of: ({ standing }) => standing },
    ],
    points,
  );
}

function describeEfficacy(read: Read, asOf: Day): Answer {
  const value = efficacyAnswer(read, asOf);
  const times = (title: string, of: GroupedTimes): string =>
    [
      `${title}: ${sentenceText(of.all.says)}`,
      ...(of.all.curve === null ? [] : [`  ${sentenceText(of.all.curve.restrictedMean.says)}`]),
      ...of.groups.map(({ group, says }) => `  ${group.replace(/^\d /, '')}: ${sentenceText(says)}`),
      ...(of.says === null ? [] : [`  ${sentenceText(of.says)}`]),
      '',
    ].join('\n');
  const quarters = formatTable(
    [
      { title: 'quarter', of: ({ period }) => period.name },
      { title: 'hits', of: ({ hits }) => String(hits), alignRight: true },
      { title: 'clear', of: ({ stationsCleared }) => String(stationsCleared), alignRight: true },
      { title: 'monitors lost', of: ({ monitorsLost }) => String(monitorsLost), alignRight: true },
      { title: 'not opened', of: ({ notOpened }) => String(notOpened), alignRight: true },
      { title: 'says', of: ({ says }) => sentenceText(says) },
    ],
    value.quarters,
  );
  return {
    value,
    text:
      times('From installation to the first hit, structures', value.toFirstHit.structures) +
      times('From baiting to clear, structures', value.toClear.structures) +
      `Stations of one structure may share a colony, so structures are counted.\n\n${quarters}\nHits are those of stations. ${sentenceText(value.change.says)}\n`,
  };
}

function describeRisk(read: Read, asOf: Day, most: number): Answer {
  const value = riskAnswer(read, asOf);
  const { stations: rows, calibration } = value;
  const share = (chance: number): string => `${(100 * chance).toFixed(1)} %`;
  const table = formatTable(
    [
      { title: 'property', of: (row) => row.property },
      { title: 'station', of: (row) => String(row.number), alignRight: true },
      { title: 'chance of a hit', of: (row) => share(row.chance), alignRight: true },
      { title: 'nine in ten', of: (row) => `${share(row.lower)} to ${share(row.upper)}` },
      { title: 'from', of: (row) => row.from },
    ],
    rows.slice(0, most),
  );
  const kept =
    calibration === null
      ? 'Too little to say how true the chances are.\n'
      : `The six months before: ${calibration.happened} hits where ${calibration.expected.toFixed(1)} were expected (chance of so poor a fit: ${(calibration.p ?? 1).toFixed(2)}).\n`;
  return {
    value,
    text: `${value.hits} hits at ${value.looks} looks${value.tooLittle ? ': too little to say more than the common rate' : ''}. An order of urgency, never a reason to skip a due visit.\n${kept}\n${calibration === null ? '' : `${describeBands(calibration)}\n`}${table}`,
  };
}

function describeBands({ bands }: Calibration): string {
  const share = (chance: number): string => `${(100 * chance).toFixed(2)} %`;
  return formatTable(
    [
      { title: 'said', of: ({ promised }) => share(promised), alignRight: true },
      { title: 'came', of: ({ seen }) => share(seen.estimate), alignRight: true },
      { title: 'nineteen in twenty', of: ({ seen }) => `${share(seen.lower)} to ${share(seen.upper)}` },
      { title: 'hits', of: ({ happened }) => String(happened), alignRight: true },
      { title: 'looks', of: ({ cases }) => String(cases), alignRight: true },
    ],
    bands,
  );
}

function describeMinutes(read: Read): Answer {
  const learned = minutesAnswer(read);
  const classes = formatTable(
    [
      { title: 'work at a station', of: ([name]) => name },
      { title: 'minutes', of: ([, { mean }]) => mean.toFixed(1), alignRight: true },
      { title: 'records', of: ([, { records }]) => String(records), alignRight: true },
    ],
    Object.entries(learned.perStation),
  );
  const odd = learned.odd
    .slice(0, 20)
    .map(
      ({ property, visit, station, minutes, usual }) =>
        `  ${property} ${visit} ${station ?? 'the visit itself'}: ${minutes.toFixed(0)} minutes where ${usual.toFixed(1)} are usual\n`,
    );
  const flagged =
    odd.length === 0
      ? 'No record is far off.\n'
      : `Far off, and left out (${learned.odd.length}):\n${odd.join('')}`;
  return {
    value: learned,
    text: `${classes}\nA visit besides: ${learned.perVisit.mean.toFixed(1)} minutes (${learned.perVisit.records} records).\n${flagged}`,
  };
}

function describeBait(read: Read, asOf: Day): Answer {
  const value = baitAnswer(read, asOf);
  const { used, ...stock } = value;
  const table = formatTable(
    [
      { title: 'property', of: (row) => row.property },
      { title: 'quarter', of: (row) => row.period },
      { title: 'product', of: (row) => row.product },
      { title: 'EPA number', of: (row) => row.epaRegistrationNumber },
      { title: 'applications', of: (row) => String(row.applications), alignRight: true },
      { title: 'grams', of: (row) => row.grams.toFixed(0), alignRight: true },
      { title: 'active, grams', of: (row) => row.activeGrams?.toFixed(2) ?? 'no profile', alignRight: true },
    ],
    used,
  );
  const reconciled = stock.reconciled.map(
    (one) =>
      `${one.place}, ${one.part}: ${one.unaccounted} pieces unaccounted for from ${one.from} to ${one.to}.\n`,
  );
  const notCounted = stock.notCounted.map(
    ({ place, part }) => `${place}, ${part}: counted once at most, so nothing to hold against.\n`,
  );
  const told =
    reconciled.length + notCounted.length === 0
      ? 'No stock of bait was counted: nothing to hold the records against.\n'
      : '';
  return {
    value,
    text: `${table}\n${reconciled.join('')}${notCounted.join('')}${told}`,
  };
}
