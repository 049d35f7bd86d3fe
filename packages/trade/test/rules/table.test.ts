import { expect, test } from 'vitest';
import { checkTable, decide, defineTable, listCombinations, RULE_TABLES } from '../../src/index.ts';

test.each(RULE_TABLES.map((table) => [table.id, table] as const))(
  'table "%s": each combination in exactly one row, every row reached',
  (_id, table) => {
    expect(checkTable(table)).toEqual([]);
    expect(new Set(table.rows.map((row) => row.id)).size).toBe(table.rows.length);
    for (const combination of listCombinations(table.inputs)) {
      const matching = table.rows.filter((row) =>
        Object.entries(row.when).every(([name, wanted]) =>
          typeof wanted === 'string'
            ? wanted === combination[name]
            : wanted?.includes(combination[name] ?? ''),
        ),
      );
      expect(matching).toEqual([decide(table, combination)]);
    }
  },
);

test('rows read as whole sentences', () => {
  for (const table of RULE_TABLES) {
    expect(table.question).toMatch(/^[A-Z].*\?$/);
    for (const row of table.rows) expect(row.reads, `${table.id}: ${row.id}`).toMatch(/^[A-Z].*[.]$/);
  }
});

const inputs = { rain: ['yes', 'no'], wind: ['calm', 'strong'] } as const;
const row = (id: string, when: Record<string, string>) => ({ id, when, answer: id, reads: `${id}.` });

test('a gap, an overlap, a dead row, a double id and unknown words are named', () => {
  const broken = {
    id: 'walk',
    question: 'Go out?',
    inputs,
    rows: [
      row('a', { rain: 'yes' }),
      row('b', { wind: 'strong' }),
      row('b', { wind: 'gale' }),
      row('c', { sun: 'yes', rain: 'never' }),
    ],
  };
  const problems = checkTable(broken);
  expect(problems).toContainEqual({ kind: 'gap', combination: '{"wind":"calm","rain":"no"}' });
  expect(problems).toContainEqual({
    kind: 'overlap',
    combination: '{"wind":"strong","rain":"yes"}',
    rows: ['a', 'b'],
  });
  expect(problems).toContainEqual({ kind: 'row never reached', row: 'c' });
  expect(problems).toContainEqual({ kind: 'row id used twice', row: 'b' });
  expect(problems).toContainEqual({ kind: 'unknown input or value', row: 'c', what: 'sun' });
  expect(problems).toContainEqual({ kind: 'unknown input or value', row: 'b', what: 'wind: gale' });
  expect(() => defineTable(broken)).toThrow(/table "walk" has \d+ problems/);
});

test('a value outside the list is refused, with the table and the input named', () => {
  const table = defineTable({
    id: 'walk',
    question: 'Go out?',
    inputs,
    rows: [
      { id: 'wet', when: { rain: 'yes' }, answer: 'stay', reads: 'Stay in.' },
      { id: 'dry', when: { rain: 'no' }, answer: 'go', reads: 'Go out.' },
    ],
  });
  expect(decide(table, { rain: 'no', wind: 'calm' }).id).toBe('dry');
  const word: string = 'gale';
  // @ts-expect-error a word that is not in the list
  expect(() => decide(table, { rain: 'no', wind: word })).toThrow(
    'table "walk": "gale" is not a value of "wind"',
  );
});
