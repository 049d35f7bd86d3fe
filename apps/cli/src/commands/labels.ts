import { readFileSync, writeFileSync } from 'node:fs';
import {
  findStockFault,
  LABEL_STOCK_NAMES,
  LABEL_STOCKS,
  type LabelStock,
  labelsOfProperty,
  newTags,
  type PaperLanguage,
  readStationNumbers,
  renderLabels,
  type TagLabel,
} from '@sillwatch/paper';
import { type CommonOptions, type Context, getProperty, withLedger } from '../context.ts';
import { CommandError, EXIT, type Io } from '../io.ts';
import { describeFirm, langOf } from './report.ts';

export interface LabelOptions extends CommonOptions {
  readonly out: string;
  readonly stock: string;
  readonly prefix: string;
  readonly first?: string;
  readonly count: string;
  readonly skip: string;
  /** stations by number, `1-10, 14` */
  readonly only?: string;
  readonly lang?: PaperLanguage;
}

/** `sillwatch labels [PROPERTY] --out FILE`: labels with codes for the tags of a property, or for new ones. */
export async function runLabels(io: Io, id: string | undefined, options: LabelOptions): Promise<number> {
  const stock = readStock(options.stock);
  const skip = wholeNumber('--skip', options.skip);
  return withLedger(io, options, async (context) => {
    const firm = await describeFirm(context, options);
    const labels = await chooseLabels(context, id, options, firm.name);
    const writtenAt = Temporal.Instant.fromEpochMilliseconds(io.now()).toString();
    const bytes = await explain(() =>
      renderLabels({ stock, labels, skip, firmName: firm.name, writtenAt, ...langOf(options) }),
    );
    writeFileSync(options.out, bytes, { mode: 0o600 });
    io.err(`${labels.length} labels written to ${options.out}\n`);
    return EXIT.ok;
  });
}

async function chooseLabels(
  context: Context,
  id: string | undefined,
  options: LabelOptions,
  firmName: string,
): Promise<readonly TagLabel[]> {
  if (id === undefined) {
    const { first } = options;
    if (first === undefined)
      throw new CommandError(
        EXIT.usage,
        'labels for what?',
        'Name a property, or begin new tags with --first 0001 --count 30.',
      );
    const count = wholeNumber('--count', options.count);
    return (await explain(async () => newTags(options.prefix, first, count))).map((tag) => ({
      tag,
      lines: [firmName],
    }));
  }
  const property = await getProperty(context, id);
  const { labels, untagged } = await explain(async () =>
    labelsOfProperty(
      property,
      firmName,
      options.lang,
      options.only === undefined ? undefined : readStationNumbers(options.only),
    ),
  );
  if (untagged.length > 0)
    context.io.err(`No tag yet at station ${untagged.join(', ')}: no label for these.\n`);
  return labels;
}

/** The name of a grid, or a JSON file with its numbers. */
function readStock(text: string): LabelStock {
  const name = LABEL_STOCK_NAMES.find((one) => one === text);
  if (name !== undefined) return LABEL_STOCKS[name];
  const remedy = `Use one of ${LABEL_STOCK_NAMES.join(', ')}, or a JSON file with the numbers (docs/how-to/print-tag-labels.md).`;
  let value: unknown;
  try {
    value = JSON.parse(readFileSync(text, 'utf8'));
  } catch {
    throw new CommandError(EXIT.usage, `no grid of labels ${JSON.stringify(text)}`, remedy);
  }
  const stock = toStock(value);
  const fault = stock === undefined ? 'a number is missing' : findStockFault(stock);
  if (stock === undefined || fault !== undefined)
    throw new CommandError(EXIT.usage, `${text} cannot be printed on: ${fault}`, remedy);
  return stock;
}

function toStock(value: unknown): LabelStock | undefined {
  if (typeof value !== 'object' || value === null) return undefined;
  const numbers = new Map(Object.entries(value).filter(([, one]) => typeof one === 'number'));
  const of = (name: string): number => numbers.get(name) ?? Number.NaN;
  const label = { labelWidthMm: of('labelWidthMm'), labelHeightMm: of('labelHeightMm') };
  const kind = 'kind' in value ? value.kind : undefined;
  if (kind === 'roll') return { kind, ...label };
  if (kind !== 'sheet') return undefined;
  return {
    kind,
    ...label,
    pageWidthMm: of('pageWidthMm'),
    pageHeightMm: of('pageHeightMm'),
    columns: of('columns'),
    rows: of('rows'),
    leftMm: of('leftMm'),
    topMm: of('topMm'),
    pitchXMm: of('pitchXMm'),
    pitchYMm: of('pitchYMm'),
  };
}

function wholeNumber(name: string, text: string): number {
  if (/^\d{1,6}$/.test(text)) return Number(text);
  throw new CommandError(
    EXIT.usage,
    `${name} ${JSON.stringify(text)} is not a whole number`,
    'Give digits only.',
  );
}

/** What the labels themselves refuse is the caller's to mend. */
async function explain<T>(work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (error) {
    if (error instanceof RangeError)
      throw new CommandError(EXIT.usage, error.message, 'Change the tags or take other labels (--stock).');
    throw error;
  }
}
