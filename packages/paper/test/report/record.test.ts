import { type AnyFact, getDay } from '@sillwatch/trade';
import { parse } from 'csv-parse/sync';
import { describe, expect, test } from 'vitest';
import { textsOf } from '../../src/document/model.ts';
import { applicationRecords } from '../../src/report/applicationRecords.ts';
import { RECORD_FIELDS, recordFieldsFor, STATE_RECORD_FIELDS } from '../../src/report/recordFields.ts';
import type { RecordFilter } from '../../src/report/recordFilter.ts';
import { recordCsv, recordDocument } from '../../src/report/recordPaper.ts';
import {
  APPLICATION,
  FIRM,
  fact,
  PROFILE,
  PROPERTY_BODY,
  sampleFacts,
  seenBody,
  WRITTEN_AT,
} from './sample.ts';

const AT = '2026-03-04T08:28:00-05:00';
const STATION = 'station-7';
const added = () => fact('property added', PROPERTY_BODY, { at: '2024-02-01T09:00:00-05:00' });
const applied = (over: object = {}, at = AT) =>
  fact(
    'station seen',
    { ...seenBody(7), application: { ...APPLICATION, ...over } },
    { at, station: STATION },
  );
const corrected = (target: AnyFact, body: unknown, why: string, at: string | null = null) =>
  fact(
    'fact corrected',
    { corrects: target.id, why, body, at },
    { at: '2026-03-05T08:00:00-05:00', station: STATION },
  );
const paperText = (facts: readonly AnyFact[], filter: RecordFilter = {}) =>
  textsOf(
    recordDocument({
      firm: FIRM,
      rows: applicationRecords(facts, filter),
      filter,
      profiles: [PROFILE],
      writtenAt: WRITTEN_AT,
    }),
  ).join('\n');

describe('fields', () => {
  // Source: 7 CFR 110.3(a)(1) to (5), read 2026-11 (records of restricted-use pesticide applications).
  test('every element of 7 CFR 110.3(a) has a required field that names its paragraph', () => {
    const asked = {
      'brand or product name': 'productName',
      'EPA registration number': 'epaRegistrationNumber',
      'total amount applied': 'grams',
      'location of the application': 'location',
      'size of area treated': 'areaTreated',
      'crop, commodity, stored product or site': 'site',
      'month, day and year': 'day',
      'name of the certified applicator': 'applicatorName',
      'certification number': 'certificationNumber',
    };
    for (const key of Object.values(asked)) {
      const field = RECORD_FIELDS.find((candidate) => candidate.key === key);
      expect(field?.required).toBe(true);
      expect(field?.source).toMatch(/^7 CFR 110\.3\(a\)\([1-5]\)$/);
    }
  });

  // Source: 40 CFR 171.303(b)(7), read 2026-11 in a compliance summary (records of commercial applicators).
  test('what 40 CFR 171.303(b)(7) adds is there', () => {
    for (const key of ['customerName', 'address', 'time', 'appliedUnderSupervisionBy'])
      expect(RECORD_FIELDS.find((field) => field.key === key)?.source).toBe('40 CFR 171.303(b)(7)');
  });

  test('a state adds to the federal floor and never takes away', () => {
    for (const state of Object.keys(STATE_RECORD_FIELDS))
      expect(recordFieldsFor([state]).slice(0, RECORD_FIELDS.length)).toEqual(RECORD_FIELDS);
    expect(recordFieldsFor(['NY']).map((field) => field.key)).toContain('postcode');
    expect(recordFieldsFor(['FL', 'FL'])).toEqual(RECORD_FIELDS);
  });
});

