import { type AnyFact, checkFact, foldProperty, type PropertyState } from '@sillwatch/trade';
import { getDay } from '@sillwatch/trade/units';
import { describe, expect, it } from 'vitest';
import {
  guessMapping,
  type ImportPlan,
  overrideMapping,
  planImport,
  readTable,
} from '../../src/intake/index.ts';

/** Files are given as text by name; `before` is what the ledger holds. */
function plan(
  files: Readonly<Record<string, string>>,
  before: readonly AnyFact[] = [],
  given: object = {},
  now?: string,
): ImportPlan {
  const tables = Object.entries(files).map(([name, text]) => {
    const result = readTable(new TextEncoder().encode(text), name);
    if (!result.ok) throw new Error(result.problem.reason);
    return result.table;
  });
  const laid = overrideMapping(guessMapping(tables).mapping, {
    defaults: { timeZone: 'America/New_York' },
    ...given,
  });
  if (!laid.ok) throw new Error(JSON.stringify(laid.problems));
  const byId = new Map(before.map((fact) => [fact.id, fact]));
  const made = planImport({
    tables,
    mapping: laid.mapping,
    context: {
      firm: 'firm-1',
      by: 'person-1',
      today: getDay('2026-11-25'),
      ...(now === undefined ? {} : { now }),
      existing: fold(before),
      findKnown: (id) => byId.get(id),
      branches: [
        { id: 'harbour', name: 'harbour' },
        { id: 'upland', name: 'upland' },
      ].slice(0, 1),
      profiles: [{ id: 'demo', name: 'demo' }],
    },
  });
  for (const fact of made.facts) expect(checkFact(fact)).toEqual([]);
  return made;
}
const fold = (facts: readonly AnyFact[]): readonly PropertyState[] =>
  [...Map.groupBy(facts, (fact) => fact.property ?? '').values()].map((one) => foldProperty(one));
const places = (made: ImportPlan): unknown =>
  made.problems.map(({ row, column, reason }) => [row, column, reason]);
function whole(made: ImportPlan): readonly AnyFact[] {
  expect(made.problems).toEqual([]);
  return made.facts;
}

const BOOK = `Account No,Property Name,Street,City,ST,Zip,Email,Phone,Contract Start,Renewal Date,Foundation Type
A-1,Marrow household,1 Gull Court,Alder Ferry,ZZ,00011,marrow@demo.invalid,555-0100,03/14/2024,03/14/2027,slab
`;
const STATIONS = `Account No,Station,Tag,Model,Date Installed
A-1,1,ZZ1,two-part,03/14/2024
A-1,2,ZZ2,two-part,03/14/2024
`;
const VISITS = `Account No,Station,Visit Date,Service Type,Activity,Bait,Bait Added,Service Done,Technician,License Number
`;
const base = whole(plan({ 'p.csv': BOOK, 's.csv': STATIONS }));
const visits = (...rows: readonly string[]): ImportPlan =>
  plan({ 'v.csv': `${VISITS}${rows.map((row) => `A-1,${row}\n`).join('')}` }, base);

describe('an empty cell says nothing', () => {
  it('a row that gives a street and a renewal keeps the town, the telephone and the start', () => {
    const again = plan(
      { 'p.csv': 'Account No,Street,Email,Renewal Date\nA-1,3 Gull Court,new@demo.invalid,03/14/2028\n' },
      base,
    );
    const [state] = fold([...base, ...whole(again)]);
    expect(again.summary.changedProperties).toBe(1);
    expect(state?.body).toMatchObject({
      address: { street: '3 Gull Court', town: 'Alder Ferry', state: 'ZZ', postcode: '00011' },
      customer: { name: 'Marrow household', email: 'new@demo.invalid', phone: '555-0100' },
      agreement: { startsOn: '2024-03-14', renewsOn: '2028-03-14' },
    });
  });

  it('is no finding: nobody is told that a station was clear because a cell was left empty', () => {
    expect(places(visits('1,06/12/2024,check,,,,,,', '2,06/12/2024,check,none,,,,,'))).toEqual([
      [2, 'Activity', 'does not say what was found'],
    ]);
    const meant = plan({ 'v.csv': `${VISITS}A-1,1,06/12/2024,check,,,,,,\n` }, base, {
      defaults: { timeZone: 'America/New_York', termites: 'none' },
    });
    expect(whole(meant)).toHaveLength(1);
  });

  it('defaults of the mapping do not overrule what is recorded', () => {
    const onePart = plan({ 's.csv': 'Account No,Station,Tag\nA-1,1,ZZ9\n' }, base, {
      defaults: { timeZone: 'Europe/Madrid', model: 'one-part', installedOn: '2020-01-01' },
    });
    expect(whole(onePart).map((fact) => fact.kind)).toEqual(['station tagged']);
  });
});

