import { GRAMS_PER_OUNCE } from '@sillwatch/trade';
import type { RecordRow } from './applicationRecords.ts';
import { plainNumber } from './format.ts';
import { addressInWords } from './properties.ts';

/** One column of the application record. */
export interface RecordField {
  readonly key: RecordFieldKey;
  /** The rule that asks for it; `ours` when it only helps to find or understand the entry. */
  readonly source: string;
  /** A blank is a gap that the paper names; false where a blank says something (nobody supervised). */
  readonly required: boolean;
  /** null = not recorded */
  readonly read: (row: RecordRow) => string | number | null;
}

export type RecordFieldKey =
  | 'entry'
  | 'standing'
  | 'why'
  | 'corrects'
  | 'replacedBy'
  | 'day'
  | 'time'
  | 'productName'
  | 'epaRegistrationNumber'
  | 'grams'
  | 'ounces'
  | 'location'
  | 'areaTreated'
  | 'site'
  | 'applicatorName'
  | 'certificationNumber'
  | 'appliedUnderSupervisionBy'
  | 'customerName'
  | 'address'
  | 'postcode'
  | 'property'
  | 'station'
  | 'doubtfulAt'
  | 'recordedAt';

const field = (
  key: RecordFieldKey,
  source: string,
  required: boolean,
  read: RecordField['read'],
): RecordField => ({ key, source, required, read });

const PRIVATE = '7 CFR 110.3(a)';
const COMMERCIAL = '40 CFR 171.303(b)(7)';

/** The federal floor: restricted-use records of 7 CFR 110.3(a) and what commercial applicators add to them. */
export const RECORD_FIELDS: readonly RecordField[] = [
  field('day', `${PRIVATE}(4)`, true, (row) => row.date),
  field('time', COMMERCIAL, true, (row) => row.time),
  field('productName', `${PRIVATE}(1)`, true, (row) => row.application.productName),
  field('epaRegistrationNumber', `${PRIVATE}(1)`, true, (row) => row.application.epaRegistrationNumber),
  field('grams', `${PRIVATE}(2)`, true, (row) => row.application.grams),
  field('ounces', 'ours', false, (row) => ouncesOf(row.application.grams)),
  field('location', `${PRIVATE}(3)`, true, (row) => row.application.location),
  field('areaTreated', `${PRIVATE}(3)`, true, (row) => row.application.areaTreated),
  field('site', `${PRIVATE}(3)`, true, (row) => row.application.site),
  field('applicatorName', `${PRIVATE}(5)`, true, (row) => row.application.applicatorName),
  field('certificationNumber', `${PRIVATE}(5)`, true, (row) => row.application.certificationNumber),
  field('appliedUnderSupervisionBy', COMMERCIAL, false, (row) => row.application.appliedUnderSupervisionBy),
  field('customerName', COMMERCIAL, true, (row) => row.property.customerName),
  field('address', COMMERCIAL, true, (row) => addressInWords(row.property)),
];

/** What a state asks for beyond the floor, by its postal abbreviation. A firm's further states are further lists. */
export const STATE_RECORD_FIELDS: Readonly<Record<string, readonly RecordField[]>> = {
  NY: [field('postcode', 'New York, commercial applicators', true, (row) => row.property.postcode)],
};

/** Columns that let a reader follow an entry: which it is, how it stands, when it was received. */
export const ENTRY_FIELDS: readonly RecordField[] = [
  field('standing', 'ours', false, (row) => row.standing),
  field('why', 'ours', false, (row) => row.why),
  field('entry', 'ours', false, (row) => row.entry),
  field('corrects', 'ours', false, (row) => row.corrects),
  field('replacedBy', 'ours', false, (row) => row.endedBy),
  field('property', 'ours', false, (row) => row.property.name ?? row.propertyId),
  field('station', 'ours', false, (row) => row.station?.number ?? row.stationId),
  field('doubtfulAt', 'ours', false, (row) => row.doubtfulAt),
  field('recordedAt', 'ours', false, (row) => row.recordedAt),
];

/** The floor and what these states add, without doubles. */
export function recordFieldsFor(
  states: readonly string[],
  stateFields: Readonly<Record<string, readonly RecordField[]>> = STATE_RECORD_FIELDS,
): readonly RecordField[] {
  const fields = [...RECORD_FIELDS];
  for (const extra of states.flatMap((state) => stateFields[state] ?? [])) {
    if (!fields.some((known) => known.key === extra.key)) fields.push(extra);
  }
  return fields;
}

function ouncesOf(grams: number | null): number | null {
  return grams === null ? null : Number(plainNumber(grams / GRAMS_PER_OUNCE));
}
