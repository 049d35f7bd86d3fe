import { statSync } from 'node:fs';
import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { pathToFileURL } from 'node:url';
import { Client } from 'pg';
import { afterAll, describe, expect, test } from 'vitest';
import { type Folds, openLedger, parseLedgerUrl, TRADE_FOLDS } from '../src/index.ts';
import { openConnection } from '../src/sql/sqlite.ts';
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

describe('opening', () => {
  test('the setting names the database', () => {
    for (const url of [undefined, '', ':memory:']) expect(parseLedgerUrl(url)).toEqual({ kind: 'memory' });
    expect(parseLedgerUrl('data/firm.db')).toEqual({ kind: 'sqlite', path: 'data/firm.db' });
    expect(parseLedgerUrl('file:data/firm.db')).toEqual({ kind: 'sqlite', path: 'data/firm.db' });
    expect(parseLedgerUrl(pathToFileURL('/srv/a b.db').href)).toEqual({
      kind: 'sqlite',
      path: '/srv/a b.db',
    });
    expect(parseLedgerUrl('C:\\data\\firm.db')).toEqual({ kind: 'sqlite', path: 'C:\\data\\firm.db' });
    expect(parseLedgerUrl('postgres://h/d')).toEqual({ kind: 'postgres', url: 'postgres://h/d' });
    expect(parseLedgerUrl('postgresql://h/d')).toEqual({ kind: 'postgres', url: 'postgresql://h/d' });
    expect(() => parseLedgerUrl('mysql://h/d')).toThrow(/"mysql" is no database this can open/);
  });

  test('SQLite is durable: write-ahead log, a sync at every commit, and a file for its owner alone', async () => {
    const path = join(folder.path, 'deep', 'er', 'new.db');
    const ledger = await open(path);
    const db = openConnection(path, 'write');
    // https://sqlite.org/pragma.html#pragma_synchronous: 2 = FULL
    expect(db.prepare('pragma synchronous').get()).toEqual({ synchronous: 2 });
    expect(db.prepare('pragma journal_mode').get()).toEqual({ journal_mode: 'wal' });
    db.close();
    expect(statSync(path).mode & 0o077).toBe(0);
    await ledger.close();
  });

  test('a file that is no database is refused', async () => {
    const { writeFileSync } = await import('node:fs');
    const path = join(folder.path, 'text.db');
    writeFileSync(path, 'not a database, but a text long enough to be looked at'.repeat(100));
    await expect(open(path)).rejects.toThrow(/not a database/);
  });

  test.skipIf(postgres?.crashAndRestart === undefined)('PostgreSQL without fsync is refused', async () => {
    const url = (await postgres?.createDatabase()) ?? '';
    const client = new Client({ connectionString: url });
    await client.connect();
    const setFsync = async (to: string) => {
      await client.query(`alter system set fsync = ${to}`);
      await client.query('select pg_reload_conf()');
      for (let tries = 0; tries < 100; tries += 1) {
        const { rows } = await client.query('show fsync');
        if (rows[0]?.fsync === to) return;
        await new Promise((resolve) => setTimeout(resolve, 20));
      }
      throw new Error('the server did not take the setting');
    };
    await setFsync('off');
    await expect(open(url)).rejects.toThrow(/turn fsync on/);
    await setFsync('on');
    await client.end();
    await (await open(url)).close();
  });
});

describe.each(targets.filter(({ tamper }) => tamper !== undefined))('the tables on $name', (target) => {
  test('one that a newer build has changed is refused', async () => {
    const url = await target.createUrl();
    await (await open(url)).close();
    await target.tamper?.(url, ["insert into ledger_migration (number, name) values (99, 'of the future')"]);
    await expect(open(url)).rejects.toThrow(/newer Sillwatch/);
  });

  test('facts from before they were listed by device are found by it', async () => {
    const url = await target.createUrl();
    const maker = createFactMaker('firm-a', 1, 'a phone with "quotes"');
    const first = await open(url);
    // A note cut in the middle of a character, one with a zero byte, and one that looks like the entry itself.
    const notes = ['flood \ud83c', 'nul \u0000', '","device":"other","firm":"firm-a"'];
    await first.append(
      'firm-a',
      [...makeProperty(maker, 'p1', 2, 2), ...notes.map((note) => maker.noted('p1', note))],
      RECEIVED,
    );
    await first.close();
    await target.tamper?.(url, [
      'drop index ledger_fact_by_device',
      'alter table ledger_fact drop column device',
      'delete from ledger_migration where number >= 3',
    ]);
    const second = await open(url);
    const all = await second.listFacts('firm-a');
    expect(all.length).toBeGreaterThan(5);
    expect(await second.listFacts('firm-a', { devices: ['a phone with "quotes"'] })).toEqual(all);
    expect(await second.verify('firm-a')).toMatchObject({ sound: true, facts: all.length });
    await second.close();
  });

  test('states that other folds made are computed anew at opening, once', async () => {
    const url = await target.createUrl();
    const maker = createFactMaker('firm-a');
    const first = await open(url);
    await first.append('firm-a', makeProperty(maker, 'p1', 3, 2), RECEIVED);
    const before = await dump(first, 'firm-a');
    await first.close();
    await target.tamper?.(url, [
      'update ledger_property set state = \'{"property":"p1"}\'',
      'update ledger_fold set version = version - 1',
    ]);
    const second = await open(url);
    expect(await dump(second, 'firm-a')).toBe(before);
    await second.close();
    await target.tamper?.(url, ['update ledger_property set state = \'{"property":"kept"}\'']);
    const third = await open(url);
    expect((await third.findProperty('firm-a', 'p1'))?.property).toBe('kept');
    await third.close();
  });

  test('several that open a new one at the same time all succeed', async () => {
    const url = await target.createUrl();
    const ledgers = await Promise.all(Array.from({ length: 4 }, () => open(url)));
    for (const ledger of ledgers) expect(await ledger.listFirms()).toEqual([]);
    await Promise.all(ledgers.map((ledger) => ledger.close()));
  });
});

