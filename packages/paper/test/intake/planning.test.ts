import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import {
  type AnyFact,
  checkFact,
  DEMO_PROFILE,
  dueWork,
  foldProperty,
  type PropertyState,
} from '@sillwatch/trade';
import { dayToText, getDay } from '@sillwatch/trade/units';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  guessMapping,
  type ImportPlan,
  type Mapping,
  overrideMapping,
  planImport,
  readTable,
  type Table,
} from '../../src/intake/index.ts';
import { findDate, guessDateOrder } from '../../src/intake/values.ts';

const samples = join(import.meta.dirname, '../../samples');
const sample = (name: string): string => readFileSync(join(samples, name), 'utf8');
const tableOf = (text: string, file: string): Table => {
  const result = readTable(new TextEncoder().encode(text), file);
  if (!result.ok) throw new Error(result.problem.reason);
  return result.table;
};
const SAMPLE_TABLES = ['properties-invented.csv', 'stations-invented.csv', 'visits-invented.csv'].map(
  (file) => tableOf(sample(file), file),
);

function mappingFor(
  tables: readonly Table[],
  given: unknown = JSON.parse(sample('mapping-invented.json')),
): Mapping {
  const result = overrideMapping(guessMapping(tables).mapping, given);
  if (!result.ok) throw new Error(JSON.stringify(result.problems));
  return result.mapping;
}

function plan(tables: readonly Table[], before: readonly AnyFact[] = [], given?: unknown): ImportPlan {
  const byProperty = Map.groupBy(before, (fact) => fact.property ?? '');
  const existing: PropertyState[] = [...byProperty.values()].map((facts) => foldProperty(facts));
  const byId = new Map(before.map((fact) => [fact.id, fact]));
  return planImport({
    tables,
    mapping: mappingFor(tables, given),
    context: {
      firm: 'firm-1',
      by: 'person-1',
      today: getDay('2026-11-25'),
      existing,
      findKnown: (id) => byId.get(id),
      branches: [
        { id: 'branch-harbour', name: 'branch-harbour' },
        { id: 'branch-upland', name: 'branch-upland' },
      ],
      profiles: [{ id: 'demo', name: 'demo' }],
    },
  });
}

describe('the invented book of the samples', () => {
  const first = plan(SAMPLE_TABLES);
  const states = [...Map.groupBy(first.facts, (fact) => fact.property ?? '').values()].map((facts) =>
    foldProperty(facts),
  );
  const marrow = states.find((state) => state.body?.name === 'Marrow household');

  it('is read whole, and every fact passes the door', () => {
    expect(first.problems).toEqual([]);
    expect(first.summary).toEqual({
      rows: 17,
      newProperties: 3,
      changedProperties: 0,
      newStations: 6,
      changedStations: 0,
      newLooks: 8,
      knownRows: 0,
    });
    for (const fact of first.facts) expect(checkFact(fact)).toEqual([]);
  });

  it('says what the sheets say: accents, commas, foundation, a feeding station carried over', () => {
    expect(states.map((state) => state.body?.name).toSorted()).toEqual([
      'Marrow household',
      'Quill, Vane & Co. store',
      'Señor Ibáñez household',
    ]);
    expect(marrow?.structures[0]?.foundation).toBe('slab');
    expect(
      marrow?.stations.map((station) => [
        station.number,
        station.phase,
        station.carriedOverOn === null ? null : dayToText(station.carriedOverOn),
      ]),
    ).toEqual([
      [1, 'monitoring', null],
      [2, 'feeding', '2025-04-10'],
      [3, 'monitoring', null],
    ]);
    const due = dueWork(marrow?.stations ?? [], DEMO_PROFILE, getDay('2026-11-25'));
    expect(due.held.map((one) => one.station)).toEqual([marrow?.stations[1]?.station]);
  });

  it('claims no application record for bait that was put in elsewhere, and says where its record is', () => {
    const baited = first.facts.filter((fact) => JSON.stringify(fact.body).includes('"insert":"bait"'));
    expect(baited.map((fact) => Object(fact.body).application)).toEqual([null]);
    expect(Object(baited[0]?.body).recordKeptElsewhere).toMatch(/visits-invented\.csv, row 3/);
  });

  it('imported again makes nothing twice', () => {
    const again = plan(SAMPLE_TABLES, first.facts);
    expect([again.facts, again.problems, again.summary.knownRows]).toEqual([[], [], 17]);
  });

  it('a changed row becomes a change, a contradiction is a problem at its place', () => {
    const moved = tableOf(
      sample('properties-invented.csv').replace('12 Bellflower Lane', '14 Bellflower Lane'),
      'properties-invented.csv',
    );
    const change = plan([moved], first.facts);
    expect(change.facts.map((fact) => [fact.kind, Object.keys(Object(fact.body))])).toEqual([
      ['property changed', ['address']],
    ]);
    const contradiction = tableOf(
      sample('visits-invented.csv').replace(
        'A-100,1,06/12/2024,Quarterly,No activity',
        'A-100,1,06/12/2024,Quarterly,Live',
      ),
      'visits-invented.csv',
    );
    const refused = plan([contradiction], first.facts);
    expect(refused.facts).toEqual([]);
    expect(refused.problems).toMatchObject([
      { file: 'visits-invented.csv', row: 2, column: 'Visit Date', value: '06/12/2024' },
    ]);
  });
});

