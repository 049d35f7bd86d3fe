import { searchWords } from '@sillwatch/ledger';
import {
  addDays,
  type Day,
  type DueWindow,
  dayFromNumber,
  type Timeliness,
  timelinessOn,
  WORKS,
  type WorkKind,
} from '@sillwatch/trade';
import { type Book, type BookEntry, GROUP, GROUP_STRIDE, NO_WORK, PIECE } from './book.ts';

/** Each property with owed work stands in one of the first three by its most urgent item; besides in `held`. */
export const DUE_GROUPS = ['late', 'open', 'coming', 'held'] as const;
export type DueGroup = (typeof DUE_GROUPS)[number];

export interface DueQuestion {
  /** undefined = today, in each property's own zone */
  readonly asOf: Day | undefined;
  readonly branch: string | undefined;
  readonly property: string | undefined;
  readonly town: string | undefined;
  /** Words that name, street, town, customer or tags must contain. */
  readonly text: string | undefined;
  readonly work: WorkKind | undefined;
  /** Account id of who was there last. */
  readonly technician: string | undefined;
  /** undefined = every row with owed work, whatever its group */
  readonly group: DueGroup | undefined;
  /** also what opens within so many days after asOf; 0 = only what is open by then */
  readonly withinDays: number;
}

/** One property's owed work. */
export interface DueRow {
  readonly entry: BookEntry;
  readonly asOf: Day;
  /** each kind of work owed, by the order of WORKS, with the soonest window of its stations */
  readonly works: readonly (DueWindow & { readonly work: WorkKind; readonly stations: number })[];
  readonly stations: number;
  readonly held: number;
  /** null for a row that only waits: nothing can be done there within the days asked about */
  readonly window: DueWindow | null;
  readonly late: number;
}

export interface DueAnswer {
  /** the most urgent first: by latest day, then name; rows that only wait last */
  readonly rows: readonly DueRow[];
  /** Stations of all properties asked about, whether in a row or not. */
  readonly counts: Readonly<Record<Timeliness, number>>;
  readonly held: number;
  readonly properties: number;
  /** Rows of each group under the same question. */
  readonly groups: Readonly<Record<DueGroup, number>>;
  /** Towns of the properties asked about, as if no town had been asked for, with their number of rows. */
  readonly towns: ReadonlyMap<string, number>;
  /** Properties whose work cannot be computed because they name no label profile of the firm. */
  readonly withoutProfile: readonly string[];
}

/** What is due over the firm, from its book; nothing is stored. */
export function findDue(book: Book, { group, ...question }: DueQuestion): DueAnswer {
  const all = remembered(book, question);
  if (group === undefined) return all;
  return { ...all, rows: all.rows.filter((row) => groupsOf(row).includes(group)) };
}

type WholeQuestion = Omit<DueQuestion, 'group'>;

/** Answers kept for one state of a book: a page of lists asks the same question for each group and slice. */
const MOST_ANSWERS = 30;
const answersByEntries = new WeakMap<Book['entries'], Map<string, DueAnswer>>();

function remembered(book: Book, question: WholeQuestion): DueAnswer {
  const answers = answersByEntries.get(book.entries) ?? new Map<string, DueAnswer>();
  answersByEntries.set(book.entries, answers);
  const key = JSON.stringify([book.quarterHour, question]);
  const known = answers.get(key);
  if (known !== undefined) return known;
  const answer = answerWhole(book, question);
  const [oldest] = answers.keys();
  if (answers.size >= MOST_ANSWERS && oldest !== undefined) answers.delete(oldest);
  answers.set(key, answer);
  return answer;
}

function answerWhole(book: Book, question: WholeQuestion): DueAnswer {
  const rows: DueRow[] = [];
  const counts = { 'not yet': 0, open: 0, 'past target': 0, late: 0 };
  const groups = { late: 0, open: 0, coming: 0, held: 0 };
  const towns = new Map<string, number>();
  const withoutProfile: string[] = [];
  const matches = createMatch(question);
  let held = 0;
  let properties = 0;
  for (const entry of book.entries) {
    if (!matches(entry)) continue;
    const inTown = question.town === undefined || entry.town === question.town;
    if (!entry.hasProfile) {
      if (inTown) withoutProfile.push(entry.property);
      continue;
    }
    const asOf = question.asOf ?? book.today.inZone(entry.timeZone);
    const row = toRow(entry, asOf, question, inTown ? counts : undefined);
    if (inTown) {
      properties += 1;
      held += row.held;
    }
    const inGroups = groupsOf(row);
    if (inGroups.length === 0) continue;
    towns.set(entry.town, (towns.get(entry.town) ?? 0) + 1);
    if (!inTown) continue;
    for (const group of inGroups) groups[group] += 1;
    rows.push(row);
  }
  return {
    rows: rows.sort(compareRows),
    counts,
    held,
    properties,
    groups,
    towns,
    withoutProfile,
  };
}

