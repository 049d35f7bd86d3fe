import { writeFileSync } from 'node:fs';
import { listEveryFact } from '@sillwatch/ledger';
import {
  applicationRecords,
  type Document,
  type FirmCard,
  type PaperLanguage,
  type RecordFilter,
  type RecordQuestion,
  readRecordFilter,
  recordCsv,
  recordDocument,
  renderHtml,
  renderPdf,
  renewalLetter,
  stationListCsv,
  stationListDocument,
  visitReport,
  workListCsv,
  workListDocument,
} from '@sillwatch/paper';
import { listPublished, openServerAccounts, readRoundPaper } from '@sillwatch/server';
import { dayToText, dueWork, type PropertyState } from '@sillwatch/trade';
import {
  type CommonOptions,
  type Context,
  dayOrToday,
  getProfile,
  getProperty,
  ledgerUrl,
  withLedger,
} from '../context.ts';
import { CommandError, EXIT, type Io } from '../io.ts';

export interface ReportOptions extends CommonOptions {
  readonly format: 'html' | 'pdf' | 'csv';
  readonly out?: string;
  readonly asOf?: string;
  readonly from?: string;
  readonly to?: string;
  readonly property?: string;
  readonly product?: string;
  readonly technician?: string;
  readonly lang?: PaperLanguage;
}

/** `sillwatch report visit ID`: what the customer is told of a visit. */
export async function runVisitReport(
  io: Io,
  visit: string | undefined,
  options: ReportOptions,
): Promise<number> {
  if (visit === undefined)
    throw new CommandError(
      EXIT.usage,
      'which visit?',
      'Name it: `sillwatch property ID --json` lists the visits of a property.',
    );
  return withLedger(io, options, async (context) => {
    const property = await findPropertyOfVisit(context, visit, options);
    const subject = await describeProperty(context, property, options);
    const facts = await listEveryFact(context.ledger, context.firm, { property: property.property });
    await write(io, options, visitReport({ ...subject, facts, visit }), undefined);
    return EXIT.ok;
  });
}

/** `sillwatch report stations PROPERTY`. */
export async function runStationsReport(
  io: Io,
  id: string | undefined,
  options: ReportOptions,
): Promise<number> {
  const asked = id ?? options.property;
  if (asked === undefined)
    throw new CommandError(EXIT.usage, 'which property?', 'Name it: `sillwatch property` lists them.');
  return withLedger(io, options, async (context) => {
    const subject = await describeProperty(context, await getProperty(context, asked), options);
    await write(io, options, stationListDocument(subject), () => stationListCsv(subject));
    return EXIT.ok;
  });
}

/** `sillwatch report applications`: the pesticide application record of a period, with every correction. */
export async function runApplicationsReport(io: Io, options: ReportOptions): Promise<number> {
  return withLedger(io, options, async (context) => {
    const filter = await readFilter(context, options);
    // Of every kind: an application told of by one that this build does not know must not be missing from the record.
    const facts = await listEveryFact(context.ledger, context.firm);
    const rows = applicationRecords(facts, filter);
    const { profiles } = await context.ledger.getFirm(context.firm);
    const firm = await describeFirm(context, options);
    const writtenAt = Temporal.Instant.fromEpochMilliseconds(io.now()).toString();
    const document = recordDocument({
      firm,
      rows,
      filter,
      profiles: Object.values(profiles),
      writtenAt,
      ...langOf(options),
    });
    await write(io, options, document, () => recordCsv(rows, filter, options.lang));
    return EXIT.ok;
  });
}

/** `sillwatch report renewal PROPERTY`: the letter before an agreement ends. */
export async function runRenewalLetter(
  io: Io,
  id: string | undefined,
  options: ReportOptions,
): Promise<number> {
  const asked = id ?? options.property;
  if (asked === undefined)
    throw new CommandError(EXIT.usage, 'which property?', 'Name it: `sillwatch property` lists them.');
  return withLedger(io, options, async (context) => {
    const property = await getProperty(context, asked);
    if ((property.body?.agreement ?? null) === null)
      throw new CommandError(
        EXIT.found,
        `${property.property} has no agreement with a day of renewal`,
        'Record its agreement first.',
      );
    const subject = await describeProperty(context, property, options);
    const facts = await listEveryFact(context.ledger, context.firm, { property: property.property });
    await write(io, options, renewalLetter({ ...subject, facts }), undefined);
    return EXIT.ok;
  });
}

