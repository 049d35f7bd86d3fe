import { createHash } from 'node:crypto';
import { afterAll, describe, expect, test } from 'vitest';
import { canonicalJson, linkHash } from '../src/index.ts';
import { createFactMaker, makeProperty, RECEIVED } from './support/facts.ts';
import { findTestPostgres } from './support/postgres.ts';
import { listTargets, makeFolder, open, type Target } from './support/targets.ts';

const folder = makeFolder();
const postgres = await findTestPostgres();
const targets = listTargets(folder.path, postgres);
afterAll(async () => {
  await postgres?.stop();
  folder.remove();
});

describe.each(targets)('the chain on $name', ({ createUrl }) => {
  test('ends in the hash that anyone can compute from the facts alone', async () => {
    const ledger = await open(await createUrl());
    await ledger.append('firm-a', makeProperty(createFactMaker('firm-a'), 'p1', 3, 3), RECEIVED);
    let hash = Buffer.alloc(32);
    for (const fact of await ledger.listFacts('firm-a'))
      hash = createHash('sha256')
        .update(Buffer.concat([hash, Buffer.from(canonicalJson(fact), 'utf8')]))
        .digest();
    expect(await ledger.verify('firm-a')).toEqual({ sound: true, facts: 14, head: hash.toString('hex') });
    await ledger.close();
  });
});

/** What somebody with the database's password could try, and where `verify` must point. 14 facts lie in the ledger. */
const TAMPERINGS: readonly {
  readonly what: string;
  readonly brokenAtSeq: number;
  readonly sql: readonly string[];
}[] = [
  {
    what: 'a fact changed',
    brokenAtSeq: 7,
    sql: [
      `update ledger_fact set text = replace(text, '"minutes":3', '"minutes":4') where firm = 'firm-a' and seq = 7`,
    ],
  },
  {
    what: 'a fact removed',
    brokenAtSeq: 5,
    sql: [`delete from ledger_fact where firm = 'firm-a' and seq = 5`],
  },
  {
    what: 'the first fact removed',
    brokenAtSeq: 1,
    sql: [`delete from ledger_fact where firm = 'firm-a' and seq = 1`],
  },
  {
    what: 'the last fact removed',
    brokenAtSeq: 14,
    sql: [`delete from ledger_fact where firm = 'firm-a' and seq = 14`],
  },
  { what: 'all facts removed', brokenAtSeq: 1, sql: [`delete from ledger_fact where firm = 'firm-a'`] },
  {
    what: 'a fact removed and the others moved up',
    brokenAtSeq: 9,
    sql: [
      `delete from ledger_fact where firm = 'firm-a' and seq = 9`,
      `update ledger_fact set seq = -seq where firm = 'firm-a' and seq > 9`,
      `update ledger_fact set seq = -seq - 1 where firm = 'firm-a' and seq < 0`,
      `update ledger_head set seq = 13 where firm = 'firm-a'`,
    ],
  },
  {
    what: 'two facts in each other\u2019s place',
    brokenAtSeq: 3,
    sql: [
      `update ledger_fact set seq = -3 where firm = 'firm-a' and seq = 3`,
      `update ledger_fact set seq = 3 where firm = 'firm-a' and seq = 4`,
      `update ledger_fact set seq = 4 where firm = 'firm-a' and seq = -3`,
    ],
  },
  {
    what: 'a fact put in between',
    brokenAtSeq: 12,
    sql: [
      `update ledger_fact set seq = -seq where firm = 'firm-a' and seq >= 12`,
      `update ledger_fact set seq = -seq + 1 where firm = 'firm-a' and seq < 0`,
      `insert into ledger_fact (firm, seq, id, property, station, kind, text, hash)
         select firm, 12, 'forged', property, station, kind, text, hash from ledger_fact where firm = 'firm-a' and seq = 11`,
      `update ledger_head set seq = 15 where firm = 'firm-a'`,
    ],
  },
  {
    what: 'a fact put after the last',
    brokenAtSeq: 15,
    sql: [
      `insert into ledger_fact (firm, seq, id, property, station, kind, text, hash)
         select firm, 15, 'forged', property, station, kind, text, hash from ledger_fact where firm = 'firm-a' and seq = 14`,
    ],
  },
  {
    what: 'a fact hidden from a property by its index column',
    brokenAtSeq: 8,
    sql: [`update ledger_fact set property = 'elsewhere' where firm = 'firm-a' and seq = 8`],
  },
  {
    what: 'a hash changed',
    brokenAtSeq: 2,
    sql: [`update ledger_fact set hash = '${'0'.repeat(64)}' where firm = 'firm-a' and seq = 2`],
  },
  {
    what: 'the head changed',
    brokenAtSeq: 14,
    sql: [`update ledger_head set hash = '${'f'.repeat(64)}' where firm = 'firm-a'`],
  },
  { what: 'the head removed', brokenAtSeq: 1, sql: [`delete from ledger_head where firm = 'firm-a'`] },
];

describe.each(targets.filter(({ tamper }) => tamper !== undefined))('tampering on $name', (target) => {
  test.each(TAMPERINGS)('$what is found at position $brokenAtSeq', async ({ sql, brokenAtSeq }) => {
    const url = await fill(target);
    await target.tamper?.(url, sql);
    const ledger = await open(url);
    const check = await ledger.verify('firm-a');
    expect(check).toMatchObject({
      sound: false,
      brokenAtSeq,
      facts: brokenAtSeq - (isHeadOnly(sql) ? 0 : 1),
    });
    expect(await ledger.verify('firm-b')).toMatchObject({ sound: true, facts: 14 });
    await ledger.close();
  });

  test('a fact changed and its hash made to fit is found at the next one', async () => {
    const url = await fill(target);
    const before = await open(url);
    const facts = await before.listFacts('firm-a');
    await before.close();
    let hash = '0'.repeat(64);
    for (const fact of facts.slice(0, 6)) hash = linkHash(hash, canonicalJson(fact));
    const forged = canonicalJson({ ...facts[6], at: '2026-03-02T23:59:59+00:00' });
    await target.tamper?.(url, [
      `update ledger_fact set text = '${forged.replaceAll("'", "''")}', hash = '${linkHash(hash, forged)}'
         where firm = 'firm-a' and seq = 7`,
    ]);
    const ledger = await open(url);
    expect(await ledger.verify('firm-a')).toMatchObject({ sound: false, brokenAtSeq: 8 });
    await ledger.close();
  });
});

/** When only the head was touched, every fact still follows from the one before. */
function isHeadOnly(sql: readonly string[]): boolean {
  return sql.every((statement) => statement.startsWith('update ledger_head'));
}

async function fill({ createUrl }: Target): Promise<string> {
  const url = await createUrl();
  const ledger = await open(url);
  for (const [index, firm] of ['firm-a', 'firm-b'].entries())
    await ledger.append(firm, makeProperty(createFactMaker(firm, index + 1), 'p1', 3, 3), RECEIVED);
  expect(await ledger.verify('firm-a')).toMatchObject({ sound: true, facts: 14 });
  await ledger.close();
  return url;
}
