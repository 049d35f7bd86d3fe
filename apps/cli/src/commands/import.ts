import { readFileSync, writeFileSync } from 'node:fs';
import { basename } from 'node:path';
import {
  type Guess,
  guessMapping,
  type ImportPlan,
  knownOf,
  type Mapping,
  overrideMapping,
  planImport,
  readTable,
  type Table,
} from '@sillwatch/paper';
import { listImported } from '@sillwatch/server';
import type { AnyFact } from '@sillwatch/trade';
import {
  COMMON_MODELS,
  type CommonOptions,
  type Context,
  dayOrToday,
  print,
  withLedger,
} from '../context.ts';
import { CommandError, createProgress, EXIT, formatTable, type Io } from '../io.ts';
import { listImports, undoImport } from './importUndo.ts';

export interface ImportOptions extends CommonOptions {
  readonly mapping?: string;
  readonly saveMapping?: string;
  readonly dryRun?: boolean;
  readonly by: string;
  readonly list?: boolean;
  /** id of the import to take back */
  readonly undo?: string;
  readonly why?: string;
  readonly evenSo?: boolean;
}

/**
 * `sillwatch import FILE…`: guesses the columns, reports every problem, and appends all or nothing. Without a file, `--list` tells
 * what was imported and `--undo` takes one of these back.
 */
export async function runImport(io: Io, files: readonly string[], options: ImportOptions): Promise<number> {
  const asked = [files.length > 0, options.list === true, options.undo !== undefined].filter((one) => one);
  if (asked.length !== 1)
    throw new CommandError(
      EXIT.usage,
      asked.length === 0 ? 'import what?' : 'one thing at a time',
      'Name files, or --list, or --undo with the id that --list shows.',
    );
  if (options.list === true) return listImports(io, options);
  if (options.undo !== undefined) return undoImport(io, options.undo, options);
  const tables = files.map(readFile);
  const guess = guessMapping(tables);
  const mapping = chooseMapping(guess, options.mapping);
  if (options.saveMapping !== undefined)
    writeFileSync(options.saveMapping, `${JSON.stringify(mapping, null, 2)}\n`, { flag: 'wx' });
  return withLedger(io, options, async (context) => {
    const plan = await makePlan(context, tables, mapping, options.by);
    const isDry = options.dryRun === true || plan.problemCount > 0;
    if (!isDry) {
      if (io.isTerminal) io.err(`storing ${plan.facts.length} entries…\n`);
      await appendAll(context, plan.facts);
    }
    const value = {
      appended: isDry ? 0 : plan.facts.length,
      dryRun: options.dryRun === true,
      columns: guess.columns,
      warnings: guess.warnings,
      ...plan,
      facts: plan.facts.length,
    };
    print(context, value, () => `${describeGuess(guess, mapping)}${describePlan(plan, isDry)}`);
    return plan.problemCount === 0 ? EXIT.ok : EXIT.found;
  });
}

function readFile(path: string): Table {
  let bytes: Uint8Array;
  try {
    bytes = readFileSync(path);
  } catch {
    throw new CommandError(EXIT.missing, `there is no file ${path}`, 'Check the path.');
  }
  const result = readTable(bytes, basename(path));
  if (result.ok) return result.table;
  throw new CommandError(
    EXIT.found,
    `${result.problem.file}: ${result.problem.reason}`,
    result.problem.remedy,
  );
}

function chooseMapping(guess: Guess, file: string | undefined): Mapping {
  if (file === undefined) return guess.mapping;
  let given: unknown;
  try {
    given = JSON.parse(readFileSync(file, 'utf8'));
  } catch (error) {
    throw new CommandError(
      EXIT.usage,
      `the mapping ${file} cannot be read: ${error instanceof Error ? error.message : ''}`,
      'Write one with --save-mapping and edit it.',
    );
  }
  const result = overrideMapping(guess.mapping, given);
  if (result.ok) return result.mapping;
  const [first] = result.problems;
  throw new CommandError(
    EXIT.usage,
    `the mapping ${file}: ${first?.path ?? ''} ${first?.reason ?? ''}`,
    first?.remedy ?? '',
  );
}

