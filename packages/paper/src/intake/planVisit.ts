import {
  type Day,
  dayToText,
  type Finding,
  TASKS,
  type Task,
  type VisitClosedBody,
  type Work,
} from '@sillwatch/trade';
import type { ImportBook, PlannedProperty, PlannedStation } from './book.ts';
import { recordIsWith } from './planStation.ts';
import type { RowReader } from './reader.ts';
import { noteBait, readFinding, readWord } from './visitFinding.ts';
import { canonical } from './writer.ts';

/** Records one past look at a station. */
export function planVisitRow(
  book: ImportBook,
  property: PlannedProperty,
  station: PlannedStation,
  row: RowReader,
): void {
  const day = row.needed('visitDate') === undefined ? undefined : row.day('visitDate');
  const task = readWord(row, 'task', TASKS, 'check');
  const finding = readFinding(row, station.model);
  if (day === undefined || task === undefined || finding === undefined) return;
  const work = readWork(row, station, task, finding);
  if (work === undefined || !isDayPossible(book, station, row, day)) return;
  const isBaited = work.fitted.length > 0;
  noteBait(book, station, row, finding, isBaited);
  const visit = `${property.id}-${dayToText(day)}`;
  const result = book.writer.write(
    'station seen',
    {
      property: property.id,
      station: station.id,
      key: `${station.id}\n${dayToText(day)}\n${task}`,
      timeZone: property.body.timeZone,
    },
    day,
    {
      visit,
      task,
      finding,
      work,
      application: null,
      note: row.text('note'),
      photos: [],
      ...(isBaited ? { recordKeptElsewhere: recordIsWith(row) } : {}),
    },
  );
  if (result === 'differs') {
    row.problem('visitDate', 'look said otherwise', { day: dayToText(day) });
    return;
  }
  if (result === 'same') book.counts.knownRows += 1;
  else book.counts.newLooks += 1;
  noteClosing(book, property, row, visit, day, task);
}

function isDayPossible(book: ImportBook, station: PlannedStation, row: RowReader, day: Day): boolean {
  if (day < station.installedOn)
    row.problem('visitDate', 'seen before set', { day: dayToText(station.installedOn) });
  if (day > book.context.today) row.problem('visitDate', 'seen in the future');
  return day >= station.installedOn && day <= book.context.today;
}

/** undefined when its problems were reported: what contradicts itself is for a person to settle. */
function readWork(row: RowReader, { model }: PlannedStation, task: Task, finding: Finding): Work | undefined {
  const isBaitPutIn = row.yesNo('baitAdded');
  const isSaidDone = row.text('serviceDone') === '' ? null : row.yesNo('serviceDone');
  if (isBaitPutIn === undefined || isSaidDone === undefined) return undefined;
  const isLive =
    finding.reach === 'opened' &&
    (finding.termites === 'live on bait' || finding.termites === 'live on monitor');
  const canBeServiced = finding.reach === 'opened' && !isLive;
  if (task === 'yearly service' && isSaidDone === true && !canBeServiced) {
    row.problem('serviceDone', isLive ? 'service among live termites' : 'service unopened');
    return undefined;
  }
  const baitSlot = model.slots.find((slot) => slot.holds.includes('bait'));
  if (isBaitPutIn && (finding.reach !== 'opened' || baitSlot === undefined)) {
    if (baitSlot === undefined) row.problem('baitAdded', 'bait where none goes', { model: model.name });
    else row.problem('baitAdded', 'bait unopened');
    return undefined;
  }
  const isServiced = task === 'yearly service' && isSaidDone !== false && canBeServiced;
  return {
    yearlyServiceDone: isServiced,
    baseMonitorLifted: isServiced && model.slots.some((slot) => slot.isBase),
    cleanedOut: isServiced,
    fitted: isBaitPutIn && baitSlot !== undefined ? [{ slot: baitSlot.id, insert: 'bait' }] : [],
    withdrawn: [],
    partsUsed: {},
    minutes: null,
  };
}

/** Who closed the visit, and under which licence; the rows of one visit must agree. */
function noteClosing(
  book: ImportBook,
  property: PlannedProperty,
  row: RowReader,
  visit: string,
  day: Day,
  task: Task,
): void {
  const technician = row.text('technician');
  if (technician === '') return;
  const licence = row.text('licence');
  const key = `${visit}\n${technician}`;
  const known = book.closings.get(key);
  if (known === undefined) {
    book.closings.set(key, {
      row,
      property,
      visit,
      day,
      technician,
      isYearly: task === 'yearly service',
      licence,
    });
    return;
  }
  known.isYearly ||= task === 'yearly service';
  if (licence !== '' && known.licence !== '' && licence !== known.licence)
    row.problem('licence', 'another licence', { technician, licence: known.licence });
  known.licence ||= licence;
}

/** Closes each visit once, after all of its rows are read. What a later import adds to a visit corrects its closing. */
export function closeVisits(book: ImportBook): void {
  for (const [key, closing] of book.closings) {
    const { property, visit, day, technician, isYearly, licence } = closing;
    const known = book.writer.find('visit closed', key, day);
    const before = known === undefined ? undefined : readClosing(known.body);
    if (licence !== '' && before?.licence !== undefined && before.licence !== licence) {
      closing.row.problem('licence', 'licence imported', { licence: before.licence });
      continue;
    }
    const body: VisitClosedBody = {
      visit,
      task: isYearly || before?.isYearly === true ? 'yearly service' : 'check',
      technician,
      licenceNumber: licence || before?.licence || NO_LICENCE,
      startedAt: `${dayToText(day)}T12:00:00Z`,
      note: '',
    };
    const subject = { property: property.id, station: null, timeZone: property.body.timeZone };
    if (book.writer.write('visit closed', { ...subject, key }, day, body) !== 'differs') continue;
    if (known !== undefined)
      book.writer.write('fact corrected', { ...subject, key: `${known.id}\n${canonical(body)}` }, day, {
        corrects: known.id,
        why: 'imported again, with more rows of the visit',
        body,
        at: null,
      });
  }
}

const NO_LICENCE = 'not recorded (imported)';

function readClosing(body: unknown): { readonly isYearly: boolean; readonly licence: string | undefined } {
  const { task, licenceNumber } = Object(body);
  const isSaid = typeof licenceNumber === 'string' && licenceNumber !== NO_LICENCE;
  return { isYearly: task === 'yearly service', licence: isSaid ? licenceNumber : undefined };
}