describe('one sheet with a row for each station and the property’s columns repeated', () => {
  const text =
    'Kunde,Address,City,Zip,Station,Model,Installed\nName 1,1 Gull Court,Alder Ferry,00011,1,two-part,2025-01-05\nName 1,1 Gull Court,Alder Ferry,00011,2,two-part,2025-01-05\n';
  it('makes one property; a column that nobody could guess is named in the mapping', () => {
    const tables = [tableOf(text, 'mixed.csv')];
    const columns = {
      Kunde: 'name',
      Address: 'street',
      City: 'town',
      Zip: 'postcode',
      Station: 'stationNumber',
      Model: 'model',
      Installed: 'installedOn',
    };
    const made = plan(tables, [], {
      sheets: [{ file: 'mixed.csv', sheet: '', columns }],
      defaults: { timeZone: 'America/New_York', branch: 'branch-upland' },
    });
    expect(made.problems).toEqual([]);
    expect(made.facts.map((fact) => fact.kind)).toEqual([
      'property added',
      'structure added',
      'station installed',
      'station installed',
    ]);
  });
});

describe('problems', () => {
  it('name file, row, column, value and remedy; nothing is imported', () => {
    const bad = tableOf(
      'Account No,Stn No,Tag,Model,Date Installed\nA-100,one,T1,two-part,03/14/2024\nA-100,2,T2,three-part,02/30/2024\nA-999,3,T3,two-part,03/14/2024\nA-100,4,T4,two-part,03/14/2031\n',
      'stations.csv',
    );
    const made = plan([SAMPLE_TABLES[0] ?? bad, bad]);
    expect(made.facts).toEqual([]);
    expect(made.problems.map(({ row, column, value }) => [row, column, value])).toEqual([
      [2, 'Stn No', 'one'],
      [3, 'Model', 'three-part'],
      [3, 'Date Installed', '02/30/2024'],
      [4, 'Account No', 'A-999'],
      [5, 'Date Installed', '03/14/2031'],
    ]);
    for (const problem of made.problems) expect(problem.remedy).not.toBe('');
  });

  it('of a property are not repeated for each of its rows', () => {
    const made = plan(SAMPLE_TABLES, [], { defaults: { branch: 'branch-harbour' } });
    expect(made.problemCount).toBe(3);
    expect(made.problems[0]?.column).toMatch(/time zone/);
  });

  it('list the words a cell may say', () => {
    const visits = tableOf('Account No,Stn No,Visit Date,Activity\nA-100,1,06/13/2024,maybe\n', 'visits.csv');
    const made = plan([...SAMPLE_TABLES.slice(0, 2), visits]);
    expect(made.problems[0]?.remedy).toMatch(/none, signs only, live on monitor, live on bait/);
    const translated = plan([...SAMPLE_TABLES.slice(0, 2), visits], [], {
      defaults: { timeZone: 'America/New_York', branch: 'branch-harbour' },
      values: { termites: { Maybe: 'signs only' } },
    });
    expect(translated.problems).toEqual([]);
  });

  it('in a mapping name the path', () => {
    const guess = guessMapping(SAMPLE_TABLES).mapping;
    const result = overrideMapping(guess, {
      dateOrder: 'xyz',
      columns: {},
      sheets: [{ file: 'nowhere.csv', sheet: '' }],
      defaults: { nonsense: 'x' },
    });
    expect(result.ok ? [] : result.problems.map((problem) => problem.path).toSorted()).toEqual([
      'columns',
      'dateOrder',
      'defaults.nonsense',
      'sheets[0]',
    ]);
  });
});

