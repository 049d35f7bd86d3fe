import { addMonths, getDay } from '@sillwatch/trade';
import { parse } from 'csv-parse/sync';
import { expect, test } from 'vitest';
import { textsOf } from '../../src/document/model.ts';
import { renewalLetter } from '../../src/report/renewalLetter.ts';
import { stationListCsv } from '../../src/report/stationList.ts';
import { workListCsv, workListDocument } from '../../src/report/workList.ts';
import {
  fact,
  MODELS,
  officeProperty,
  PROFILE,
  sampleDue,
  sampleFacts,
  sampleRenewal,
  sampleWorkList,
  seenBody,
  stationId,
  VISIT_DAY,
} from './sample.ts';

test('a work list tells each stop in order, what to do at each station, access, hazards and load', () => {
  const document = workListDocument(sampleWorkList());
  const headings = document.blocks.flatMap((block) => (block.kind === 'heading' ? [block.text] : []));
  expect(headings).toEqual([
    'Load',
    '1. 08:10 to 09:40: Marsh Lane 7',
    '2. 10:00 to 10:20: Property property-gone, of which nothing is recorded',
  ]);
  const texts = textsOf(document).join('\n');
  expect(texts).toContain('2 visits, 24 stations, 37 minutes on the road.');
  expect(texts).toContain('25 minutes, 10.0 mi');
  expect(texts).toContain('Gate code 0000 (invented).');
  expect(texts).toContain('Buried power line along the north wall.');
  expect(texts).toContain('No station work is owed at this visit.');
  expect(document.banner).not.toBeNull();
});

test('a station owed two works has one row; feeding is left alone in words', () => {
  const document = workListDocument(sampleWorkList());
  const [table] = document.blocks.flatMap((block) =>
    block.kind === 'table' && block.columns.length === 5 ? [block] : [],
  );
  expect(table?.rows).toHaveLength(24);
  const rowOf = (number: number) => table?.rows.find(({ cells }) => cells[0]?.startsWith(`${number}\n`));
  expect(rowOf(5)?.cells[3]).toBe('Check\nYearly service');
  expect(rowOf(3)?.cells[3]).toContain('Feeding: look, estimate the bait left, close. Lift nothing');
  expect(rowOf(7)?.cells[3]).toContain('do not pull the base monitor');
  expect(rowOf(12)?.cells[3]).toContain('Not opened at the last visit.');
});

test('a work that names a station nobody knows is shown, not dropped', () => {
  const input = sampleWorkList();
  const [first, ...rest] = input.round.visits;
  if (first === undefined) throw new Error('no visit');
  const works = [...first.works, { station: 'ghost', work: 'check' as const }];
  const document = workListDocument({
    ...input,
    round: { ...input.round, visits: [{ ...first, works }, ...rest] },
  });
  expect(textsOf(document)).toContain('Station ghost, of which nothing is recorded');
});

test('the work list as CSV has a line a station, and no cell that a spreadsheet runs', () => {
  const input = sampleWorkList();
  const hostile = officeProperty(24, { accessNotes: '=HYPERLINK("x")', hazards: '@SUM(1)', name: '+1+1' });
  const text = workListCsv({ ...input, properties: new Map([[hostile.property, hostile]]) });
  const rows: string[][] = parse(text, { bom: true });
  expect(rows).toHaveLength(1 + 24 + 1);
  for (const cell of rows.flat()) expect(cell).not.toMatch(/^[=+\-@\t\r]/);
  expect(rows[1]?.[3]).toBe("'+1+1");
});

test('an empty round says so', () => {
  const input = sampleWorkList();
  const document = workListDocument({ ...input, round: { ...input.round, visits: [] } });
  expect(textsOf(document)).toContain('No visit is planned for this day.');
});

test('a renewal letter counts the year before it and names no price', () => {
  const texts = textsOf(renewalLetter(sampleRenewal()));
  expect(texts).toContain(
    'Your agreement for the termite stations at 7 Marsh Lane, Example Springs, FL 00000 runs until April 1, 2026.',
  );
  expect(texts).toContain('What we did and found from March 4, 2025 to March 4, 2026');
  expect(texts).toContain('Live termites were found at House, stations 3 and 7.');
  expect(texts).toContain('At the last look termites were feeding on bait at House, station 3.');
  expect(texts).toContain('Could not be opened at one visit or more: House, station 12.');
  expect(texts).toContain('Bait put in: 35 g (1.23 oz).');
  expect(texts.join('\n')).not.toMatch(/\$|USD|eliminat/i);
});

test('what lies before the year, or was corrected away, is not counted', () => {
  const facts = sampleFacts();
  const old = fact('station seen', seenBody(3), {
    at: '2025-03-04T09:00:00-05:00',
    station: stationId(20),
  });
  const seen = facts.find((one) => one.kind === 'station seen' && one.station === stationId(7));
  if (seen === undefined) throw new Error('no look');
  const withdrawn = fact(
    'fact corrected',
    { corrects: seen.id, why: 'another house', body: null, at: null },
    { at: '2026-03-04T16:00:00-05:00', station: stationId(7) },
  );
  const texts = textsOf(renewalLetter({ ...sampleRenewal(), facts: [...facts, old, withdrawn] }));
  expect(texts).toContain('Live termites were found at House, station 3.');
  expect(texts.some((text) => text.startsWith('Bait put in'))).toBe(false);
});

test('a letter after the end says so; one without an agreement is refused by name', () => {
  const input = { ...sampleRenewal(), asOf: addMonths(getDay('2026-04-01'), 1) };
  expect(textsOf(renewalLetter(input)).join('\n')).toContain('ran until April 1, 2026');
  const none = { ...sampleRenewal(), property: officeProperty(24, { agreement: null }) };
  expect(() => renewalLetter(none)).toThrow(/property-1 has no agreement/);
});

test('the station list as CSV tells when each was set and what it holds', () => {
  const rows: string[][] = parse(
    stationListCsv({
      property: officeProperty(),
      profile: PROFILE,
      models: MODELS,
      due: sampleDue(),
      asOf: VISIT_DAY,
    }),
  );
  expect(rows[0]?.slice(-3)).toEqual(['Set on', 'Holds', 'Auxiliary']);
  expect(rows[7]?.slice(-3)).toEqual(['2024-02-01', expect.stringContaining('bait'), 'no']);
});