describe('a change', () => {
  it('there, back and there again on one day: each is recorded, and the last one stands', () => {
    let facts = base;
    for (const street of ['3 Gull Court', '1 Gull Court', '3 Gull Court', '5 Gull Court', '3 Gull Court']) {
      const made = plan({ 'p.csv': BOOK.replace('1 Gull Court', street) }, facts);
      facts = [...facts, ...whole(made)];
      expect([street, made.summary.changedProperties]).toEqual([street, 1]);
      expect(fold(facts)[0]?.body?.address.street).toBe(street);
    }
    const same = plan({ 'p.csv': BOOK.replace('1 Gull Court', '3 Gull Court') }, facts);
    expect([same.facts, same.summary.knownRows]).toEqual([[], 1]);
  });

  it('is as of now where the time is given, so that it follows what the office changed this morning', () => {
    const made = plan(
      { 's.csv': 'Account No,Station,Tag\nA-1,1,ZZ9\n' },
      base,
      {},
      '2026-11-25T15:30:00-05:00',
    );
    expect(whole(made)[0]?.at).toBe('2026-11-25T15:30:00-05:00');
  });

  it('of the foundation says the structure again', () => {
    const made = plan({ 'p.csv': BOOK.replace('slab', 'basement') }, base);
    const facts = [...base, ...whole(made)];
    expect(fold(facts)[0]?.structures.map((one) => one.foundation)).toEqual(['basement']);
    expect(plan({ 'p.csv': BOOK.replace('slab', 'basement') }, facts).facts).toEqual([]);
  });

  it('of the time zone does not double the past', () => {
    const look = `${VISITS}A-1,1,06/12/2024,check,none,,,,M. Underhay,ZZ-3\n`;
    const first = [...base, ...whole(plan({ 'v.csv': look }, base))];
    const zone = plan({ 'p.csv': 'Account No,Street,Time zone\nA-1,1 Gull Court,America/Chicago\n' }, first);
    const facts = [...first, ...whole(zone)];
    expect(fold(facts)[0]?.body?.timeZone).toBe('America/Chicago');
    expect(plan({ 'v.csv': look, 's.csv': STATIONS }, facts).facts).toEqual([]);
  });
});

describe('two rows that contradict each other are a problem, never silently one of them', () => {
  it('of one property', () => {
    const made = plan({
      'p.csv': `${BOOK}A-1,Marrow household,9 Other Street,Alder Ferry,ZZ,00011,,,,,slab\n`,
    });
    expect(places(made)).toEqual([[3, 'Street', 'p.csv, row 2 says "1 Gull Court" for the same property']]);
    expect(made.facts).toEqual([]);
  });

  it('of one station: another tag, another day, another foundation', () => {
    const made = plan({
      'p.csv': BOOK,
      's.csv': `${STATIONS}A-1,2,ZZ3,two-part,03/14/2024\nA-1,1,ZZ1,two-part,03/15/2024\n`,
    });
    expect(places(made)).toEqual([
      [4, 'Tag', 's.csv, row 3 says something else of the same station'],
      [5, 'Date Installed', 's.csv, row 2 says it was set on 2024-03-14'],
    ]);
  });

  it('of one visit: another licence', () => {
    expect(
      places(
        visits('1,06/12/2024,check,none,,,,M. Underhay,ZZ-3', '2,06/12/2024,check,none,,,,M. Underhay,ZZ-4'),
      ),
    ).toEqual([[3, 'License Number', 'another row of this visit gives M. Underhay the licence "ZZ-3"']]);
  });

  it('numbers with letters behind them, and fractions, are no numbers on the ring', () => {
    const made = plan({
      'p.csv': BOOK,
      's.csv': `${STATIONS.split('\n')[0]}\n${['12A', '1.5', '1000000007', '#12', 'A-13', '14.0']
        .map((number) => `A-1,${number},,two-part,03/14/2024\n`)
        .join('')}`,
    });
    expect(made.problems.map(({ value }) => value)).toEqual(['12A', '1.5', '1000000007']);
    expect(made.summary.newStations).toBe(3);
  });
});

