import { type AnyFact, resolveFacts } from '@sillwatch/trade';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { listEntries } from '../../src/report/entries.ts';
import { fact } from './sample.ts';

/** A correction's body said anew: the text at the bottom of it, however many corrections deep, is another. */
function reworded(body: unknown, text: string): unknown {
  if (typeof body !== 'object' || body === null || !('corrects' in body)) return { text };
  return { ...body, body: 'body' in body ? reworded(body.body, text) : { text } };
}

/** A ledger of facts and corrections of facts and of corrections, as deep as chance makes it. */
const ledgers = fc
  .array(
    fc.record({
      corrects: fc.option(fc.nat(12), { nil: null }),
      withdraws: fc.boolean(),
    }),
    { minLength: 1, maxLength: 12 },
  )
  .map((plan) => {
    const facts: AnyFact[] = [];
    for (const [index, { corrects, withdraws }] of plan.entries()) {
      const at = '2026-03-04T08:00:00Z';
      const target = corrects === null ? undefined : facts[corrects % Math.max(1, facts.length)];
      if (target === undefined) {
        facts.push(fact('note added', { text: `first ${index}` }, { at }));
        continue;
      }
      const body = withdraws
        ? null
        : target.kind === 'fact corrected'
          ? reworded(target.body, `inner ${index}`)
          : { text: `correction ${index}` };
      facts.push(
        fact('fact corrected', { corrects: target.id, why: `why ${index}`, at: null, body }, { at }),
      );
    }
    return facts;
  });

test('what the papers hold to be in force is what the state is folded from, for any corrections of corrections', () => {
  fc.assert(
    fc.property(ledgers, (facts) => {
      const entries = listEntries(facts);
      const standing = new Map(resolveFacts(facts).standing.map((item) => [item.fact.id, item.body]));
      for (const { root, current } of entries) expect(current?.body).toEqual(standing.get(root.id));
    }),
    { numRuns: 1000 },
  );
});

test('no wording is ever dropped, and each that no longer holds says why', () => {
  fc.assert(
    fc.property(ledgers, (facts) => {
      const shown = listEntries(facts).flatMap((entry) => entry.versions);
      for (const version of shown) if (version.endedBy !== null) expect(version.why).not.toBeNull();
      const ids = shown.map((version) => version.fact.id);
      expect(new Set(ids).size).toBe(ids.length);
      for (const one of facts) if (one.kind !== 'fact corrected') expect(ids).toContain(one.id);
    }),
    { numRuns: 500 },
  );
});