describe('CSV', () => {
  test('read back by an independent parser, every legal field stands in its column', () => {
    const facts = [added(), applied({ appliedUnderSupervisionBy: 'Lee Example' })];
    const [row] = parse(recordCsv(applicationRecords(facts)), { columns: true }) as Record<string, string>[];
    expect(row).toMatchObject({
      'Date (year-month-day)': '2026-03-04',
      Time: '08:28',
      'Product name': APPLICATION.productName,
      'EPA registration number': '99999-1',
      'Total amount applied (grams)': '35',
      'Total amount applied (ounces)': '1.23',
      'Location of the application': APPLICATION.location,
      'Size of area treated': '1 station',
      'Site or commodity': APPLICATION.site,
      'Certified applicator': 'Pat Example',
      'Certification number': 'CERT-INV-7',
      'Applied under supervision by': 'Lee Example',
      Customer: 'Ida Example',
      Address: '7 Marsh Lane, Example Springs, FL 00000',
    });
  });

  test('a formula in a field does not run in a spreadsheet', () => {
    const csv = recordCsv(applicationRecords([added(), applied({ location: '=HYPERLINK("x")' })]));
    const [row] = parse(csv, { columns: true }) as Record<string, string>[];
    expect(row?.['Location of the application']).toBe(`'=HYPERLINK("x")`);
  });
});

describe('gaps', () => {
  test.each([
    ['productName', ''],
    ['epaRegistrationNumber', '  '],
    ['grams', null],
    ['grams', 0],
    ['location', undefined],
    ['certificationNumber', 7],
  ])('a blank %s is printed as not recorded and named', (key, value) => {
    const facts = [added(), applied({ [key]: value })];
    const rows = applicationRecords(facts);
    expect(rows.map((row) => row.missing)).toEqual([[key]]);
    const [row] = parse(recordCsv(rows), { columns: true }) as Record<string, string>[];
    expect(Object.values(row ?? {}).filter((cell) => cell === 'not recorded')).toHaveLength(1);
    const text = paperText(facts);
    expect(text).toContain('not recorded');
    expect(text).toContain('Fields the law asks for that are not recorded');
  });

  test('an application that cannot be read at all is shown, not dropped', () => {
    const odd = fact('station seen', { ...seenBody(7), application: 'yes' }, { at: AT, station: STATION });
    const rows = applicationRecords([added(), odd]);
    expect(rows).toHaveLength(1);
    expect(rows[0]?.missing).toContain('productName');
  });

  test('an unknown kind that tells of an application is on the record', () => {
    const newer = fact('station drenched', { application: APPLICATION }, { at: AT, station: STATION });
    expect(applicationRecords([added(), newer])).toHaveLength(1);
  });

  test('New York: a missing postcode is a gap', () => {
    const body = { ...PROPERTY_BODY, address: { ...PROPERTY_BODY.address, state: 'NY', postcode: '' } };
    const facts = [fact('property added', body, { at: '2024-01-01T00:00:00Z' }), applied()];
    expect(applicationRecords(facts)[0]?.missing).toEqual(['postcode']);
    expect(paperText(facts)).toContain('Postcode: not recorded');
  });
});

