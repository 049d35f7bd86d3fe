import {
  BAIT_LEFT,
  type Finding,
  HOUSING_CONDITIONS,
  MONITOR_CONDITIONS,
  OCCUPANTS,
  REACHES,
  type StationModel,
  TERMITE_FINDINGS,
} from '@sillwatch/trade';
import type { ImportBook, PlannedStation } from './book.ts';
import type { Field } from './fields.ts';
import type { RowReader } from './reader.ts';

/**
 * What the row says was seen; undefined when its problems were reported. What was found of termites must be said, for a
 * cell that nobody filled in is no look; the condition of things that nobody wrote down is taken as sound.
 */
export function readFinding(row: RowReader, model: StationModel): Finding | undefined {
  const reach = readWord(row, 'reach', REACHES, 'opened');
  if (reach === undefined) return undefined;
  if (reach !== 'opened') return readUnopened(row, reach);
  if (row.text('termites') === '') {
    row.problem('termites', 'nothing found said', { words: TERMITE_FINDINGS.join(', ') });
    return undefined;
  }
  const hasMonitor = model.slots.some((slot) => slot.holds.includes('monitor'));
  const termites = readWord(row, 'termites', TERMITE_FINDINGS, 'none');
  const baitLeft = readWord(row, 'baitLeft', BAIT_LEFT, 'no bait');
  const monitor = readWord(row, 'monitor', MONITOR_CONDITIONS, hasMonitor ? 'sound' : 'no monitor');
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

function readUnopened(row: RowReader, reach: 'not found' | 'blocked'): Finding | undefined {
  const termites = row.cell('termites') === '' ? 'none' : row.word('termites');
  if (termites === undefined) return undefined;
  if (termites !== 'none') {
    row.problem('termites', 'found unopened', { reach });
    return undefined;
  }
  return { reach, why: row.text('note') || `${reach} (imported)` };
}

/** The word of the cell, or what an empty cell means; undefined when its problem was reported. */
export function readWord<const T extends string>(
  row: RowReader,
  field: Field,
  words: readonly T[],
  empty: T,
): T | undefined {
  if (row.text(field) === '') return empty;
  const word = row.word(field);
  return words.find((one) => one === word);
}

/** Notes that a look spoke of bait, or put it in. */
export function noteBait(
  book: ImportBook,
  station: PlannedStation,
  row: RowReader,
  finding: Finding,
  isPutIn: boolean,
): void {
  const isSeen =
    finding.reach === 'opened' && (finding.termites === 'live on bait' || finding.baitLeft !== 'no bait');
  if (station.holdsBait || !(isSeen || isPutIn)) return;
  const known = book.baitById.get(station.id);
  if (known === undefined) book.baitById.set(station.id, { firstRow: row, wasPutIn: isPutIn });
  else if (isPutIn) known.wasPutIn = true;
}

/** Bait that nobody put in would leave the ledger without it: what the station holds decides what may be done there. */
export function checkBait(book: ImportBook): void {
  for (const { firstRow, wasPutIn } of book.baitById.values()) {
    if (wasPutIn) continue;
    firstRow.problem('baitAdded', 'bait from nowhere');
  }
}
