import { type AnyFact, addDays, foldProperty, getDay } from '@sillwatch/trade';
import { describe, expect, test } from 'vitest';
import { type Block, type Document, type TableBlock, textsOf } from '../../src/document/model.ts';
import { stationListCsv, stationListDocument } from '../../src/report/stationList.ts';
import { type VisitReportInput, visitReport } from '../../src/report/visitReport.ts';
import {
  APPLICATION,
  FIRM,
  fact,
  MODELS,
  PROFILE,
  sampleDue,
  sampleFacts,
  sampleProperty,
  seenBody,
  VISIT,
  VISIT_DAY,
  WRITTEN_AT,
} from './sample.ts';

function input(over: Partial<VisitReportInput> = {}): VisitReportInput {
  return {
    firm: FIRM,
    property: sampleProperty(),
    facts: sampleFacts(),
    visit: VISIT,
    profile: PROFILE,
    models: MODELS,
    due: sampleDue(),
    asOf: VISIT_DAY,
    writtenAt: WRITTEN_AT,
    ...over,
  };
}
function blocksOf<K extends Block['kind']>(
  document: Document,
  kind: K,
): readonly Extract<Block, { kind: K }>[] {
  const is = (block: Block): block is Extract<Block, { kind: K }> => block.kind === kind;
  return document.blocks.filter(is);
}
function rowOf(
  tables: readonly TableBlock[],
  caption: string,
  header: string,
): readonly string[] | undefined {
  return tables
    .find((table) => table.caption.startsWith(caption))
    ?.rows.find((row) => row.cells[0] === header)?.cells;
}