describe('days as people write them', () => {
  it.each([
    ['2026-03-04', 'mdy', '2026-03-04'],
    ['3/4/2026', 'mdy', '2026-03-04'],
    ['3/4/2026', 'dmy', '2026-04-03'],
    ['31.12.25', 'dmy', '2025-12-31'],
    ['4 Mar 2026', 'mdy', '2026-03-04'],
    ['March 4, 2026', 'dmy', '2026-03-04'],
    ['4 de marzo de 2026', 'dmy', '2026-03-04'],
    ['2/30/2026', 'mdy', undefined],
    ['soon', 'mdy', undefined],
  ] as const)('%s read as %s', (cell, order, expected) => {
    const day = findDate(cell, order);
    expect(day === undefined ? undefined : dayToText(day)).toBe(expected);
  });

  it('tells which order the numbers are in, and says when nothing tells', () => {
    expect(guessDateOrder(['03/14/2024', '01/02/2024'])).toEqual({ order: 'mdy' });
    expect(guessDateOrder(['14/03/2024', '01/02/2024'])).toEqual({ order: 'dmy' });
    expect(guessDateOrder(['01/02/2024'])).toEqual({ order: 'mdy', warning: 'date order open' });
    expect(guessDateOrder(['14/03/2024', '03/14/2024', '03/15/2024'])).toMatchObject({
      order: 'mdy',
      warning: expect.any(String),
    });
  });
});

describe('mutated books', () => {
  it('are imported whole or not at all, and never throw', () => {
    const texts = ['properties-invented.csv', 'stations-invented.csv', 'visits-invented.csv'].map(sample);
    const edit = fc.record({
      file: fc.nat(2),
      at: fc.nat(600),
      put: fc.oneof(
        fc.string({ maxLength: 6, unit: 'binary' }),
        fc.constantFrom(',', '"', '\n', '=1+1', '99/99/9999', '-1', ''),
      ),
      drop: fc.nat(8),
    });
    fc.assert(
      fc.property(fc.array(edit, { minLength: 1, maxLength: 6 }), (edits) => {
        const changed = [...texts];
        for (const { file, at, put, drop } of edits) {
          const text = changed[file] ?? '';
          changed[file] = `${text.slice(0, at)}${put}${text.slice(at + drop)}`;
        }
        const results = changed.map((text, index) =>
          readTable(new TextEncoder().encode(text), `${index}.csv`),
        );
        const tables = results.flatMap((result) => (result.ok ? [result.table] : []));
        const made = plan(tables);
        if (made.problemCount > 0) expect(made.facts).toEqual([]);
        for (const fact of made.facts) expect(checkFact(fact)).toEqual([]);
      }),
      { numRuns: 300 },
    );
  });
});
