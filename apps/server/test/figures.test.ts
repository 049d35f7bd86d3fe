import { DEMO_FIRM, generateDemo } from '@sillwatch/demo';
import { openLedger } from '@sillwatch/ledger';
import { bookAnswer, efficacyAnswer, readSubjects } from '@sillwatch/rounds';
import { type AnyFact, addDays, getDay } from '@sillwatch/trade';
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
    // Nobody is made to wait: the last answer with its age, until the new one is there.
    const meanwhile = await reckoner.ask(firm, question, 0);
    expect(meanwhile).toMatchObject({ state: 'done', behind: 1, asOf: today, failure: null });
    if (kept.state !== 'done' || meanwhile.state !== 'done') throw new Error('an answer was kept');
    expect(meanwhile.json).toBe(kept.json);
    expect(meanwhile.reckonedAt).toBe(kept.reckonedAt);
    await expect
      .poll(() => reckoner.ask(firm, question, 60_000), { timeout: 30_000 })
      .toMatchObject({ behind: 0 });
    const second = await done(reckoner.ask(firm, question, 0));
    expect(second).not.toEqual(first);
    await reckoner.close();
  });

  it('of yesterday are shown with their day until those of today are there; a day that was named stays', async () => {
    const { reckoner } = await open();
    const yesterday = { name: 'criteria', branch: null, asOf: addDays(today, -1) } as const;
    await done(reckoner.ask(firm, yesterday, 60_000));
    expect(await reckoner.ask(firm, { ...yesterday, asOf: today }, 0)).toMatchObject({
      state: 'done',
      asOf: addDays(today, -1),
    });
    const named = { ...yesterday, isDayNamed: true } as const;
    expect(await reckoner.ask(firm, named, 60_000)).toMatchObject({ asOf: addDays(today, -1) });
    await expect
      .poll(() => reckoner.ask(firm, { ...yesterday, asOf: today }, 60_000), { timeout: 30_000 })
      .toMatchObject({ asOf: today });
    await reckoner.close();
  });

  it('keep what they read: after any order of entries they say what a new thread says', async () => {
    const { ledger, reckoner } = await open();
    const questions = (['book', 'risk', 'bait', 'minutes'] as const).map((name) => ({
      name,
      branch: null,
      asOf: today,
    }));
    const stock = { of: 'stock', branch: 'branch-upland', chance: 0.05 } as const;
    const all = [...questions, { name: 'load', asked: stock, asOf: today } as const];
    for (const question of all) await done(reckoner.ask(firm, question, 60_000));
    const seen = demo.facts.filter(({ kind }) => kind === 'station seen').slice(0, 40);
    let seq = 910_000;
    for (const fact of seen) {
      seq += 1;
      const id = `01999999-0000-7000-8000-000000${seq}`;
      const again = { ...fact, id, seq, at: '2026-11-25T09:00:00-05:00', device: 'another phone' };
      await ledger.append(firm, [again], '2026-11-25T15:00:00.000Z');
    }
    const corrects = seen[0]?.id ?? '';
    const withdrawn = { corrects, why: 'typed at the wrong station (invented)', body: null, at: null };
    const fact = { ...seen[0], id: '01999999-0000-7000-8000-000000000011', seq: 1, device: 'desk' };
    await ledger.append(
      firm,
      [{ ...seen[0], ...fact, station: null, kind: 'fact corrected', body: withdrawn } as AnyFact],
      '2026-11-25T15:00:00.000Z',
    );
    const fresh = createReckoner(ledger);
    for (const question of all) {
      await expect
        .poll(() => reckoner.ask(firm, question, 60_000), { timeout: 30_000 })
        .toMatchObject({ behind: 0 });
      expect(await done(reckoner.ask(firm, question, 60_000))).toEqual(
        await done(fresh.ask(firm, question, 60_000)),
      );
    }
    await fresh.close();
    await reckoner.close();
  });

  it('cut long lists to what was asked for, say how many rows that left out, and name their properties', async () => {
    const { reckoner } = await open();
    const risk = { name: 'risk', branch: null, asOf: today } as const;
    const whole = await done(reckoner.ask(firm, risk, 60_000));
    const cut = await done(reckoner.ask(firm, { ...risk, most: 5 }, 60_000));
    if (typeof whole !== 'object' || whole === null || !('stations' in whole)) throw new Error('no stations');
    if (!Array.isArray(whole.stations)) throw new Error('no list of stations');
    expect(cut).toMatchObject({
      stations: whole.stations
        .slice(0, 5)
        .map((one: { property: string; station: string; chance: number }) => ({
          property: one.property,
          station: one.station,
          chance: expect.closeTo(one.chance, 5),
        })),
      rowsLeftOut: whole.stations.length - 5,
      names: { [whole.stations[0].property]: expect.any(String) },
    });
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