describe('corrections', () => {
  test('both wordings stand, with the reason, and only the new one counts', () => {
    const first = applied();
    const body = { ...seenBody(7), application: { ...APPLICATION, grams: 40 } };
    const correction = corrected(first, body, 'Scale read wrong.');
    const rows = applicationRecords([correction, added(), first]);
    expect(rows.map((row) => [row.standing, row.application.grams, row.why])).toEqual([
      ['corrected', 35, 'Scale read wrong.'],
      ['correction', 40, 'Scale read wrong.'],
    ]);
    expect(rows[0]?.endedBy).toBe(correction.id);
    expect(rows[1]?.corrects).toBe(first.id);
    const text = paperText([added(), first, correction]);
    expect(text).toContain('1 application that is in force, 40 g (1.41 oz) in all');
    expect(text).toContain('35 g');
    expect(text).toContain('Scale read wrong.');
  });

  test('a withdrawn entry stays, marked', () => {
    const first = applied();
    const rows = applicationRecords([added(), first, corrected(first, null, 'Wrong house.')]);
    expect(rows.map((row) => [row.standing, row.why])).toEqual([['withdrawn', 'Wrong house.']]);
  });

  test('a correction that leaves the application out withdraws it', () => {
    const first = applied();
    const seen = seenBody(7);
    const body = { ...seen, work: { ...seen.work, fitted: [] }, application: null };
    const rows = applicationRecords([added(), first, corrected(first, body, 'No bait went in.')]);
    expect(rows.map((row) => [row.standing, row.why])).toEqual([['withdrawn', 'No bait went in.']]);
  });

  test('a correction without its legal fields never holds, and still shows', () => {
    const first = applied();
    const body = { ...seenBody(7), application: { ...APPLICATION, certificationNumber: '' } };
    const rows = applicationRecords([added(), first, corrected(first, body, 'Typing.')]);
    expect(rows.map((row) => [row.standing, row.missing])).toEqual([
      ['in force', []],
      ['not accepted', ['certificationNumber']],
    ]);
  });

  test('a corrected day moves the entry, and it is found under both days', () => {
    const first = applied();
    const facts = [added(), first, corrected(first, first.body, 'Day.', '2026-04-01T08:00:00-04:00')];
    for (const day of ['2026-03-04', '2026-04-01']) {
      const filter = { from: getDay(day), to: getDay(day) };
      expect(applicationRecords(facts, filter).map((row) => row.date)).toEqual(['2026-03-04', '2026-04-01']);
    }
    expect(applicationRecords(facts, { from: getDay('2026-05-01') })).toEqual([]);
  });

  test('a correction whose first fact is not at hand still shows', () => {
    const orphan = corrected(applied(), applied().body, 'Seen elsewhere.');
    expect(applicationRecords([added(), orphan]).map((row) => row.standing)).toEqual(['correction']);
  });
});

describe('what is asked for', () => {
  const facts = [
    added(),
    applied(),
    applied({ epaRegistrationNumber: '99999-2' }, '2026-03-05T09:00:00-05:00'),
  ];
  test.each<[string, RecordFilter, number]>([
    ['all', {}, 2],
    ['first day', { from: getDay('2026-03-05') }, 1],
    ['last day', { to: getDay('2026-03-04') }, 1],
    ['product', { epaRegistrationNumber: '99999-2' }, 1],
    ['property', { property: 'other' }, 0],
    ['applicator by name, any case', { applicator: ' pat example' }, 2],
    ['applicator by number', { applicator: 'CERT-INV-7' }, 2],
    ['applicator by account', { applicator: 'account-1' }, 2],
    ['nobody', { applicator: 'Sam' }, 0],
  ])('%s', (_, filter, count) => {
    expect(applicationRecords(facts, filter)).toHaveLength(count);
  });

  test('a house that was sold keeps its earlier customer on earlier records', () => {
    const sold = fact(
      'property changed',
      { customer: { name: 'New Owner', email: null, phone: null } },
      { at: '2026-03-04T20:00:00-05:00' },
    );
    const rows = applicationRecords([...facts, sold]);
    expect(rows.map((row) => row.property.customerName)).toEqual(['Ida Example', 'New Owner']);
  });

  test('a device whose clock is years ahead: the day of the receipt, and what the device said', () => {
    const odd = {
      ...applied({}, '2031-01-01T00:00:00Z'),
      receipt: { seq: 9, receivedAt: '2026-03-04T15:00:00Z' },
    };
    const [row] = applicationRecords([added(), odd]);
    expect([row?.date, row?.doubtfulAt]).toEqual(['2026-03-04', '2031-01-01T00:00:00Z']);
    expect(paperText([added(), odd])).toContain(
      'The clock of the device is doubtful: it said 2031-01-01T00:00:00Z.',
    );
  });

  test('the EPA registration number is printed, and where nothing is recorded the paper says so', () => {
    expect(paperText(sampleFacts())).toContain('99999-1');
    expect(paperText([])).toContain('No application is recorded for what was asked.');
  });
});
