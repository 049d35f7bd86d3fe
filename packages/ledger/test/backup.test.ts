import { readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { setImmediate } from 'node:timers/promises';
import { gunzipSync, gzipSync } from 'node:zlib';
import { afterAll, describe, expect, test } from 'vitest';
import { backup, copyDatabase, restore, type StoredLedger } from '../src/index.ts';
import { createFactMaker, makeProperty, RECEIVED } from './support/facts.ts';
import { findTestPostgres } from './support/postgres.ts';
import { dump, listTargets, makeFolder, open, type Target } from './support/targets.ts';

const folder = makeFolder();
const postgres = await findTestPostgres();
const targets = listTargets(folder.path, postgres);
afterAll(async () => {
  await postgres?.stop();
  folder.remove();
});

let files = 0;
function newFile(): string {
  files += 1;
  return join(folder.path, `backup-${files}.jsonl.gz`);
}

async function fill(ledger: StoredLedger): Promise<void> {
  for (const [index, firm] of ['firm-a', 'firm-b'].entries()) {
    const maker = createFactMaker(firm, index + 1);
    await ledger.append(firm, [maker.branch('north'), ...makeProperty(maker, 'p1', 4, 4)], RECEIVED);
    await ledger.append(firm, makeProperty(maker, 'p2', 2, 1), '2026-03-05T00:00:00.000Z');
  }
}

const PAIRS = targets.flatMap((from) =>
  targets.map((to) => ({ from, to, title: `${from.name} to ${to.name}` })),
);

describe('backup and restore', () => {
  test.each(PAIRS)(
    '$title: everything comes back, receipts, positions and hashes included',
    async ({ from, to }) => {
      const [source, target] = [await open(await from.createUrl()), await open(await to.createUrl())];
      await fill(source);
      const file = newFile();
      const steps: number[] = [];
      const report = await backup(source, file, (done, total) => steps.push(done / total));
      expect(report).toMatchObject({ facts: 2 * 29, firms: [{ firm: 'firm-a' }, { firm: 'firm-b' }] });
      expect(steps.at(-1)).toBe(1);
      expect(statSync(file).mode & 0o077).toBe(0);
      expect(await restore(file, target)).toEqual(report);
      for (const firm of ['firm-a', 'firm-b'])
        expect(await dump(target, firm)).toBe(await dump(source, firm));
      // The restored ledger goes on where the other stopped.
      const more = createFactMaker('firm-a', 9).noted('p1', 'after the restore');
      expect(await target.append('firm-a', [more], RECEIVED)).toMatchObject([
        { verdict: 'accepted', seq: 30 },
      ]);
      expect(await target.verify('firm-a')).toMatchObject({ sound: true, facts: 30 });
      await Promise.all([source.close(), target.close()]);
    },
  );

  test.each(targets)(
    'on $name: a target that holds facts is refused and left as it is',
    async ({ createUrl }) => {
      const [source, target] = [await open(':memory:'), await open(await createUrl())];
      await fill(source);
      const file = newFile();
      await backup(source, file);
      await target.append('firm-z', [createFactMaker('firm-z').property('p1')], RECEIVED);
      const before = await dump(target, 'firm-z');
      await expect(restore(file, target)).rejects.toThrow('already holds facts');
      expect(await target.listFirms()).toEqual(['firm-z']);
      expect(await dump(target, 'firm-z')).toBe(before);
      await target.close();
    },
  );

  test.each(targets)('on $name: taken while appends go on, it holds one instant', async ({ createUrl }) => {
    const source = await open(await createUrl());
    const maker = createFactMaker('firm-a');
    await source.append('firm-a', makeProperty(maker, 'p1', 20, 60), RECEIVED);
    let going = true;
    const appending = (async () => {
      for (let count = 0; going; count += 1) {
        // Memory answers at once, so the loop has to give way by itself.
        await setImmediate();
        await source.append('firm-a', [maker.noted(`p${count % 7}`, `note ${count}`)], RECEIVED);
      }
    })();
    const file = newFile();
    const before = (await source.listFacts('firm-a', { limit: 1e6 })).length;
    const { facts } = await backup(source, file);
    const after = (await source.listFacts('firm-a', { limit: 1e6 })).length;
    going = false;
    await appending;
    expect(facts).toBeGreaterThanOrEqual(before);
    expect(facts).toBeLessThanOrEqual(after);
    const target = await open(':memory:');
    await restore(file, target);
    expect(await target.listFacts('firm-a', { limit: 1e6 })).toEqual(
      await source.listFacts('firm-a', { limit: facts }),
    );
    await source.close();
  });

  test('a file that exists is never replaced', async () => {
    const ledger = await open(':memory:');
    const file = newFile();
    await backup(ledger, file);
    await expect(backup(ledger, file)).rejects.toThrow('exists already');
  });

  test('an empty ledger backs up and restores', async () => {
    const file = newFile();
    await backup(await open(':memory:'), file);
    expect(await restore(file, await open(':memory:'))).toEqual({ firms: [], facts: 0 });
  });
});

/** How a file can be spoilt, and what the refusal must say. Lines: 1 header, 2 to 30 firm-a, 31 to 59 firm-b. */
const SPOILT: readonly {
  readonly what: string;
  readonly says: RegExp;
  readonly spoil: (lines: string[]) => void;
}[] = [
  {
    what: 'a fact changed',
    says: /head/,
    spoil: (lines) => edit(lines, 10, (line) => line.replace('"minutes":3', '"minutes":4')),
  },
  { what: 'a fact removed', says: /position 9/, spoil: (lines) => lines.splice(9, 1) },
  {
    what: 'two facts swapped',
    says: /position 9/,
    spoil: (lines) => lines.splice(9, 2, ...lines.slice(9, 11).reverse()),
  },
  { what: 'the end cut off at a line', says: /cut off/, spoil: (lines) => lines.splice(50) },
  {
    what: 'a fact added at the end',
    says: /line 60.*more facts/,
    spoil: (lines) => lines.splice(59, 0, lines[58] ?? ''),
  },
  {
    what: 'a line that is no JSON',
    says: /line 31 .*not readable/,
    spoil: (lines) => edit(lines, 30, () => '{'),
  },
  { what: 'another format', says: /not a ledger backup/, spoil: (lines) => edit(lines, 0, () => '{"a":1}') },
  {
    what: 'a newer version',
    says: /update/,
    spoil: (lines) => edit(lines, 0, (line) => line.replace('"version":1', '"version":2')),
  },
  {
    what: 'another head',
    says: /head/,
    spoil: (lines) => edit(lines, 0, (line) => line.replace(/"head":"..../, '"head":"0000')),
  },
];

function edit(lines: string[], index: number, change: (line: string) => string): void {
  const before = lines[index] ?? '';
  lines[index] = change(before);
  expect(lines[index]).not.toBe(before);
}

describe.each(targets)('a spoilt backup on $name', ({ createUrl }) => {
  test.each(SPOILT)('$what: refused with the place, and nothing is kept', async ({ spoil, says }) => {
    const source = await open(':memory:');
    await fill(source);
    const file = newFile();
    await backup(source, file);
    const lines = gunzipSync(readFileSync(file)).toString('utf8').split('\n');
    spoil(lines);
    const spoilt = newFile();
    writeFileSync(spoilt, gzipSync(lines.join('\n')));
    const target = await open(await createUrl());
    await expect(restore(spoilt, target)).rejects.toThrow(says);
    expect(await target.listFirms()).toEqual([]);
    // Still empty, so that the good file can be restored.
    await restore(file, target);
    expect(await dump(target, 'firm-b')).toBe(await dump(source, 'firm-b'));
    await target.close();
  });

  test('a file cut off or damaged inside its compression', async () => {
    const source = await open(':memory:');
    await fill(source);
    const file = newFile();
    await backup(source, file);
    const bytes = readFileSync(file);
    const cut = newFile();
    writeFileSync(cut, bytes.subarray(0, bytes.length - 40));
    const damaged = newFile();
    writeFileSync(damaged, Buffer.from('this was never a backup'));
    const target = await open(await createUrl());
    await expect(restore(cut, target)).rejects.toThrow(/damaged/);
    await expect(restore(damaged, target)).rejects.toThrow(/damaged/);
    await expect(restore(join(folder.path, 'nowhere'), target)).rejects.toThrow(/ENOENT/);
    expect(await target.listFirms()).toEqual([]);
    await target.close();
  });
});

describe.each(targets.filter(({ tamper }) => tamper !== undefined))(
  'an altered ledger on $name',
  (target: Target) => {
    test('is not backed up as if it were sound', async () => {
      const url = await target.createUrl();
      const ledger = await open(url);
      await fill(ledger);
      await target.tamper?.(url, [
        `update ledger_fact set text = replace(text, 'cap', 'lid'), kind = 'x' where seq = 12`,
      ]);
      await expect(backup(ledger, newFile())).rejects.toThrow('firm firm-a, position 12');
      await ledger.close();
    });
  },
);

describe('copying a whole SQLite database', () => {
  test('keeps other tables too, taken while appends go on', async () => {
    const url = join(folder.path, 'whole.db');
    const source = await open(url);
    const maker = createFactMaker('firm-a');
    await source.append('firm-a', makeProperty(maker, 'p1', 20, 60), RECEIVED);
    const db = new DatabaseSync(url);
    db.exec("create table account (name text); insert into account values ('A. Sample')");
    db.close();
    let going = true;
    const appending = (async () => {
      while (going) await source.append('firm-a', [maker.noted('p2', 'more')], RECEIVED);
    })();
    const copy = join(folder.path, 'copy.db');
    const steps: number[] = [];
    await copyDatabase(url, copy, (done, total) => steps.push(done / total));
    going = false;
    await appending;
    await expect(copyDatabase(url, copy)).rejects.toThrow('exists already');
    expect(statSync(copy).mode & 0o077).toBe(0);
    const copied = await open(copy);
    const check = await copied.verify('firm-a');
    expect(check).toMatchObject({ sound: true });
    const facts = await copied.listFacts('firm-a', { limit: 1e6 });
    expect(facts.length).toBeGreaterThanOrEqual(1_222);
    expect(facts).toEqual(await source.listFacts('firm-a', { limit: facts.length }));
    const before = await dump(copied, 'firm-a');
    await copied.rebuild('firm-a');
    expect(await dump(copied, 'firm-a')).toBe(before);
    const reader = new DatabaseSync(copy);
    expect(reader.prepare('select name from account').all()).toEqual([{ name: 'A. Sample' }]);
    reader.close();
    await Promise.all([source.close(), copied.close()]);
    await expect(copyDatabase('postgres://x', newFile())).rejects.toThrow('pg_dump');
  });
});