describe('two properties stay two', () => {
  it('of the same name and place, under two numbers: told apart, or refused', () => {
    const second = BOOK.split('\n')[1]?.replace('A-1', 'A-2') ?? '';
    const made = plan({ 'p.csv': `${BOOK}${second}\n` });
    expect(places(made)).toEqual([
      [3, 'Account No', 'a property of this name and place is known under another number (a 1)'],
    ]);
    expect(places(plan({ 'p.csv': BOOK.replace('A-1', 'A-2') }, base))).toEqual([
      [2, 'Account No', 'a property of this name and place is known under another number'],
    ]);
    const apart = plan({
      'p.csv': `${BOOK}${second.replace('Marrow household', 'Marrow household unit 2')}\n`,
    });
    expect(apart.summary.newProperties).toBe(2);
    whole(apart);
  });

  it('a number is found again for a property that was imported without one', () => {
    const unnumbered = BOOK.replace('Account No,', '').replace('A-1,', '');
    const first = whole(plan({ 'p.csv': unnumbered }));
    expect(plan({ 'p.csv': BOOK }, first)).toMatchObject({
      facts: [],
      problems: [],
      summary: { knownRows: 1 },
    });
  });

  it('a name that two of them have is not enough', () => {
    const two = whole(
      plan({ 'p.csv': `${BOOK}A-2,Marrow household,2 Gull Court,Alder Ferry,ZZ,00011,,,,,slab\n` }),
    );
    const made = plan(
      { 's.csv': 'Property Name,Station,Model,Date Installed\nMarrow household,1,two-part,03/14/2024\n' },
      two,
    );
    expect(places(made)).toEqual([[2, 'Property Name', '2 properties have this name']]);
  });

  it('a structure that the office drew is found by its name', () => {
    const [added] = base;
    if (added === undefined) throw new Error('nothing to start from');
    const drawn: AnyFact[] = [
      added,
      {
        ...added,
        id: '01900000-0000-7000-8000-000000000001',
        kind: 'structure added',
        body: {
          structure: 'st-77',
          name: 'House',
          foundation: 'slab',
          outline: [
            [0, 0],
            [4, 0],
            [4, 4],
          ],
        },
      },
    ];
    const made = plan({ 's.csv': STATIONS }, drawn);
    expect(whole(made).map((fact) => [fact.kind, Object(fact.body).structure])).toEqual([
      ['station installed', 'st-77'],
      ['station installed', 'st-77'],
    ]);
  });
});

