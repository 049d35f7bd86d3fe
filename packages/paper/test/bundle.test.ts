import { execFileSync, spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import {
  applicationRecords,
  type BundleEntry,
  type BundleInput,
  entriesOfRecord,
  inspectorBundle,
  type PaperLanguage,
} from '../src/index.ts';
import { FIRM, fact, PROFILE, sampleFacts, WRITTEN_AT } from './report/sample.ts';

const folder = mkdtempSync(join(tmpdir(), 'bundle-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** Another hand than ours: Python's own zipfile and hashlib. In CI it must be there. */
const hasPython = spawnSync('python3', ['--version']).status === 0;
if (!hasPython && process.env['CI'] !== undefined) throw new Error('CI must have python3');

const FACTS = sampleFacts().map((one, index) => ({
  ...one,
  receipt: { seq: index + 1, receivedAt: '2026-03-05T00:00:00Z' },
}));

/** Hashes as docs/decisions/0031 writes them down, computed here and not by the ledger. */
const ENTRIES: readonly BundleEntry[] = (() => {
  let previousHash = '0'.repeat(64);
  return FACTS.map((one) => {
    const text = JSON.stringify(one);
    const hash = createHash('sha256')
      .update(Buffer.concat([Buffer.from(previousHash, 'hex'), Buffer.from(text, 'utf8')]))
      .digest('hex');
    const entry = { seq: one.receipt.seq, previousHash, hash, text };
    previousHash = hash;
    return entry;
  });
})();
const HEAD = ENTRIES.at(-1)?.hash ?? '';

async function* inPages(entries: readonly BundleEntry[]) {
  for (let from = 0; from < entries.length; from += 7) yield entries.slice(from, from + 7);
}

function inputOf(
  entries: readonly BundleEntry[],
  scope: BundleInput['scope'],
  lang: PaperLanguage = 'en-US',
): BundleInput {
  return {
    firm: FIRM,
    firmId: 'firm-1',
    rows: applicationRecords(FACTS),
    filter: {},
    profiles: [PROFILE],
    scope,
    entries: inPages(entries),
    proof: { sound: true, facts: ENTRIES.length, head: HEAD },
    writtenAt: WRITTEN_AT,
    lang,
  };
}

async function unzip(input: BundleInput): Promise<string> {
  const into = mkdtempSync(join(folder, 'out-'));
  const file = join(into, '..', `${into.split('/').at(-1)}.zip`);
  const parts: Uint8Array[] = [];
  for await (const part of inspectorBundle(input)) parts.push(part);
  writeFileSync(file, Buffer.concat(parts));
  execFileSync('python3', [
    '-c',
    'import sys,zipfile; z=zipfile.ZipFile(sys.argv[1]); assert z.testzip() is None; z.extractall(sys.argv[2])',
    file,
    into,
  ]);
  return into;
}

const check = (into: string) => spawnSync('python3', ['check.py'], { cwd: into, encoding: 'utf8' });

// Outside check: Python's zipfile and hashlib open the bundle and recompute the chain by the recipe that travels in it.
describe.skipIf(!hasPython)('a third party', () => {
  test('recomputes the whole ledger from its beginning to its head', async () => {
    const into = await unzip(inputOf(ENTRIES, 'whole ledger'));
    expect(readdirSync(into).sort()).toEqual([
      'README.txt',
      'applications.csv',
      'applications.pdf',
      'check.py',
      'entries.ndjson',
      'manifest.json',
    ]);
    const answer = check(into);
    expect(answer.stderr).toBe('');
    expect(answer.stdout).toContain(
      `${ENTRIES.length} entries, the whole ledger: unchanged up to the head ${HEAD}`,
    );
    expect(readFileSync(join(into, 'README.txt'), 'utf8')).toContain(HEAD);
    expect(readFileSync(join(into, 'applications.csv'), 'utf8')).toContain('99999-1');
    expect(readFileSync(join(into, 'applications.pdf')).subarray(0, 5).toString()).toBe('%PDF-');
  });

  test.each([
    [
      'a changed amount',
      (lines: string[]) => lines.map((line) => line.replace('\\"grams\\":35', '\\"grams\\":3')),
    ],
    ['a removed entry', (lines: string[]) => lines.filter((_, index) => index !== 5)],
    ['two entries exchanged', (lines: string[]) => [lines[1] ?? '', lines[0] ?? '', ...lines.slice(2)]],
    ['the newest cut off', (lines: string[]) => lines.slice(0, -1)],
  ])('finds %s, even when the manifest was made to agree', async (_, change) => {
    const into = await unzip(inputOf(ENTRIES, 'whole ledger'));
    const file = join(into, 'entries.ndjson');
    const lines = readFileSync(file, 'utf8').trimEnd().split('\n');
    const changed = change(lines);
    expect(changed.join('\n')).not.toBe(lines.join('\n'));
    const text = `${changed.join('\n')}\n`;
    writeFileSync(file, text);
    const manifest = JSON.parse(readFileSync(join(into, 'manifest.json'), 'utf8'));
    manifest.files['entries.ndjson'] = createHash('sha256').update(text).digest('hex');
    manifest.entries = changed.length;
    writeFileSync(join(into, 'manifest.json'), JSON.stringify(manifest));
    const answer = check(into);
    expect(answer.status).not.toBe(0);
    expect(answer.stderr).toContain('AssertionError');
  });

  test('gets only what one record rests on when that is what was asked', async () => {
    const ids = entriesOfRecord(applicationRecords(FACTS), FACTS);
    const few = ENTRIES.filter(({ text }) => ids.has(JSON.parse(text).id));
    expect(few.length).toBeLessThan(ENTRIES.length / 2);
    const into = await unzip(inputOf(few, 'entries of the record', 'es-US'));
    expect(check(into).stdout).toContain(`${few.length} of ${ENTRIES.length} entries`);
    expect(readFileSync(join(into, 'README.txt'), 'utf8')).toContain('CÓMO COMPROBARLO');
  });

  test('is told when the chain was broken', async () => {
    const into = await unzip({
      ...inputOf(ENTRIES, 'whole ledger'),
      proof: { sound: false, facts: 4, brokenAtSeq: 5, why: 'the fact was changed' },
    });
    expect(readFileSync(join(into, 'README.txt'), 'utf8')).toContain('THE CHAIN WAS BROKEN at entry 5');
    expect(check(into).stderr).toContain('the fact was changed');
  });
});

test('the entries of a record are all its wordings, its place, and what corrected any of them', () => {
  const told = FACTS.find((one) => JSON.stringify(one.body).includes('Practice Bait'));
  if (told === undefined) throw new Error('no application');
  const first = fact(
    'fact corrected',
    { corrects: told.id, why: 'typo', body: told.body, at: null },
    { at: WRITTEN_AT },
  );
  const second = fact(
    'fact corrected',
    { corrects: first.id, why: 'again', body: null, at: null },
    { at: WRITTEN_AT },
  );
  const facts = [...FACTS, first, second];
  const ids = entriesOfRecord(applicationRecords(facts), facts);
  for (const one of [told, first, second]) expect(ids).toContain(one.id);
  expect([...ids].some((id) => FACTS.find((one) => one.id === id)?.kind === 'property added')).toBe(true);
  const others = FACTS.filter((one) => one.kind === 'station seen' && one.id !== told.id);
  for (const one of others) expect(ids).not.toContain(one.id);
});

test('the same ledger gives the same file, byte for byte', async () => {
  const bytes = async () => {
    const parts: Uint8Array[] = [];
    for await (const part of inspectorBundle(inputOf(ENTRIES, 'whole ledger'))) parts.push(part);
    return createHash('sha256').update(Buffer.concat(parts)).digest('hex');
  };
  expect(await bytes()).toBe(await bytes());
});
