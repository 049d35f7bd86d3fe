import {
  BAIT_LEFT,
  dayToText,
  type Finding,
  HOUSING_CONDITIONS,
  MONITOR_CONDITIONS,
  OCCUPANTS,
  REACHES,
  TASKS,
  TERMITE_FINDINGS,
  type Work,
} from '@sillwatch/trade';
import type { Field } from './fields.ts';
import type { ImportBook, PlannedProperty, PlannedStation } from './planProperty.ts';
import type { RowReader } from './reader.ts';

/** Records one past look at a station. `source` says where the row stands, for records that are kept there. */
export function planVisitRow(
  book: ImportBook,
  property: PlannedProperty,
  station: PlannedStation,
  row: RowReader,
  source: string,
): void {
  const day = row.needed('visitDate') === undefined ? undefined : row.day('visitDate');
  const task = readWord(row, 'task', TASKS, 'check');
  const finding = readFinding(row);
  const isBaitPutIn = row.yesNo('baitAdded');
  const isDone = row.text('serviceDone') === '' ? true : row.yesNo('serviceDone');
  if (
    day === undefined ||
    task === undefined ||
    finding === undefined ||
    isBaitPutIn === undefined ||
    isDone === undefined
  )
    return;
  if (day < station.installedOn) {
    row.problem(
      'visitDate',
      `lies before the station was set (${dayToText(station.installedOn)})`,
      'Correct one of the two days.',
    );
    return;
  }
  if (day > book.context.today) {
    row.problem('visitDate', 'lies in the future', 'Correct the day; only what was seen is recorded.');
    return;
  }
  const isOpened = finding.reach === 'opened';
  const isLive =
    finding.reach === 'opened' &&
    (finding.termites === 'live on bait' || finding.termites === 'live on monitor');
  const isServiced = task === 'yearly service' && isDone && isOpened && !isLive;
  const baitSlot = station.model.slots.find((slot) => slot.holds.includes('bait'));
  const isBaited = isBaitPutIn && isOpened && baitSlot !== undefined;
  if (isBaitPutIn && !isOpened) {
    row.problem(
      'baitAdded',
      'says bait was put into a station that was not opened',
      'Correct one of the two.',
    );
    return;
  }
  const work: Work = {
    yearlyServiceDone: isServiced,
    baseMonitorLifted: isServiced,
    cleanedOut: isServiced,
    fitted: isBaited ? [{ slot: baitSlot.id, insert: 'bait' }] : [],
    withdrawn: [],
    partsUsed: {},
    minutes: null,
  };
  const visit = `${property.id}-${dayToText(day)}`;
  const { timeZone } = property.body;
  const result = book.writer.write(
    'station seen',
    {
      property: property.id,
      station: station.id,
      key: `${station.id}\n${dayToText(day)}\n${task}`,
      timeZone,
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
      ...(isBaited ? { recordKeptElsewhere: `imported; the use record is with ${source}` } : {}),
    },
  );
  if (result === 'differs') {
    row.problem(
      'visitDate',
      `another look at this station on ${dayToText(day)} is recorded and says something else`,
      'Correct the row, or correct the entry at the station.',
    );
    return;
  }
  if (result === 'same') book.counts.knownRows += 1;
  else book.counts.newLooks += 1;
  const technician = row.text('technician');
  if (technician === '') return;
  book.writer.write(
    'visit closed',
    { property: property.id, station: null, key: `${visit}\n${technician}`, timeZone },
    day,
    {
      visit,
      task,
      technician,
      licenceNumber: row.text('licence') || 'not recorded (imported)',
      startedAt: `${dayToText(day)}T12:00:00Z`,
      note: '',
    },
  );
}

function readFinding(row: RowReader): Finding | undefined {
  const reach = readWord(row, 'reach', REACHES, 'opened');
  if (reach === undefined) return undefined;
  if (reach !== 'opened') return { reach, why: row.text('note') || `${reach} (imported)` };
  const termites = readWord(row, 'termites', TERMITE_FINDINGS, 'none');
  const baitLeft = readWord(row, 'baitLeft', BAIT_LEFT, 'no bait');
  const monitor = readWord(row, 'monitor', MONITOR_CONDITIONS, 'sound');
  const housing = readWord(row, 'housing', HOUSING_CONDITIONS, 'sound');
  const occupants = readWord(row, 'occupants', OCCUPANTS, 'none');
  if (
    termites === undefined ||
    baitLeft === undefined ||
    monitor === undefined ||
    housing === undefined ||
    occupants === undefined
  )
    return undefined;
  return { reach, termites, baitLeft, monitor, housing, occupants };
}

/** The word of the cell, or what an empty cell means; undefined when its problem was reported. */
function readWord<const T extends string>(
  row: RowReader,
  field: Field,
  words: readonly T[],
  empty: T,
): T | undefined {
  if (row.text(field) === '') return empty;
  const word = row.word(field);
  return words.find((one) => one === word);
}
