import { type AnyFact, foldFirm } from '@sillwatch/trade';
import fc from 'fast-check';
import { afterAll, describe, expect, test } from 'vitest';
import { canonicalJson } from '../src/index.ts';
import { createFactMaker, makeProperty, RECEIVED } from './support/facts.ts';
import { findTestPostgres } from './support/postgres.ts';
import { dump, listTargets, makeFolder, open } from './support/targets.ts';

const folder = makeFolder();
const postgres = await findTestPostgres();
const targets = listTargets(folder.path, postgres);
afterAll(async () => {
  await postgres?.stop();
  folder.remove();
});

describe.each(targets)('the ledger on $name', ({ name, createUrl }) => {
  test('keeps facts in the order given, with positions from 1 and receipts', async () => {
    const ledger = await open(await createUrl());
    const maker = createFactMaker('firm-a');
    const facts = makeProperty(maker, 'p1', 3, 2);
    const verdicts = await ledger.append('firm-a', facts, RECEIVED);
    expect(verdicts).toEqual(facts.map(({ id }, index) => ({ id, verdict: 'accepted', seq: index + 1 })));
    const stored = await ledger.listFacts('firm-a');
    expect(stored).toEqual(
      facts.map((fact, index) => ({ ...fact, receipt: { seq: index + 1, receivedAt: RECEIVED } })),
    );
    expect(await ledger.findFact('firm-a', facts[4]?.id ?? '')).toEqual(stored[4]);
    expect((await ledger.findHead('nobody')).seq).toBe(0);
    const { seq, hash } = await ledger.findHead('firm-a');
    expect(await ledger.verify('firm-a')).toEqual({ sound: true, facts: seq, head: hash });
    expect(await ledger.findFact('firm-a', 'no such id')).toBeUndefined();
    await ledger.close();
  });

  test('takes a fact once: again is already known, other content is refused, doubles in one batch too', async () => {
    const ledger = await open(await createUrl());
    const maker = createFactMaker('firm-a');
    const [first, second] = [maker.property('p1'), maker.noted('p1', 'gate code at the office')];
    const forged = { ...second, body: { text: 'another text' } };
    expect((await ledger.append('firm-a', [first, first, second], RECEIVED)).map((v) => v.verdict)).toEqual([
      'accepted',
      'already known',
      'accepted',
    ]);
    const again = await ledger.append('firm-a', [second, forged, first], '2026-03-03T00:00:00.000Z');
    expect(again).toMatchObject([
      { verdict: 'already known', seq: 2 },
      { verdict: 'refused', code: 'id reused with other content' },
      { verdict: 'already known', seq: 1 },
    ]);
    // Key order and a receipt that the server gave earlier do not make it another fact.
    const shuffled: AnyFact = { ...Object.fromEntries(Object.entries(second).reverse()), ...second };
    const withReceipt = { ...shuffled, receipt: { seq: 77, receivedAt: RECEIVED } };
    expect(await ledger.append('firm-a', [withReceipt], RECEIVED)).toMatchObject([
      { verdict: 'already known' },
    ]);
    expect(await ledger.listFacts('firm-a')).toHaveLength(2);
    await ledger.close();
  });

  test('refuses what is not this firm or malformed, with the reason, and stores the rest', async () => {
    const ledger = await open(await createUrl());
    const maker = createFactMaker('firm-a');
    const good = maker.property('p1');
    const foreign = createFactMaker('firm-b', 2).property('p9');
    const { device: _, ...noDevice } = maker.noted('p1', 'x');
    const nameless = { ...maker.noted('p1', 'x'), id: '' };
    const longKey = { ...maker.noted('p1', 'x'), property: 'p'.repeat(300) };
    const nulKey = { ...maker.noted('p1', 'x'), station: 'a\u0000b' };
    let nested: unknown = 0;
    for (let depth = 0; depth < 200_000; depth += 1) nested = [nested];
    const deep = { ...maker.unknown('p1'), body: nested };
    const batch: unknown[] = [foreign, noDevice, good, nameless, longKey, nulKey, deep];
    // What arrives over the wire is not typed; the ledger is the last door.
    const verdicts = await ledger.append('firm-a', batch as AnyFact[], RECEIVED);
    expect(verdicts).toMatchObject([
      { verdict: 'refused', code: 'other firm' },
      { verdict: 'refused', code: 'malformed' },
      { verdict: 'accepted', seq: 1 },
      { verdict: 'refused', code: 'malformed' },
      { verdict: 'refused', code: 'malformed', detail: expect.stringContaining('property') },
      { verdict: 'refused', code: 'malformed', detail: expect.stringContaining('station') },
      { verdict: 'refused', code: 'malformed' },
    ]);
    expect(await ledger.listFirms()).toEqual(['firm-a']);
    await ledger.close();
  });

  test('refuses an application without its legal fields', async () => {
    const ledger = await open(await createUrl());
    const maker = createFactMaker('firm-a');
    const installed = maker.installed('p1', 's1', 1);
    const body = typeof installed.body === 'object' ? installed.body : {};
    const application = {
      productName: 'Invented bait',
      epaRegistrationNumber: '',
      grams: 35,
      location: 'station 1',
      areaTreated: '1 station',
      site: 'dwelling',
      applicatorName: 'T. Example',
      certificationNumber: '',
      appliedUnderSupervisionBy: null,
    };
    const verdicts = await ledger.append(
      'firm-a',
      [{ ...installed, body: { ...body, application } }],
      RECEIVED,
    );
    expect(verdicts).toMatchObject([{ verdict: 'refused', code: 'legal field missing' }]);
    await ledger.close();
  });

  test('keeps firms apart', async () => {
    const ledger = await open(await createUrl());
    const [a, b] = [createFactMaker('firm-a', 1), createFactMaker('firm-b', 2)];
    await ledger.append('firm-a', [...makeProperty(a, 'p1', 2, 1), a.branch('north')], RECEIVED);
    // The same ids in another firm are other facts.
    const shared = { ...a.noted('p1', 'ours'), firm: 'firm-b' };
    await ledger.append('firm-b', [b.property('p1', { name: 'Theirs' }), shared], RECEIVED);
    expect(await ledger.listFirms()).toEqual(['firm-a', 'firm-b']);
    expect((await ledger.listFacts('firm-b')).map(({ firm }) => firm)).toEqual(['firm-b', 'firm-b']);
    expect((await ledger.findProperty('firm-b', 'p1'))?.body?.name).toBe('Theirs');
    expect((await ledger.findProperty('firm-a', 'p1'))?.body?.name).toBe('Invented house p1');
    expect(await ledger.findFact('firm-a', shared.id)).toBeUndefined();
    expect(Object.keys((await ledger.getFirm('firm-b')).branches)).toEqual([]);
    expect(Object.keys((await ledger.getFirm('firm-a')).branches)).toEqual(['north']);
    expect(await ledger.findProperty('firm-c', 'p1')).toBeUndefined();
    expect(await ledger.verify('firm-b')).toMatchObject({ sound: true, facts: 2 });
    await ledger.close();
  });

  test('lists facts by what recorded them', async () => {
    const ledger = await open(await createUrl());
    const phone = createFactMaker('firm-a', 1, 'phone');
    const desk = createFactMaker('firm-a', 2, 'desk');
    const tablet = createFactMaker('firm-a', 3, 'tablet');
    await ledger.append('firm-a', makeProperty(phone, 'p1', 1, 1), RECEIVED);
    await ledger.append('firm-a', [desk.branch('north')], RECEIVED);
    await ledger.append('firm-a', [...makeProperty(phone, 'p2', 1, 0), tablet.branch('east')], RECEIVED);
    const seqs = async (query: Parameters<typeof ledger.listFacts>[1]) =>
      (await ledger.listFacts('firm-a', query)).map(({ receipt }) => receipt?.seq);
    const all = await ledger.listFacts('firm-a');
    const of = (...devices: string[]) =>
      all.flatMap(({ device, receipt }) => (devices.includes(device) ? [receipt?.seq] : []));
    expect(of('phone').length).toBeGreaterThan(3);
    expect(await seqs({ devices: ['phone'] })).toEqual(of('phone'));
    expect(await seqs({ devices: ['tablet', 'desk'] })).toEqual(of('desk', 'tablet'));
    expect(await seqs({ devices: ['phone'], afterSeq: 2, limit: 2 })).toEqual(of('phone').slice(2, 4));
    expect(await seqs({ devices: ['phone', 'desk'], kinds: ['branch added'] })).toEqual(of('desk'));
    expect(await seqs({ devices: ['phone'], property: 'p2' })).toEqual(
      all.filter(({ property }) => property === 'p2').map(({ receipt }) => receipt?.seq),
    );
    expect(await seqs({ devices: ['desk'], property: 'p2' })).toEqual([]);
    expect(await seqs({ devices: ['unknown'] })).toEqual([]);
    expect(await seqs({ devices: [] })).toEqual([]);
    await ledger.close();
  });

  test('lists facts by position, property, station, kind and limit', async () => {
    const ledger = await open(await createUrl());
    const maker = createFactMaker('firm-a');
    await ledger.append('firm-a', makeProperty(maker, 'p1', 2, 2), RECEIVED);
    await ledger.append('firm-a', [...makeProperty(maker, 'p2', 1, 1), maker.branch('north')], RECEIVED);
    const seqs = async (query: Parameters<typeof ledger.listFacts>[1]) =>
      (await ledger.listFacts('firm-a', query)).map(({ receipt }) => receipt?.seq);
    expect(await seqs({ afterSeq: 10 })).toEqual([11, 12, 13]);
    expect(await seqs({ property: 'p2' })).toEqual([9, 10, 11, 12]);
    expect(await seqs({ station: 'p1-s2' })).toEqual([4, 6, 8]);
    expect(await seqs({ property: 'p1', station: 'p2-s1' })).toEqual([]);
    expect(await seqs({ kinds: ['station seen'], afterSeq: 5, limit: 2 })).toEqual([6, 7]);
    expect(await seqs({ kinds: ['branch added', 'property added'] })).toEqual([1, 9, 13]);
    expect(await seqs({ kinds: [] })).toEqual([]);
    await ledger.close();
  });

  test('finds properties by branch and by words in name, street, town, customer and tag, any case', async () => {
    const ledger = await open(await createUrl());
    const maker = createFactMaker('firm-a');
    const address = { street: '7 Ficus Row 100%', town: 'Übersee', state: 'FL', postcode: '00001' };
    await ledger.append(
      'firm-a',
      [
        ...makeProperty(maker, 'p1', 1, 1),
        maker.property('P2', { name: 'Old Mill', branch: 'south', address }),
        maker.property('p10', { customer: { name: "O'Sample_1", email: null, phone: null } }),
      ],
      RECEIVED,
    );
    const ids = async (query: Parameters<typeof ledger.listProperties>[1]) =>
      (await ledger.listProperties('firm-a', query)).map(({ property }) => property);
    // By code unit, capitals first, whatever the database's own order of words is.
    expect(await ids({})).toEqual(['P2', 'p1', 'p10']);
    expect(await ids({ after: 'P2', limit: 1 })).toEqual(['p1']);
    expect(await ids({ branch: 'south' })).toEqual(['P2']);
    expect(await ids({ text: 'MILL übersee' })).toEqual(['P2']);
    expect(await ids({ text: 'mill lane' })).toEqual([]);
    expect(await ids({ text: '100%' })).toEqual(['P2']);
    expect(await ids({ text: '%' })).toEqual(['P2']);
    expect(await ids({ text: 'e_1' })).toEqual(['p10']);
    expect(await ids({ text: "o's" })).toEqual(['p10']);
    expect(await ids({ text: 'T-P1-S1' })).toEqual(['p1']);
    expect(await ids({ text: '\\' })).toEqual([]);
    await ledger.close();
  });

  test('keeps text that databases find hard: NUL, half an emoji, line separators, quotes', async () => {
    const ledger = await open(await createUrl());
    const maker = createFactMaker('firm-a');
    const hard = 'NUL \u0000, half \ud83d, \u2028, \'\' "" \\u0041 \\ % _, İ';
    const facts = [
      maker.property('p1', { name: hard, branch: `b\u0000${'x'.repeat(5_000)}` }),
      maker.noted('p1', hard),
    ];
    expect(await ledger.append('firm-a', facts, RECEIVED)).toMatchObject([
      { verdict: 'accepted' },
      { verdict: 'accepted' },
    ]);
    expect((await ledger.listFacts('firm-a')).map(({ body }) => body)).toEqual(facts.map(({ body }) => body));
    expect((await ledger.findProperty('firm-a', 'p1'))?.body?.name).toBe(hard);
    expect(await ledger.listProperties('firm-a', { text: hard })).toHaveLength(1);
    expect(await ledger.append('firm-a', facts, RECEIVED)).toMatchObject([
      { verdict: 'already known' },
      { verdict: 'already known' },
    ]);
    expect(await ledger.verify('firm-a')).toMatchObject({ sound: true, facts: 2 });
    await ledger.close();
  });

  test('an empty firm has an empty state, no facts, and a sound chain', async () => {
    const ledger = await open(await createUrl());
    expect(await ledger.listFirms()).toEqual([]);
    expect(await ledger.getFirm('nobody')).toEqual(foldFirm([]));
    expect(await ledger.listFacts('nobody')).toEqual([]);
    expect(await ledger.verify('nobody')).toMatchObject({ sound: true, facts: 0 });
    expect(await ledger.append('nobody', [], RECEIVED)).toEqual([]);
    await ledger.rebuild('nobody');
    await ledger.close();
  });

  test('rebuild gives byte for byte what the appends left, however they were split and repeated', async () => {
    const ledger = await open(await createUrl());
    let run = 0;
    await fc.assert(
      fc.asyncProperty(
        fc.integer({ min: 1, max: 1e6 }),
        fc.array(fc.integer({ min: 1, max: 9 }), { minLength: 1, maxLength: 12 }),
        fc.boolean(),
        async (seed, cuts, doubled) => {
          run += 1;
          const firm = `firm-${run}`;
          const maker = createFactMaker(firm, seed);
          const base = [...makeProperty(maker, 'p1', 3, 2), ...makeProperty(maker, 'p2', 2, 1)];
          const spoilt = base.filter(({ kind }) => kind === 'station seen').slice(0, 2);
          const facts = [
            ...base,
            ...spoilt.map((fact) => maker.corrected(fact, null)),
            maker.unknown('p2'),
            maker.branch('north'),
          ].toReversed();
          let rest = facts;
          for (const cut of [...cuts, facts.length]) {
            const batch = rest.slice(0, cut);
            rest = rest.slice(cut);
            await ledger.append(firm, doubled ? [...batch, ...batch] : batch, RECEIVED);
          }
          const before = await dump(ledger, firm);
          await ledger.rebuild(firm);
          expect(await dump(ledger, firm)).toBe(before);
        },
      ),
      { numRuns: name === 'PostgreSQL' ? 15 : 25 },
    );
    await ledger.close();
  });

  test('any order and any doubling of the same facts gives the same property states', async () => {
    const ledger = await open(await createUrl());
    const facts = makeProperty(createFactMaker('x', 5), 'p1', 3, 3);
    let run = 0;
    let expected: string | undefined;
    await fc.assert(
      fc.asyncProperty(fc.shuffledSubarray(facts, { minLength: facts.length }), async (shuffled) => {
        run += 1;
        const firm = `firm-${run}`;
        const own = shuffled.map((fact) => ({ ...fact, firm }));
        for (let start = 0; start < own.length; start += 4)
          await ledger.append(firm, own.slice(Math.max(0, start - 2), start + 4), RECEIVED);
        const { passedOver: _, ...state } = (await ledger.findProperty(firm, 'p1')) ?? { passedOver: [] };
        expected ??= canonicalJson(state);
        expect(canonicalJson(state)).toBe(expected);
      }),
      { numRuns: 10 },
    );
    await ledger.close();
  });

  test('50 phones that sync at once lose nothing', async () => {
    const ledger = await open(await createUrl());
    const phones = Array.from({ length: 50 }, (_, index) => {
      const maker = createFactMaker('firm-a', index + 1);
      // Every second phone works on the same property.
      return makeProperty(maker, index % 2 === 0 ? 'shared' : `p${index}`, 4, 3);
    });
    const sent = phones.flat();
    await Promise.all(
      phones.map(async (facts) => {
        for (let start = 0; start < facts.length; start += 7) {
          const batch = facts.slice(start, start + 7);
          const verdicts = await ledger.append('firm-a', batch, RECEIVED);
          expect(verdicts.every(({ verdict }) => verdict === 'accepted')).toBe(true);
          // The answer got lost on the way and the phone sends it again.
          if (start % 2 === 0) await ledger.append('firm-a', batch, RECEIVED);
        }
      }),
    );
    const stored = await ledger.listFacts('firm-a', { limit: 100_000 });
    expect(stored.map(({ receipt }) => receipt?.seq)).toEqual(sent.map((_, index) => index + 1));
    expect(new Set(stored.map(({ id }) => id))).toEqual(new Set(sent.map(({ id }) => id)));
    expect(await ledger.verify('firm-a')).toMatchObject({ sound: true, facts: sent.length });
    const before = await dump(ledger, 'firm-a');
    await ledger.rebuild('firm-a');
    expect(await dump(ledger, 'firm-a')).toBe(before);
    await ledger.close();
  });

  test('says the same as every other adapter', async () => {
    const facts = makeProperty(createFactMaker('firm-a', 9), 'p1', 3, 3);
    const [here, memory] = [await open(await createUrl()), await open(':memory:')];
    for (const ledger of [here, memory]) {
      await ledger.append('firm-a', facts.slice(0, 5), RECEIVED);
      await ledger.append('firm-a', facts, '2026-03-04T00:00:00.000Z');
    }
    expect(await dump(here, 'firm-a')).toBe(await dump(memory, 'firm-a'));
    await Promise.all([here.close(), memory.close()]);
  });
});

describe.each(targets.filter(({ tamper }) => tamper !== undefined))('kept on $name', ({ createUrl }) => {
  test('two processes that append to one firm at once give it one gapless chain', async () => {
    const url = await createUrl();
    const [one, two] = await Promise.all([open(url), open(url)]);
    const maker = createFactMaker('firm-a');
    const facts = makeProperty(maker, 'p1', 5, 5);
    await Promise.all(
      facts.map((fact, index) => (index % 2 === 0 ? one : two).append('firm-a', [fact], RECEIVED)),
    );
    expect(await one.verify('firm-a')).toMatchObject({ sound: true, facts: facts.length });
    const before = await dump(two, 'firm-a');
    await one.rebuild('firm-a');
    expect(await dump(two, 'firm-a')).toBe(before);
    await Promise.all([one.close(), two.close()]);
  });

  test('opens again with all that was there', async () => {
    const url = await createUrl();
    const first = await open(url);
    await first.append('firm-a', makeProperty(createFactMaker('firm-a'), 'p1', 2, 2), RECEIVED);
    const before = await dump(first, 'firm-a');
    await first.close();
    const second = await open(url);
    expect(await dump(second, 'firm-a')).toBe(before);
    await second.close();
  });
});