describe('bait', () => {
  it('that is seen must have been put in by some row, whatever their order', () => {
    expect(
      places(visits('1,09/16/2024,check,feeding,50%,no,,,', '1,12/16/2024,check,feeding,25%,no,,,')),
    ).toEqual([[2, 'Bait Added', 'tells of bait in a station, and no row says that bait was put in there']]);
    const made = visits('1,09/16/2024,check,feeding,50%,no,,,', '1,06/12/2024,check,live,,yes,,,');
    const [state] = fold([...base, ...whole(made)]);
    expect(state?.stations[0]).toMatchObject({ phase: 'feeding', baitLeft: 'half' });
  });

  it('stands in an always-baited station from the first day, its record kept elsewhere', () => {
    const made = plan({ 'p.csv': BOOK, 's.csv': STATIONS.replaceAll('two-part', 'always-baited') });
    const installed = whole(made).filter((fact) => fact.kind === 'station installed');
    expect(installed.map((fact) => fact.body)).toMatchObject([
      {
        inserts: [{ insert: 'bait' }],
        application: null,
        recordKeptElsewhere: expect.stringContaining('s.csv, row 2'),
      },
      {
        inserts: [{ insert: 'bait' }],
        application: null,
        recordKeptElsewhere: expect.stringContaining('s.csv, row 3'),
      },
    ]);
    const [state] = fold(made.facts);
    expect(state?.stations.map((station) => station.phase)).toEqual(['baited', 'baited']);
  });

  it('a yearly service said to be done where termites fed is for a person to settle', () => {
    const said = visits('1,06/12/2024,check,live,,yes,,,', '1,09/16/2024,Annual,feeding,50%,no,yes,,');
    expect(places(said)).toEqual([
      [3, 'Service Done', 'says that the yearly service was done where live termites were found'],
    ]);
    const carried = visits('1,06/12/2024,check,live,,yes,,,', '1,09/16/2024,Annual,feeding,50%,no,no,,');
    expect(fold([...base, ...whole(carried)])[0]?.stations[0]?.carriedOverOn).toBe(getDay('2024-09-16'));
  });
});

describe('the closing of a visit', () => {
  it('is one, with the licence that any of its rows gives; later rows correct it, once', () => {
    const first = visits('1,06/12/2024,check,none,,,,M. Underhay,');
    const facts = [...base, ...whole(first)];
    const more = `${VISITS}A-1,1,06/12/2024,check,none,,,,M. Underhay,\nA-1,2,06/12/2024,Annual,none,,,,M. Underhay,ZZ-3\n`;
    const second = plan({ 'v.csv': more }, facts);
    expect(whole(second).map((fact) => fact.kind)).toEqual(['station seen', 'fact corrected']);
    expect(Object(second.facts[1]?.body).body).toMatchObject({
      task: 'yearly service',
      licenceNumber: 'ZZ-3',
    });
    expect(plan({ 'v.csv': more }, [...facts, ...second.facts]).facts).toEqual([]);
  });
});

describe('a mapping is held against the sheet', () => {
  const columns = {
    'Account No': 'reference',
    Adress: 'street',
    Street: 'street',
    'Property Name': 'street',
  };
  it('names a column that is not there, and two that are the same field', () => {
    const made = plan({ 'p.csv': BOOK }, [], { sheets: [{ file: 'p.csv', sheet: '', columns }] });
    expect(made.problems.slice(0, 3).map(({ row, column, reason }) => [row, column, reason])).toEqual([
      [1, 'Adress', 'the mapping names a column that the sheet does not have'],
      [1, 'Street', 'it and "Adress" are both taken for the street and number'],
      [1, 'Property Name', 'it and "Street" are both taken for the street and number'],
    ]);
  });
  it('names a column that stands there twice', () => {
    const made = plan({ 'p.csv': BOOK.replace('City', 'Street') });
    expect(places(made)).toContainEqual([1, 'Street', '2 columns have this name']);
  });
});

describe('guessing by content', () => {
  const guess = (text: string) => {
    const result = readTable(new TextEncoder().encode(text), 'x.csv');
    if (!result.ok) throw new Error(result.problem.reason);
    return guessMapping([result.table]);
  };
  it('tells e-mail, time zone and ZIP + 4 under any header', () => {
    const { mapping } = guess('Q1,Q2,Q3,Q4\na@demo.invalid,America/New_York,00011-0001,77\n');
    expect(mapping.sheets[0]?.columns).toEqual({ Q1: 'email', Q2: 'timeZone', Q3: 'postcode' });
  });
  it('takes the order of dates from columns that only a mapping will name', () => {
    expect(guess('Name,Q1\nx,14/03/2024\ny,01/02/2024\n').mapping.dateOrder).toBe('dmy');
    expect(guess('Name,Q1\nx,04/03/2024\n').warnings[0]).toMatch(/month first was taken/);
  });
});
