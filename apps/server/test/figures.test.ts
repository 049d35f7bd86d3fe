import { DEMO_FIRM, generateDemo } from '@sillwatch/demo';
import { openLedger } from '@sillwatch/ledger';
import { bookAnswer, efficacyAnswer, readSubjects } from '@sillwatch/rounds';
import { type AnyFact, getDay } from '@sillwatch/trade';
import { describe, expect, it } from 'vitest';
import { createReckoner } from '../src/reckon/reckoner.ts';

const today = getDay('2026-11-25');
const demo = generateDemo({ seed: 7, today, properties: 8 });
const firm = DEMO_FIRM.id;

async function open() {
  const ledger = await openLedger({});
  await ledger.append(firm, demo.facts, '2026-11-25T12:00:00.000Z');
  return { ledger, reckoner: createReckoner(ledger) };
}

async function done(asked: ReturnType<ReturnType<typeof createReckoner>['ask']>): Promise<unknown> {
  const reckoned = await asked;
  if (reckoned.state !== 'done') throw new Error(JSON.stringify(reckoned));
  return JSON.parse(reckoned.json);
}

describe('figures reckoned in a thread', () => {
  it('are those of the pure functions, of one branch or all', async () => {
    const { ledger, reckoner } = await open();
    const state = await ledger.getFirm(firm);
    const facts = await ledger.listFacts(firm, { limit: 1_000_000 });
    const byProperty = new Map<string, AnyFact[]>();
    for (const fact of facts)
      if (fact.property !== null)
        byProperty.set(fact.property, [...(byProperty.get(fact.property) ?? []), fact]);
    const read = readSubjects(byProperty, state.profiles);
    for (const branch of [null, 'branch-upland']) {
      const subjects = read.subjects.filter((one) => branch === null || one.branch === branch);
      const source = { ...read, subjects, firm: state, facts };
      const asked = (name: 'book' | 'efficacy') =>
        done(reckoner.ask(firm, { name, branch, asOf: today }, 60_000));
      expect(await asked('book')).toEqual(JSON.parse(JSON.stringify(bookAnswer(source, today))));
      expect(await asked('efficacy')).toEqual(JSON.parse(JSON.stringify(efficacyAnswer(source, today))));
    }
    await reckoner.close();
  });

  it('say that they are being reckoned when nobody waits, are kept, and follow what is recorded', async () => {
    const { ledger, reckoner } = await open();
    const question = { name: 'book', branch: null, asOf: today } as const;
    expect(await reckoner.ask(firm, question, 0)).toEqual({ state: 'reckoning' });
    const first = await done(reckoner.ask(firm, question, 60_000));
    const kept = await reckoner.ask(firm, question, 0);
    expect(kept.state).toBe('done');
    const removed = demo.facts.find(({ kind }) => kind === 'station installed');
    if (removed === undefined) throw new Error('the demo has a station');
    await ledger.append(
      firm,
      [
        {
          ...removed,
          id: '01999999-0000-7000-8000-000000000009',
          seq: 900_000,
          at: '2026-11-25T08:00:00-05:00',
          kind: 'station removed',
          body: { why: 'the building came down (invented)' },
        },
      ],
      '2026-11-25T13:00:00.000Z',
    );
    const second = await done(reckoner.ask(firm, question, 60_000));
    expect(second).not.toEqual(first);
    await reckoner.close();
  });

  it('of a firm without a property say so and break nothing', async () => {
    const { reckoner } = await open();
    expect(
      await done(reckoner.ask('nobody', { name: 'book', branch: null, asOf: today }, 60_000)),
    ).toMatchObject({
      properties: 0,
      hits: null,
    });
    await reckoner.close();
  });
});