/** Which entries a question speaks of; undefined asks for nothing in particular. */
export function createMatch({
  property,
  branch,
  text,
  technician,
}: Partial<Pick<DueQuestion, 'property' | 'branch' | 'text' | 'technician'>>): (entry: BookEntry) => boolean {
  const words = searchWords(text);
  return (entry) =>
    (property === undefined || entry.property === property) &&
    (branch === undefined || entry.branch === branch) &&
    (technician === undefined || entry.lastBy === technician) &&
    words.every((word) => entry.search.includes(word));
}

function toRow(
  entry: BookEntry,
  asOf: Day,
  { work, withinDays }: WholeQuestion,
  counts: Record<Timeliness, number> | undefined,
): DueRow {
  const { groups } = entry;
  const until = addDays(asOf, withinDays);
  const works = new Map<WorkKind, { window: DueWindow; stations: number }>();
  let stations = 0;
  let late = 0;
  for (let at = 0; at < groups.length; at += GROUP_STRIDE) {
    if ((groups[at + GROUP.installedOn] ?? 0) > asOf) continue;
    const count = groups[at + GROUP.stations] ?? 0;
    let isOpen = false;
    for (const from of [at + GROUP.look, at + GROUP.yearly]) {
      const kind = WORKS[groups[from + PIECE.work] ?? NO_WORK];
      if (kind === undefined || (work !== undefined && kind !== work)) continue;
      const window = {
        earliest: dayFromNumber(groups[from + PIECE.earliest] ?? 0),
        target: dayFromNumber(groups[from + PIECE.target] ?? 0),
        latest: dayFromNumber(groups[from + PIECE.latest] ?? 0),
      };
      if (counts !== undefined) counts[timelinessOn(window, asOf)] += count;
      if (window.earliest > until) continue;
      const known = works.get(kind);
      works.set(kind, {
        window: known === undefined ? window : soonest(known.window, window),
        stations: (known?.stations ?? 0) + count,
      });
      isOpen = true;
      if (window.latest < asOf) late += count;
    }
    if (isOpen) stations += count;
  }
  return {
    entry,
    asOf,
    works: WORKS.flatMap((kind) => {
      const owed = works.get(kind);
      return owed === undefined ? [] : [{ work: kind, stations: owed.stations, ...owed.window }];
    }),
    stations,
    held: entry.held.reduce((sum, installedOn) => (installedOn <= asOf ? sum + 1 : sum), 0),
    window: [...works.values()].reduce<DueWindow | null>(
      (all, { window }) => (all === null ? window : soonest(all, window)),
      null,
    ),
    late,
  };
}

function soonest(a: DueWindow, b: DueWindow): DueWindow {
  return {
    earliest: sooner(a.earliest, b.earliest),
    target: sooner(a.target, b.target),
    latest: sooner(a.latest, b.latest),
  };
}

function sooner(a: Day, b: Day): Day {
  if (b < a) return b;
  return a;
}

function groupsOf({ window, held, asOf }: DueRow): readonly DueGroup[] {
  const groups: DueGroup[] = [];
  if (window !== null) {
    switch (timelinessOn(window, asOf)) {
      case 'late':
        groups.push('late');
        break;
      case 'past target':
      case 'open':
        groups.push('open');
        break;
      case 'not yet':
        groups.push('coming');
        break;
    }
  }
  if (held > 0) groups.push('held');
  return groups;
}

function compareRows(a: DueRow, b: DueRow): number {
  const order = (a.window?.latest ?? Number.MAX_SAFE_INTEGER) - (b.window?.latest ?? Number.MAX_SAFE_INTEGER);
  if (order !== 0) return order;
  return a.entry.name < b.entry.name ? -1 : a.entry.name > b.entry.name ? 1 : 0;
}