async function makePlan(
  context: Context,
  tables: readonly Table[],
  mapping: Mapping,
  by: string,
): Promise<ImportPlan> {
  const { ledger, firm, io } = context;
  const { known, takenBack } = await listImported(ledger, firm);
  const state = await ledger.getFirm(firm);
  const existing = await ledger.listProperties(firm, { limit: 1_000_000 });
  const progress = createProgress(io, 'rows');
  const plan = planImport({
    tables,
    mapping,
    context: {
      firm,
      by,
      today: dayOrToday(io, undefined, Object.values(state.branches)[0]?.timeZone ?? 'UTC'),
      now: Temporal.Instant.fromEpochMilliseconds(io.now()).toString(),
      existing,
      findKnown: (id) => known.get(id),
      isTakenBack: (id) => takenBack.has(id),
      ...knownOf(state),
      models: { ...COMMON_MODELS, ...state.models },
    },
    onProgress: progress.step,
  });
  progress.end();
  return plan;
}

/** One batch: the ledger takes it in one transaction, so a cut in the middle leaves nothing behind. */
async function appendAll(context: Context, facts: readonly AnyFact[]): Promise<void> {
  const receivedAt = Temporal.Instant.fromEpochMilliseconds(context.io.now()).toString();
  const verdicts = await context.ledger.append(context.firm, facts, receivedAt);
  const refused = verdicts.find((verdict) => verdict.verdict === 'refused');
  if (refused?.verdict === 'refused') {
    throw new CommandError(
      EXIT.found,
      `the ledger refused an entry: ${refused.code}: ${refused.detail}`,
      'Import again: what was taken is known and is not made twice.',
    );
  }
}

function describeGuess(guess: Guess, mapping: Mapping): string {
  const used = new Map(mapping.sheets.map((sheet) => [`${sheet.file}\n${sheet.sheet}`, sheet]));
  const sheets = mapping.sheets
    .map(
      (sheet) =>
        `${sheet.file}${sheet.sheet === '' ? '' : `, sheet ${sheet.sheet}`}: ${sheet.records ?? 'left out (nothing says what it holds)'}\n`,
    )
    .join('');
  const columns = formatTable(
    [
      { title: 'column', of: (column) => column.column },
      {
        title: 'is',
        of: (column) => used.get(`${column.file}\n${column.sheet}`)?.columns[column.column] ?? '(left out)',
      },
      {
        title: 'sure',
        of: (column) => (column.field === null ? '' : `${Math.round(column.confidence * 100)} %`),
        alignRight: true,
      },
      { title: 'for example', of: (column) => column.sample },
    ],
    guess.columns,
  );
  return `${sheets}${columns}${guess.warnings.map((warning) => `Note: ${warning}\n`).join('')}\n`;
}

function describePlan(plan: ImportPlan, isDry: boolean): string {
  if (plan.problemCount > 0) {
    const rows = formatTable(
      [
        { title: 'file', of: (problem) => problem.file },
        { title: 'sheet', of: (problem) => problem.sheet },
        { title: 'row', of: (problem) => String(problem.row), alignRight: true },
        { title: 'column', of: (problem) => problem.column },
        { title: 'says', of: (problem) => JSON.stringify(problem.value) },
        { title: 'problem', of: (problem) => problem.reason },
        { title: 'remedy', of: (problem) => problem.remedy },
      ],
      plan.problems,
    );
    return `Nothing was imported: ${plan.problemCount} problems.\n\n${rows}${plan.problems.length < plan.problemCount ? `… and ${plan.problemCount - plan.problems.length} more\n` : ''}`;
  }
  const { summary } = plan;
  return (
    `${isDry ? 'Would import' : 'Imported'} ${plan.facts.length} entries from ${summary.rows} rows: ` +
    `${summary.newProperties} new properties, ${summary.changedProperties} changed; ${summary.newStations} new stations, ${summary.changedStations} changed; ` +
    `${summary.newLooks} looks; ${summary.knownRows} rows say what is recorded already.\n`
  );
}
