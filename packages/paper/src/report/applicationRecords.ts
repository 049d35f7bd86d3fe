import { type AnyFact, CORRECTION, correctedId, type Day, dayToText, occurrenceOf } from '@sillwatch/trade';
import { listEntries, type Standing, type Version } from './entries.ts';
import { clockOf } from './format.ts';
import { createPropertyBook, type PropertyBook, type PropertyRead, type StationRead } from './properties.ts';
import { type ApplicationRead, compareText, findApplication } from './read.ts';
import { type RecordFieldKey, recordFieldsFor } from './recordFields.ts';
import type { RecordFilter } from './recordFilter.ts';

/** One wording of one application. An entry that was corrected has a row for each wording. */
export interface RecordRow {
  /** id of the fact that says it so */
  readonly entry: string;
  /** id of the first fact: the same for all wordings of one application */
  readonly rootEntry: string;
  readonly application: ApplicationRead;
  readonly standing: Standing;
  readonly why: string | null;
  readonly corrects: string | null;
  readonly endedBy: string | null;
  readonly endedOn: Day | null;
  /** null when the time of the fact cannot be read */
  readonly day: Day | null;
  readonly date: string | null;
  readonly time: string | null;
  /** What the device said, when its clock cannot be right; the day is then that of the receipt. */
  readonly doubtfulAt: string | null;
  readonly propertyId: string | null;
  readonly property: PropertyRead;
  readonly stationId: string | null;
  readonly station: StationRead | null;
  readonly recordedAt: string | null;
  /** required fields that hold nothing */
  readonly missing: readonly RecordFieldKey[];
}

/**
 * The application records among these facts, oldest first. Every fact that tells of an application is on it, of kinds that this
 * build does not know too. Corrected and withdrawn entries stay, marked, with the reason; when one wording of an
 * entry is what was asked for, all its wordings are shown.
 */
export function applicationRecords(
  facts: readonly AnyFact[],
  filter: RecordFilter = {},
): readonly RecordRow[] {
  const book = createPropertyBook(facts.filter((fact) => BOOK_KINDS.has(fact.kind)));
  const groups: (readonly RecordRow[])[] = [];
  for (const { root, versions, current } of listEntries(findTelling(facts))) {
    const rows = versions.flatMap((version) => rowsOf(root, version, current, book, filter));
    if (rows.some((row) => matches(row, root, filter))) groups.push(rows);
  }
  const firstDay = (rows: readonly RecordRow[]) => `${rows[0]?.date ?? ''} ${rows[0]?.time ?? ''}`;
  return groups.sort((a, b) => compareText(firstDay(a), firstDay(b))).flat();
}

const BOOK_KINDS: ReadonlySet<string> = new Set([
  'property added',
  'property changed',
  'structure added',
  'station installed',
  CORRECTION,
]);

/** Whether a fact tells of an application, or of the place of one. Corrections, and what they correct, matter besides. */
export function isOfRecord(fact: AnyFact): boolean {
  return BOOK_KINDS.has(fact.kind) || findApplication(fact.body) !== null;
}

/** Facts that tell of an application, all corrections, and what those correct: a small part of a firm's ledger. */
function findTelling(facts: readonly AnyFact[]): readonly AnyFact[] {
  const corrected = new Set<string>();
  for (const fact of facts) {
    const target = correctedId(fact);
    if (target !== undefined) corrected.add(target);
  }
  return facts.filter(
    (fact) => fact.kind === CORRECTION || corrected.has(fact.id) || findApplication(fact.body) !== null,
  );
}

function rowsOf(
  root: AnyFact,
  version: Version,
  current: Version | null,
  book: PropertyBook,
  filter: RecordFilter,
): readonly RecordRow[] {
  const application = findApplication(version.body);
  if (application === null) return [];
  const when = occurrenceOf(version.at, root.receipt?.receivedAt);
  const propertyId = root.property;
  const property = book.find(propertyId ?? '', when?.epochMs ?? 0);
  const row = {
    entry: version.fact.id,
    rootEntry: root.id,
    application,
    standing: standingOf(version, current),
    why: version.why,
    corrects: version.corrects,
    endedBy: version.endedBy,
    endedOn: version.endedOn,
    day: when?.day ?? null,
    date: when === undefined ? null : dayToText(when.day),
    time: when === undefined ? null : clockOf(version.at),
    doubtfulAt: when?.doubtful === true ? version.at : null,
    propertyId,
    property,
    stationId: root.station,
    station: root.station === null ? null : book.findStation(root.station),
    recordedAt: version.fact.receipt?.receivedAt ?? null,
    missing: [],
  };
  return [{ ...row, missing: missingOf(row, filter) }];
}

/** A correction that leaves the application out withdraws it, whatever else it says. */
function standingOf(version: Version, current: Version | null): Standing {
  return version.standing === 'corrected' && current !== null && findApplication(current.body) === null
    ? 'withdrawn'
    : version.standing;
}

function missingOf(row: RecordRow, filter: RecordFilter): readonly RecordFieldKey[] {
  const states = filter.states ?? (row.property.state === null ? [] : [row.property.state]);
  return recordFieldsFor(states)
    .filter((field) => field.required && field.read(row) === null)
    .map((field) => field.key);
}

function matches(row: RecordRow, root: AnyFact, filter: RecordFilter): boolean {
  // A day that cannot be read might lie in the period: shown rather than dropped.
  if (row.day !== null) {
    if (filter.from !== undefined && row.day < filter.from) return false;
    if (filter.to !== undefined && row.day > filter.to) return false;
  }
  if (filter.property !== undefined && row.propertyId !== filter.property) return false;
  const number = row.application.epaRegistrationNumber;
  if (
    filter.epaRegistrationNumber !== undefined &&
    number !== null &&
    number !== filter.epaRegistrationNumber
  )
    return false;
  if (filter.applicator === undefined) return true;
  const asked = filter.applicator.trim().toLowerCase();
  const { applicatorName, certificationNumber, appliedUnderSupervisionBy } = row.application;
  return [applicatorName, certificationNumber, appliedUnderSupervisionBy, root.by].some(
    (name) => name?.toLowerCase() === asked,
  );
}