/** `sillwatch report worklist PERSON --as-of DAY`: a technician's round as it was sent out. */
export async function runWorkList(
  io: Io,
  person: string | undefined,
  options: ReportOptions,
): Promise<number> {
  if (person === undefined)
    throw new CommandError(EXIT.usage, 'whose round?', 'Name the account id of who drives it.');
  return withLedger(io, options, async (context) => {
    const { branches, technicians } = await context.ledger.getFirm(context.firm);
    const timeZone = branches[technicians[person]?.branch ?? '']?.timeZone ?? 'UTC';
    const day = dayToText(dayOrToday(io, options.asOf, timeZone));
    const rounds = await listPublished(context.ledger, context.firm);
    const round = rounds.find((one) => one.person === person && one.day === day);
    if (round === undefined) {
      const days = rounds.filter((one) => one.person === person).map((one) => one.day);
      throw new CommandError(
        EXIT.missing,
        `no round of ${JSON.stringify(person)} on ${day} was sent out`,
        days.length === 0
          ? `Rounds were sent out for: ${[...new Set(rounds.map((one) => one.person))].join(', ') || 'nobody yet'}.`
          : `There are rounds on ${days.slice(-8).join(', ')}.`,
      );
    }
    const input = {
      firm: await describeFirm(context, options),
      personName: technicians[person]?.name ?? person,
      writtenAt: Temporal.Instant.fromEpochMilliseconds(io.now()).toString(),
      ...langOf(options),
      ...(await readRoundPaper(context.ledger, context.firm, round)),
    };
    await write(io, options, workListDocument(input), () => workListCsv(input));
    return EXIT.ok;
  });
}

/** Throws where there is no such property: an empty record would say that nothing was ever applied there. */
export async function readFilter(
  context: Context,
  options: RecordQuestion & CommonOptions,
): Promise<RecordFilter> {
  const property =
    options.property === undefined ? undefined : (await getProperty(context, options.property)).property;
  return readRecordFilter({ ...options, property }, (text) => dayOrToday(context.io, text, 'UTC'));
}

export function langOf({ lang }: { readonly lang?: PaperLanguage }): { readonly lang?: PaperLanguage } {
  return lang === undefined ? {} : { lang };
}

async function findPropertyOfVisit(
  context: Context,
  visit: string,
  options: ReportOptions,
): Promise<PropertyState> {
  if (options.property !== undefined) return getProperty(context, options.property);
  for (const property of await context.ledger.listProperties(context.firm, { limit: 1_000_000 })) {
    if (property.visits.some((each) => each.visit === visit)) return property;
  }
  throw new CommandError(
    EXIT.missing,
    `no visit ${JSON.stringify(visit)}`,
    '`sillwatch property ID --json` lists the visits of a property.',
  );
}

export async function describeProperty(
  context: Context,
  property: PropertyState,
  options: CommonOptions & { readonly asOf?: string; readonly lang?: PaperLanguage },
) {
  const timeZone = property.body?.timeZone ?? 'UTC';
  const asOf = dayOrToday(context.io, options.asOf, timeZone);
  const profile = await getProfile(context, property);
  const { models } = await context.ledger.getFirm(context.firm);
  const now = Temporal.Instant.fromEpochMilliseconds(context.io.now()).toZonedDateTimeISO(timeZone);
  return {
    firm: await describeFirm(context, options),
    property,
    models,
    profile,
    due: dueWork(property.stations, profile, asOf),
    asOf,
    writtenAt: now.round('second').toString({ timeZoneName: 'never' }),
    ...langOf(options),
  };
}

/** The name on the paper's head, from the firm's account; its id where there is none. */
export async function describeFirm(context: Context, options: CommonOptions): Promise<FirmCard> {
  const accounts = await openServerAccounts({
    databaseUrl: ledgerUrl(context.io, options.data),
    dataFolder: options.data,
  });
  try {
    return { name: (await accounts.findFirmName(context.firm)) ?? context.firm, lines: [] };
  } finally {
    await accounts.close();
  }
}

async function write(
  io: Io,
  options: ReportOptions,
  document: Document,
  csv: (() => string) | undefined,
): Promise<void> {
  const content = await render(options, document, csv);
  if (options.out !== undefined) {
    writeFileSync(options.out, content, { mode: 0o600 });
    io.err(`written to ${options.out}\n`);
    return;
  }
  if (typeof content !== 'string')
    throw new CommandError(EXIT.usage, 'a PDF does not belong on a terminal', 'Give a file with --out.');
  io.out(content);
}

async function render(
  options: ReportOptions,
  document: Document,
  csv: (() => string) | undefined,
): Promise<string | Uint8Array> {
  switch (options.format) {
    case 'html':
      return renderHtml(document);
    case 'pdf':
      return renderPdf(document);
    case 'csv':
      if (csv === undefined)
        throw new CommandError(EXIT.usage, 'this paper is not a table', 'Use --format html or pdf.');
      return csv();
  }
}
