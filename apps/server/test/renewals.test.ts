import { spawnSync } from 'node:child_process';
import { rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createFacts, firstFacts } from './support/facts.ts';
import {
  type Client,
  FIRM,
  OTHER_FIRM,
  seedPerson,
  signedIn,
  startTestServer,
  type TestServer,
} from './support/harness.ts';

/** Debian's poppler-utils and qpdf: independent readers of what was drawn. */
const hasReaders = ['pdftotext', 'qpdf'].every((tool) => spawnSync(tool, ['--version']).error === undefined);
const MANY = 520;
let server: TestServer;
let owner: Client;
let stranger: Client;

beforeAll(async () => {
  server = await startTestServer();
  await seedPerson(server, 'owner');
  await seedPerson(server, 'owner', { firm: OTHER_FIRM, email: 'stranger@other.example' });
  owner = await signedIn(server, `owner@${FIRM.id}.example`);
  stranger = await signedIn(server, 'stranger@other.example');
  const facts = createFacts(FIRM.id, 'owner', 'second');
  const change = (property: string, body: object) => ({ ...facts.other(property, 'property changed'), body });
  const ends = (renewsOn: string) => ({ agreement: { startsOn: '2025-01-01', renewsOn } });
  const made = [
    ...firstFacts(FIRM.id, 'owner', 'house'),
    ...['casa', 'nameless', 'homeless', 'bare', 'unlabelled'].flatMap((property) => [
      facts.property(property),
      facts.structure(property),
      ...(property === 'bare' ? [] : [facts.installed(property, `${property}-s1`)]),
    ]),
    change('house', ends('2026-03-20')),
    change('casa', { ...ends('2026-03-05'), language: 'es-MX' }),
    change('nameless', { ...ends('2026-03-06'), customer: { name: ' ', email: null, phone: null } }),
    change('homeless', {
      ...ends('2026-03-07'),
      address: { street: '', town: 'Nowhere Falls', state: 'FL', postcode: '' },
    }),
    change('bare', ends('2026-03-08')),
    change('unlabelled', { ...ends('2026-03-09'), profile: 'never entered' }),
    ...Array.from({ length: MANY }, (_, index) => {
      const property = `many-${String(index).padStart(3, '0')}`;
      return [facts.property(property), change(property, ends('2027-06-15'))];
    }).flat(),
  ];
  const verdicts = await server.ledger.append(FIRM.id, made, '2026-01-01T00:00:00.000Z');
  for (const { verdict } of verdicts) expect(verdict).toBe('accepted');
});
afterAll(() => server.end());

async function takePdf(query: string): Promise<Uint8Array> {
  const answer = await fetch(`${server.url}/api/reports/renewals?${query}`, {
    headers: { cookie: [...owner.cookies].map(([name, value]) => `${name}=${value}`).join('; ') },
  });
  expect([answer.status, answer.headers.get('content-type')]).toEqual([200, 'application/pdf']);
  return answer.bytes();
}

/** Pages as an independent reader sees them. */
function pagesOf(bytes: Uint8Array): readonly string[] {
  const file = join(server.folder, 'letters.pdf');
  writeFileSync(file, bytes);
  expect(spawnSync('qpdf', ['--check', file]).status).toBe(0);
  const { stdout } = spawnSync('pdftotext', [file, '-'], { encoding: 'utf8' });
  rmSync(file);
  return stdout.split('\f').slice(0, -1);
}

describe('the agreements that end in a month', () => {
  it('says how many letters there are and what the others lack, the earliest first', async () => {
    const { body } = await owner.get('/api/renewals?month=2026-03');
    expect([body.letters, body.leftOut]).toEqual([2, 4]);
    expect(body.rows.map((row: { property: string; lang: string }) => [row.property, row.lang])).toEqual([
      ['casa', 'es-US'],
      ['house', 'en-US'],
    ]);
    const left = await owner.get('/api/renewals?month=2026-03&of=left%20out');
    expect(
      left.body.rows.map((row: { property: string; gaps: unknown }) => [row.property, row.gaps]),
    ).toEqual([
      ['nameless', ['no customer']],
      ['homeless', ['no address']],
      ['bare', ['no station']],
      ['unlabelled', ['no label profile']],
    ]);
  });

  it('gives any number of them, page by page, none twice', async () => {
    const seen: string[] = [];
    for (let offset = 0; offset < MANY; offset += 200) {
      const { body } = await owner.get(
        `/api/renewals?month=2027-06&of=left%20out&offset=${offset}&limit=200`,
      );
      expect(body.leftOut).toBe(MANY);
      seen.push(...body.rows.map(({ property }: { property: string }) => property));
    }
    expect(new Set(seen).size).toBe(MANY);
  });

  it('shows a firm nothing of another, and says which month cannot be read', async () => {
    expect((await stranger.get('/api/renewals?month=2026-03')).body).toEqual({
      letters: 0,
      leftOut: 0,
      rows: [],
    });
    const wrong = await owner.get('/api/renewals?month=2026-13');
    expect([wrong.status, wrong.body.errors[0].at]).toEqual([400, 'query.month']);
  });
});

describe('the letters of a month in one file', () => {
  it.skipIf(!hasReaders)('each in its customer\u2019s language, and last what was not written', async () => {
    const pages = pagesOf(await takePdf('month=2026-03&asOf=2026-02-01'));
    const text = pages.join('\n').replaceAll(/\s+/g, ' ');
    expect(pages[0]).toContain('Su contrato llega a su renovación');
    expect(text).toContain('dura hasta el 5 de marzo de 2026');
    expect(text).toContain('runs until March 20, 2026');
    expect(pages.at(-1)).toContain('Letters that were not written');
    for (const name of ['nameless', 'homeless', 'bare', 'unlabelled'])
      expect(pages.at(-1)).toContain(`House ${name}`);
  });

  it.skipIf(!hasReaders)('in one language, on sheets of their own', async () => {
    const pages = pagesOf(await takePdf('month=2026-03&letters=en-US&sides=both&lang=es-US'));
    expect(pages.join('')).not.toContain('Su contrato');
    expect(pages.at(-1)).toContain('Cartas que no se escribieron');
    const fronts = pages.flatMap((page, index) => (/Page 1 of|Página 1 de/.test(page) ? [index] : []));
    expect(fronts).toHaveLength(3);
    for (const front of fronts) expect(front % 2).toBe(0);
  });

  it('is refused in words where there is no letter, or the day is none', async () => {
    const none = await owner.get('/api/reports/renewals?month=2031-01');
    expect([none.status, none.body.code, none.body.detail]).toEqual([
      409,
      'paper cannot be written',
      'No agreement ends in 2031-01.',
    ]);
    const lacking = await owner.get('/api/reports/renewals?month=2027-06');
    expect([lacking.status, lacking.body.code]).toEqual([409, 'paper cannot be written']);
    expect(lacking.body.detail).toContain(`None of the ${MANY} letters`);
    const day = await owner.get('/api/reports/renewals?month=2026-03&asOf=2026-02-30');
    expect([day.status, day.body.code]).toEqual([400, 'malformed']);
  });
});
