import type { AnyFact } from '@sillwatch/trade';
import { expect, it } from 'vitest';
import { factsOfStation, historyOf } from '../src/desk/property/history.ts';

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

it('puts the newest day first', () => {
  const entries = historyOf([
    fact({ id: 'old', at: '2025-01-02T10:00:00-05:00' }),
    fact({ id: 'new', at: '2026-01-02T10:00:00-05:00' }),
  ]);
  expect(entries.map((entry) => entry.fact.id)).toEqual(['new', 'old']);
});
