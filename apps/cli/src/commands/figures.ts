import {
  baitUsed,
  bookFigures,
  calibrateHitRisk,
  changeOverYear,
  estimateServiceMinutes,
  type FigureSubject,
  type Funnel,
  fitHitRisk,
  type GroupedTimes,
  publishedCriteria,
  quartersUntil,
  ratesIn,
  reconcileBait,
  sentenceText,
  stationRuns,
  stationWatches,
  structureRuns,
  structureWatches,
  timeToClear,
  timeToFirstHit,
} from '@sillwatch/rounds';
import { addMonths, type Day, dayToText } from '@sillwatch/trade/units';
import { type CommonOptions, dayOrToday, print, withLedger } from '../context.ts';
import { readFirmFacts } from '../factsOf.ts';
import { CommandError, EXIT, formatTable, type Io } from '../io.ts';

export const FIGURES = ['book', 'efficacy', 'risk', 'minutes', 'bait', 'criteria'] as const;
export type FigureName = (typeof FIGURES)[number];

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
      return bookAnswer(read, asOf);
    case 'efficacy':
      return efficacyAnswer(read.subjects, asOf);
    case 'risk':
      return riskAnswer(read.subjects, asOf, most);
    case 'minutes':
      return minutesAnswer(read.subjects);
    case 'bait':
      return baitAnswer(read, asOf);
    case 'criteria': {
      const value = publishedCriteria(read.subjects, asOf);
      const lines = value.criteria.map(
        ({ id, source, says }) => `${id}: ${sentenceText(says)}\n  ${source}\n`,
      );
      return { value, text: `${value.caution}\n\n${lines.join('')}` };
    }
  }
}

function bookAnswer({ subjects, withoutProfile }: Read, asOf: Day): Answer {
  const minutes = estimateServiceMinutes(subjects.map(({ history }) => history));
  const book = bookFigures({ subjects, withoutProfile, minutes, asOf });
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
  const funnel = describeFunnel(book.technicians.notOpened);
  return {
    value: book,
    text: `${book.asOf}: ${book.properties} properties, ${book.stations} stations.\n\n${table}\n${funnel}${missing}`,
  };
}

function describeFunnel({ points }: Funnel): string {
  return formatTable(
    [
      { title: 'technician', of: ({ key }) => key },
      { title: 'not opened', of: ({ events }) => String(events), alignRight: true },
      { title: 'of', of: ({ trials }) => String(trials), alignRight: true },
      { title: 'standing', of: ({ standing }) => standing },
    ],
    points,
  );
}

function efficacyAnswer(subjects: readonly FigureSubject[], asOf: Day): Answer {
  const runs = subjects.flatMap((subject) => stationRuns(subject));
  const watches = subjects.flatMap((subject) => stationWatches(subject));
  const value = {
    asOf: dayToText(asOf),
    toFirstHit: {
      stations: timeToFirstHit(watches, 'stations'),
      structures: timeToFirstHit(structureWatches(watches), 'structures'),
    },
    toClear: {
      stations: timeToClear(runs, 'stations'),
      structures: timeToClear(structureRuns(runs), 'structures'),
    },
    quarters: ratesIn(subjects, quartersUntil(asOf, 12)),
    change: changeOverYear(subjects, asOf),
  };
  const times = (title: string, of: GroupedTimes): string =>
    [
      `${title}: ${sentenceText(of.all.says)}`,
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
      `\n${quarters}\n${sentenceText(value.change.says)}\nStations of one structure may share a colony: structures are counted, not stations.\n`,
  };
}

function riskAnswer(subjects: readonly FigureSubject[], asOf: Day, most: number): Answer {
  const risk = fitHitRisk(subjects, asOf);
  const rows = subjects
    .flatMap(({ history, state }) =>
      state.stations
        .filter((station) => station.inService)
        .flatMap(({ station, number }) => {
          const found = risk.chanceOf(history.property, station, asOf);
          return found === undefined || found.chance === 0
            ? []
            : [
                {
                  property: history.property,
                  station,
                  number,
                  chance: found.chance,
                  lower: found.lower,
                  upper: found.upper,
                  from: found.from,
                },
              ];
        }),
    )
    .sort((a, b) => b.chance - a.chance);
  const calibration = calibrateHitRisk(subjects, addMonths(asOf, -6)) ?? null;
  const value = {
    asOf: dayToText(asOf),
    looks: risk.looks,
    hits: risk.hits,
    tooLittle: risk.fit === null,
    calibration,
    stations: rows,
  };
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
    text: `${risk.hits} hits at ${risk.looks} looks${risk.fit === null ? ': too little to say more than the common rate' : ''}. An order of urgency, never a reason to skip a due visit.\n${kept}\n${table}`,
  };
}

function minutesAnswer(subjects: readonly FigureSubject[]): Answer {
  const { minutesFor: _, ...learned } = estimateServiceMinutes(subjects.map(({ history }) => history));
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

function baitAnswer({ subjects, firm, facts }: Read, asOf: Day): Answer {
  const used = baitUsed(subjects, Object.values(firm.profiles), quartersUntil(asOf, 4));
  const stock = reconcileBait(facts, subjects, firm.parts);
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
      `${one.place}, ${one.part}: ${one.unaccounted} pieces unaccounted for from ${dayToText(one.from)} to ${dayToText(one.to)}.\n`,
  );
  const notCounted = stock.notCounted.map(
    ({ place, part }) => `${place}, ${part}: counted once at most, so nothing to hold against.\n`,
  );
  const told =
    reconciled.length + notCounted.length === 0
      ? 'No stock of bait was counted: nothing to hold the records against.\n'
      : '';
  return {
    value: { asOf: dayToText(asOf), used, ...stock },
    text: `${table}\n${reconciled.join('')}${notCounted.join('')}${told}`,
  };
}
