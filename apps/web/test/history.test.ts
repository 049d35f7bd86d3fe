import type { AnyFact } from '@sillwatch/trade';
import { expect, it } from 'vitest';
import { factsOfStation, historyOf, momentAgain } from '../src/desk/property/history.ts';

let seq = 0;
function fact(part: Partial<AnyFact> & { readonly id: string }): AnyFact {
  seq += 1;
  return {
    firm: 'f',
    property: 'p',
    station: 's1',
    by: 'u',
    device: 'd',
    seq,
    at: '2026-05-04T10:00:00-04:00',
    clock: `000001777900000.${String(seq).padStart(5, '0')}`,
    kind: 'note added',
    body: { text: 'seen' },
    ...part,
  };
}
const corrects = (id: string, target: string, body: unknown, why = 'mistyped') =>
  fact({ id, kind: 'fact corrected', station: null, body: { corrects: target, why, body, at: null } });

it('shows what a corrected fact says now, why, and keeps what it said', () => {
  const [entry] = historyOf([fact({ id: 'a' }), corrects('b', 'a', { text: 'seen twice' })]);
  expect(entry?.body).toEqual({ text: 'seen twice' });
  expect(entry?.fact.body).toEqual({ text: 'seen' });
  expect(entry?.corrections.map(({ why }) => why)).toEqual(['mistyped']);
});

it('strikes out a withdrawn fact and keeps it in the list', () => {
  const entries = historyOf([fact({ id: 'a' }), corrects('b', 'a', null)]);
  expect(entries).toHaveLength(1);
  expect(entries[0]?.body).toBeNull();
});

it('stands a correction of a correction with the fact both are about', () => {
  const facts = [fact({ id: 'a' }), corrects('b', 'a', null), corrects('c', 'b', null, 'it was right')];
  const [entry] = historyOf(facts);
  expect(entry?.body).toEqual({ text: 'seen' });
  expect(entry?.corrections.map(({ why }) => why)).toEqual(['it was right', 'mistyped']);
});

it('takes the corrections of a station along, whatever station they were recorded under', () => {
  const facts = [fact({ id: 'a' }), corrects('b', 'a', null), fact({ id: 'z', station: 's2' })];
  expect(factsOfStation(facts, 's1').map(({ id }) => id)).toEqual(['a', 'b']);
});

it('tells each correction with what stood before and after it, and the moment that the next one says again', () => {
  const other = '2026-05-02T10:00:00-04:00';
  const moved = { corrects: 'a', why: 'a day late', body: { text: 'seen' }, at: other };
  const facts = [
    fact({ id: 'a' }),
    corrects('b', 'a', { text: 'seen twice' }),
    corrects('c', 'a', { wrong: 'shape' }),
    fact({ id: 'd', kind: 'fact corrected', station: null, body: moved }),
  ];
  const [entry] = historyOf(facts);
  const at = '2026-05-04T10:00:00-04:00';
  expect(entry?.corrections.map(({ before, after }) => [before, after])).toEqual([
    [
      { body: { text: 'seen twice' }, at },
      { body: { text: 'seen' }, at: other },
    ],
    [
      { body: { text: 'seen twice' }, at },
      { body: { text: 'seen twice' }, at },
    ],
    [
      { body: { text: 'seen' }, at },
      { body: { text: 'seen twice' }, at },
    ],
  ]);
  expect(entry === undefined ? '' : momentAgain(entry)).toBe(other);
  const [first] = historyOf(facts.slice(0, 2));
  expect(first === undefined ? '' : momentAgain(first)).toBeNull();
});

it('puts the newest day first', () => {
  const entries = historyOf([
    fact({ id: 'old', at: '2025-01-02T10:00:00-05:00' }),
    fact({ id: 'new', at: '2026-01-02T10:00:00-05:00' }),
  ]);
  expect(entries.map((entry) => entry.fact.id)).toEqual(['new', 'old']);
});
