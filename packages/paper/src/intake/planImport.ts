import {
  type AnyFact,
  checkFact,
  type Day,
  type FirmState,
  type PropertyState,
  STATION_MODELS,
  type StationModel,
} from '@sillwatch/trade';
import type { PaperLanguage } from '../report/words/say.ts';
import { createBook, type ImportBook } from './book.ts';
import { checkColumns } from './checkColumns.ts';
import type { RecordType } from './fields.ts';
import type { Mapping, SheetMapping } from './mapping.ts';
import { planPropertyRow } from './planProperty.ts';
import { planStationRow } from './planStation.ts';
import { closeVisits, planVisitRow } from './planVisit.ts';
import { createProblemList, createRowReaders, type RowProblem, type RowReader } from './reader.ts';
import type { Sheet, Table } from './table.ts';
import { checkBait } from './visitFinding.ts';
import { tellIn } from './words/tell.ts';
import { createFactWriter } from './writer.ts';

export interface ImportContext {
  readonly firm: string;
  /** account id of who imports */
  readonly by: string;
  readonly today: Day;
  /** RFC 3339 with offset: when changes of what is recorded are made; noon today where it is not given. */
  readonly now?: string;
  /** the firm's properties as they stand */
  readonly existing: readonly PropertyState[];
  /** the firm's facts from earlier imports, by id */
  readonly findKnown: (id: string) => AnyFact | undefined;
  /** True for a fact whose whole import was taken back; absent = none was. */
  readonly isTakenBack?: (id: string) => boolean;
  /** by id; the common ones where a firm has none yet */
  readonly models?: Readonly<Record<string, StationModel>>;
  readonly branches: readonly Known[];
  readonly profiles: readonly Known[];
}

/** Something of the firm's that a file may call by its id or its name. */
export interface Known {
  readonly id: string;
  readonly name: string;
}

/** What of a firm a file may speak of. */
export function knownOf({
  branches,
  profiles,
}: Pick<FirmState, 'branches' | 'profiles'>): Pick<ImportContext, 'branches' | 'profiles'> {
  return {
    branches: Object.values(branches).map(({ branch, name }) => ({ id: branch, name })),
    profiles: Object.values(profiles).map(({ id, name }) => ({ id, name })),
  };
}

export interface ImportPlan {
  /** Empty when there is any problem: a file is read whole or not at all. */
  readonly facts: readonly AnyFact[];
  readonly summary: ImportSummary;
  /** The first of them. */
  readonly problems: readonly RowProblem[];
  readonly problemCount: number;
}

export interface ImportSummary {
  readonly rows: number;
  readonly newProperties: number;
  readonly changedProperties: number;
  readonly newStations: number;
  readonly changedStations: number;
  readonly newLooks: number;
  /** rows that say what is recorded already */
  readonly knownRows: number;
}

export interface ImportInput {
  readonly tables: readonly Table[];
  readonly mapping: Mapping;
  readonly context: ImportContext;
  /** most problems to list, default 200; all are counted */
  readonly mostProblems?: number;
  /** of the problems, default English */
  readonly lang?: PaperLanguage;
  readonly onProgress?: (done: number, total: number) => void;
}

const ORDER: readonly RecordType[] = ['properties', 'stations', 'visits'];

/** What an import would append, or why it cannot. Appends nothing itself: this is the dry run and the work at once. */
export function planImport({
  tables,
  mapping,
  context,
  mostProblems = 200,
  lang = 'en-US',
  onProgress,
}: ImportInput): ImportPlan {
  const tell = tellIn(lang);
  const problems = createProblemList(mostProblems);
  const writer = createFactWriter({
    ...context,
    now: context.now,
    isTakenBack: context.isTakenBack ?? (() => false),
  });
  const models = context.models ?? Object.fromEntries(STATION_MODELS.map((model) => [model.id, model]));
  const book = createBook(context, models, writer);
  const work = collectSheets(tables, mapping);
  const total = work.reduce((sum, { sheet }) => sum + sheet.rows.length, 0);
  let done = 0;
  for (const records of ORDER) {
    for (const { sheet, of } of work.filter((one) => one.of.records === records)) {
      checkColumns(sheet, of, problems, tell);
      const read = createRowReaders(sheet, of, mapping, problems, tell);
      for (const row of sheet.rows) {
        planRow(records, book, read(row));
        done += 1;
        if (done % 500 === 0) onProgress?.(done, total);
      }
    }
  }
  checkBait(book);
  closeVisits(book);
  onProgress?.(total, total);
  if (problems.total === 0) checkFacts(writer.facts);
  return {
    facts: problems.total === 0 ? writer.facts : [],
    summary: { rows: total, ...book.counts },
    problems: problems.listed,
    problemCount: problems.total,
  };
}

function collectSheets(
  tables: readonly Table[],
  mapping: Mapping,
): readonly { readonly sheet: Sheet; readonly of: SheetMapping }[] {
  return mapping.sheets.flatMap((of) => {
    const sheet = tables.find((table) => table.file === of.file)?.sheets.find((one) => one.name === of.sheet);
    return sheet === undefined ? [] : [{ sheet, of }];
  });
}

function planRow(records: RecordType, book: ImportBook, row: RowReader): void {
  const property = planPropertyRow(book, row, records);
  if (property === undefined || records === 'properties') return;
  const station = planStationRow(book, property, row, records);
  if (station === undefined || records === 'stations') return;
  planVisitRow(book, property, station, row);
}

/** The planners above make facts that the door takes; a fact it would refuse is our mistake, not the reader's. */
function checkFacts(facts: readonly AnyFact[]): void {
  for (const fact of facts) {
    const [problem] = checkFact(fact);
    if (problem !== undefined)
      throw new Error(
        `the import made a fact that the ledger refuses: ${fact.kind}: ${problem.path} ${problem.detail}`,
      );
  }
}