describe('visit report', () => {
  const document = visitReport(input());
  const text = textsOf(document).join('\n');
  const tables = blocksOf(document, 'table');

  test('counts what was seen: 24 stations, 23 in the visit, one of them blocked', () => {
    expect(blocksOf(document, 'counts')[0]?.items.map((item) => item.value)).toEqual([
      '22',
      '1',
      '2',
      '1',
      '20',
    ]);
    expect(text).toContain('We opened 22 of 24 stations at your property.');
  });

  test('says at each station what was found and done', () => {
    expect(rowOf(tables, 'House', '3')).toEqual([
      '3',
      'Termites feeding on bait. Bait: half left.',
      'Looked at and left undisturbed.',
    ]);
    expect(rowOf(tables, 'House', '7')?.[2]).toBe('Bait put in: 35 g (1.23 oz).');
    expect(rowOf(tables, 'House', '12')).toEqual([
      '12',
      'Not opened: blocked (parked trailer <over> the cap).',
      'Nothing could be done.',
    ]);
    expect(rowOf(tables, 'Garage', '19')?.[2]).toBe('Yearly service done. 2 new monitors fitted.');
  });

  test('never shows a station as done that nobody opened', () => {
    expect(rowOf(tables, 'Garage', '24')).toBeUndefined();
    expect(text).toContain('Not part of this visit: Garage, station 24.');
  });

  // Common practice, no source: a yearly service is carried over where termites are feeding on bait.
  test('says what is carried over and why', () => {
    expect(text).toContain(
      'Yearly service stays owed at House, station 3. Termites are feeding on bait there',
    );
    expect(text).toContain('Yearly service stays owed at House, station 7. Live termites are in there');
    expect(text).toContain('House, station 12 could not be opened (parked trailer <over> the cap).');
  });

  test('says bait, parts, next work, technician, licence, label in hand, and that the profile is invented', () => {
    expect(rowOf(tables, 'Each application', 'House, station 7')).toEqual([
      'House, station 7',
      `${APPLICATION.productName}\n99999-1`,
      '35 g (1.23 oz)',
      'Pat Example\nCertification number: CERT-INV-7',
    ]);
    const details = blocksOf(document, 'details').flatMap((block) => block.items);
    expect(details).toContainEqual({ key: 'base monitor', value: '20' });
    expect(details).toContainEqual({ key: 'Technician', value: 'Pat Example' });
    expect(details).toContainEqual({ key: 'Licence number', value: 'LIC-INV-42' });
    expect(rowOf(tables, 'Work that is due next', 'Check')).toEqual([
      'Check',
      'House, stations 1, 2, 4 to 6, 8 to 11 and 13 to 18; Garage, stations 19 to 24',
      'Jun 4, 2026',
      'Jul 4, 2026',
    ]);
    expect(text).toContain('Yearly service waits until feeding has ended at House, station 3.');
    expect(text).toContain('The label in hand and the local code come first');
    expect(document.banner?.title).toBe('Invented demo.');
    expect(blocksOf(document, 'caution')).toHaveLength(1);
  });

  test('no banner for a profile that somebody took from a label', () => {
    expect(visitReport(input({ profile: { ...PROFILE, invented: false } })).banner).toBeNull();
  });

  test('what was not recorded is said to be so, never left blank', () => {
    const facts = sampleFacts().filter((one) => one.kind !== 'visit closed');
    const details = blocksOf(visitReport(input({ facts, profile: null })), 'details')[0]?.items ?? [];
    for (const key of ['Technician', 'Licence number', 'Task', 'Started at', 'Product on the label profile'])
      expect(details).toContainEqual({ key, value: 'not recorded' });
  });

  test('a correction after the visit changes the paper and is told on it', () => {
    const facts = sampleFacts();
    const seen = facts.find((one) => one.station === 'station-7' && one.kind === 'station seen');
    const body = { ...seenBody(7), application: { ...APPLICATION, grams: 40 } };
    const correction = fact(
      'fact corrected',
      { corrects: seen?.id, why: 'Scale read wrong.', body, at: null },
      { at: '2026-03-05T08:00:00-05:00', station: 'station-7' },
    );
    const corrected = textsOf(visitReport(input({ facts: [...facts, correction] }))).join('\n');
    expect(corrected).toContain('Bait put in: 40 g (1.41 oz).');
    expect(corrected).toContain('House, station 7, corrected on Mar 5, 2026: Scale read wrong.');
    expect(corrected).not.toContain('35 g');
  });

  test('the facts of another property do not slip in, and order and doubles do not matter', () => {
    const facts = sampleFacts();
    const strange: AnyFact = { ...fact('station seen', seenBody(7), { at: WRITTEN_AT }), property: 'other' };
    const shuffled = [strange, ...facts.toReversed(), ...facts];
    expect(visitReport(input({ facts: shuffled }))).toEqual(visitReport(input({ facts })));
  });

  test('a date that has passed is not promised', () => {
    const late = textsOf(visitReport(input({ asOf: addDays(VISIT_DAY, 60) }))).join('\n');
    expect(late).toContain('Overdue: due by April 4, 2026.');
    expect(textsOf(visitReport(input({ asOf: getDay('2026-03-20') }))).join('\n')).toContain(
      'We are due back no later than April 4, 2026.',
    );
  });

  // Source: a Texas field study of the 1990s (abstract read): termites found on independent monitors beside quiet stations.
  test('a structure that is clear is said so with its evidence, never as a colony that is gone', () => {
    const clear = { property: 'property-1', structure: 'structure-1-house', clearedOn: getDay('2026-03-04') };
    const strange = { ...clear, property: 'other' };
    const due = { ...sampleDue(), clearStructures: [clear, strange] };
    const notes = blocksOf(visitReport(input({ due })), 'note');
    expect(notes.map((note) => note.title)).toEqual(['House: clear']);
    expect(notes[0]?.text).toMatch(/3 checks in a row.*does not prove that a colony is gone/);
  });

  test('a station that was set at the visit stands on the paper with its model', () => {
    const set = fact(
      'station installed',
      {
        structure: 'structure-1-house',
        number: 30,
        tag: null,
        model: 'two-part',
        position: null,
        auxiliary: true,
        visit: VISIT,
        inserts: [{ slot: 'base', insert: 'monitor' }],
        application: null,
      },
      { at: '2026-03-04T11:00:00-05:00', station: 'station-30' },
    );
    const tables = blocksOf(visitReport(input({ facts: [...sampleFacts(), set] })), 'table');
    expect(rowOf(tables, 'House', '30')).toEqual([
      '30',
      'New station: Two-part monitor station.',
      'Station set. 1 new monitor fitted.',
    ]);
  });

  test('a paper of an old visit leaves out stations that were set later', () => {
    const facts = sampleFacts();
    const later = fact(
      'station installed',
      {
        structure: 'structure-1-house',
        number: 40,
        tag: null,
        model: 'two-part',
        position: null,
        auxiliary: true,
        visit: null,
        inserts: [],
        application: null,
      },
      { at: '2026-06-01T11:00:00-04:00', station: 'station-40' },
    );
    const all = [...facts, later];
    const text = textsOf(visitReport(input({ facts: all, property: foldProperty(all) }))).join('\n');
    expect(text).toContain('We opened 22 of 24 stations');
    expect(text).toContain('Not part of this visit: Garage, station 24.');
  });

  test('a new cap is told where it was fitted', () => {
    const facts = sampleFacts().map((one) => {
      if (one.kind !== 'station seen' || one.station !== 'station-15') return one;
      const body = seenBody(15);
      const partsUsed = { ...body.work.partsUsed, 'cap-two-part': 1 };
      return { ...one, body: { ...body, work: { ...body.work, partsUsed } } };
    });
    const tables = blocksOf(visitReport(input({ facts })), 'table');
    expect(rowOf(tables, 'House', '15')?.[2]).toBe(
      'Yearly service done. 2 new monitors fitted. New cap fitted.',
    );
  });

  test('an unknown visit is refused by name', () => {
    expect(() => visitReport(input({ visit: 'nowhere' }))).toThrow(/names visit nowhere/);
  });
});

describe('station list', () => {
  test('every station stands under its structure with its state and next work', () => {
    const document = stationListDocument(input());
    const tables = blocksOf(document, 'table');
    expect(tables.map((table) => table.rows.length)).toEqual([18, 6]);
    expect(rowOf(tables, 'House', '3')?.slice(1, 4)).toEqual(['T3', 'Two-part monitor station', 'Feeding']);
    expect(rowOf(tables, 'Garage', '24')?.slice(4)).toEqual([
      'never',
      'never',
      'Check: Jun 4, 2026, no later than Jul 4, 2026',
    ]);
  });

  test('as CSV: one line a station, days as ISO 8601', () => {
    const lines = stationListCsv(input()).trim().split('\r\n');
    expect(lines).toHaveLength(25);
    expect(lines[1]).toBe(
      '1,T1,Two-part monitor station,House,Monitoring,2026-03-04,2026-03-04,Check,2026-06-04,2026-07-04,2024-02-01,"monitor, monitor",no',
    );
  });
});