describe.each(targets)('when something fails on $name', ({ createUrl }) => {
  test('a fold that throws stores nothing of its call and leaves the neighbours alone', async () => {
    const failing: Folds = {
      ...TRADE_FOLDS,
      foldProperty: (facts) => {
        const all = [...facts];
        if (all[0]?.property === 'cursed') throw new Error('cannot fold this');
        return TRADE_FOLDS.foldProperty(all);
      },
    };
    const ledger = await openLedger({ url: await createUrl(), folds: failing });
    const maker = createFactMaker('firm-a');
    const [good, cursed, better] = [maker.property('p1'), maker.property('cursed'), maker.property('p2')];
    const outcomes = await Promise.allSettled(
      [good, cursed, better].map((fact) => ledger.append('firm-a', [fact], RECEIVED)),
    );
    expect(outcomes.map(({ status }) => status)).toEqual(['fulfilled', 'rejected', 'fulfilled']);
    expect((await ledger.listFacts('firm-a')).map(({ id }) => id)).toEqual([good.id, better.id]);
    expect(await ledger.verify('firm-a')).toMatchObject({ sound: true, facts: 2 });
    await ledger.close();
  });
});

describe.skipIf(postgres?.crashAndRestart === undefined)('a PostgreSQL that goes down and comes back', () => {
  test('the same ledger goes on, and what was sent again is stored once', async () => {
    const ledger = await open((await postgres?.createDatabase()) ?? '');
    const facts = makeProperty(createFactMaker('firm-a'), 'p1', 5, 20);
    const acknowledged = new Set<string>();
    const send = async () => {
      for (let start = 0; start < facts.length; start += 3) {
        const verdicts = await ledger.append('firm-a', facts.slice(start, start + 3), RECEIVED);
        for (const { id } of verdicts) acknowledged.add(id);
      }
    };
    const sending = send().then(
      () => 'sent',
      () => 'failed',
    );
    await new Promise((resolve) => setTimeout(resolve, 20));
    await postgres?.crashAndRestart?.();
    await sending;
    const before = acknowledged.size;
    const kept = new Set((await ledger.listFacts('firm-a')).map(({ id }) => id));
    expect([...acknowledged].filter((id) => !kept.has(id))).toEqual([]);
    await send();
    expect(acknowledged.size).toBeGreaterThanOrEqual(before);
    expect(new Set((await ledger.listFacts('firm-a')).map(({ id }) => id)).size).toBe(facts.length);
    expect(await ledger.verify('firm-a')).toMatchObject({ sound: true, facts: facts.length });
    await ledger.close();
  });
});

describe('another program that holds the SQLite file', () => {
  test('is waited for without stopping this one', async () => {
    const url = join(folder.path, 'shared.db');
    const ledger = await open(url);
    const other = new DatabaseSync(url);
    other.exec('begin immediate');
    let ticks = 0;
    const ticking = setInterval(() => {
      ticks += 1;
    }, 10);
    const appended = ledger.append('firm-a', [createFactMaker('firm-a').property('p1')], RECEIVED);
    await new Promise((resolve) => setTimeout(resolve, 200));
    other.exec('commit');
    expect(await appended).toMatchObject([{ verdict: 'accepted' }]);
    clearInterval(ticking);
    expect(ticks).toBeGreaterThan(5);
    other.close();
    await ledger.close();
  });
});

describe('another connection of this process to the SQLite file', () => {
  test('never meets an open write of the ledger between two turns of the event loop', async () => {
    const url = join(folder.path, 'accounts.db');
    const ledger = await open(url);
    const maker = createFactMaker('firm-a');
    // As account code does it: at once, and without any patience.
    const accounts = new DatabaseSync(url, { timeout: 0 });
    accounts.exec('create table account (name text)');
    let writes = 0;
    const writing = setInterval(() => {
      accounts.exec("insert into account values ('A. Sample')");
      writes += 1;
    }, 0);
    const facts = Array.from({ length: 60 }, (_, index) => makeProperty(maker, `p${index}`, 5, 5)).flat();
    await ledger.append('firm-a', facts, RECEIVED);
    await Promise.all(
      Array.from({ length: 50 }, () => ledger.append('firm-a', [maker.noted('p1', 'note')], RECEIVED)),
    );
    await ledger.rebuild('firm-a');
    clearInterval(writing);
    expect(writes).toBeGreaterThan(3);
    accounts.close();
    await ledger.close();
  });
});
