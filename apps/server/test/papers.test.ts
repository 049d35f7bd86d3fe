import { execFileSync, spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createFacts, firstFacts, NOTHING_FOUND } from './support/facts.ts';
import {
  type Client,
  FIRM,
  seedPerson,
  signedIn,
  startTestServer,
  type TestServer,
} from './support/harness.ts';

let server: TestServer;
let owner: Client;
let inspector: Client;
const folder = mkdtempSync(join(tmpdir(), 'sillwatch-papers-'));
const SOON = new Date(Date.now() + 3 * 86_400_000).toISOString().slice(0, 10);
const hasPython = spawnSync('python3', ['--version']).status === 0;

beforeAll(async () => {
  server = await startTestServer();
  await seedPerson(server, 'owner', { id: 'owner' });
  await seedPerson(server, 'technician', { id: 'tess' });
  await seedPerson(server, 'inspector');
  owner = await signedIn(server, `owner@${FIRM.id}.example`);
  inspector = await signedIn(server, `inspector@${FIRM.id}.example`);
  const facts = createFacts(FIRM.id, 'owner', 'second');
  const hit = facts.seen('house', 'house-s1', 120);
  const baited = {
    ...hit,
    body: {
      ...(typeof hit.body === 'object' ? hit.body : {}),
      finding: { ...NOTHING_FOUND, termites: 'live on monitor', monitor: 'eaten' },
      application: {
        productName: 'Demo Bait (invented)',
        epaRegistrationNumber: '99999-999',
        grams: 120,
        location: 'station 1',
        areaTreated: '1 station',
        site: '=dwelling',
        applicatorName: 'Invented Applicator',
        certificationNumber: 'INV-77',
        appliedUnderSupervisionBy: null,
      },
    },
  };
  const round = {
    ...facts.other(null, 'round published'),
    body: {
      plan: 'p',
      branch: 'north',
      person: 'tess',
      day: SOON,
      startsAt: `${SOON}T08:00:00-05:00`,
      endsAt: `${SOON}T12:00:00-05:00`,
      breakMinutes: 0,
      travel: 'great circle',
      visits: [
        {
          visit: 'v-1',
          property: 'house',
          startsAt: `${SOON}T09:00:00-05:00`,
          endsAt: `${SOON}T09:30:00-05:00`,
          driveMinutes: 10,
          driveMetres: 5000,
          works: [
            { station: 'house-s1', work: 'baited check' },
            { station: 'house-s2', work: 'yearly service' },
          ],
          asks: [],
          frozen: false,
        },
      ],
    },
  };
  const notes = {
    ...facts.other('house', 'property changed'),
    body: { accessNotes: '=cmd', hazards: 'Dog in the yard' },
  };
  const verdicts = await server.ledger.append(
    FIRM.id,
    [
      ...firstFacts(FIRM.id, 'owner', 'house'),
      baited,
      facts.closed('house', 120),
      facts.property('neighbour'),
      notes,
      round,
    ],
    '2026-01-01T00:00:00.000Z',
  );
  for (const { verdict } of verdicts) expect(verdict).toBe('accepted');
});
afterAll(async () => {
  await server.end();
  rmSync(folder, { recursive: true, force: true });
});

describe('work list', () => {
  it('of a round: stops, stations, access, hazards and what to carry', async () => {
    const path = `/api/reports/worklists/tess/${SOON}`;
    const page = await owner.get(path);
    expect(page.text).toContain('1. 09:00 to 09:30: House house');
    expect(page.text).toContain('Dog in the yard');
    expect(page.text).toContain('do not pull the base monitor');
    expect(page.text).toMatch(/base monitor<\/th><td class="right">[1-9]/);
    expect((await owner.get(`${path}?format=pdf`)).text.slice(0, 5)).toBe('%PDF-');
    const csv = await owner.get(`${path}?format=csv`);
    expect(csv.text.trim().split('\r\n')).toHaveLength(3);
    expect(csv.text).toContain("'=cmd");
    expect((await owner.get(`${path}?lang=es-US`)).text).toContain('Lista de trabajo');
  });

  it('of a day without a round says so; of a stranger, of no day and of long ago there is none', async () => {
    expect((await owner.get('/api/reports/worklists/tess/2099-01-04')).text).toContain('No visit is planned');
    expect((await owner.get('/api/reports/worklists/nobody/2099-01-04')).body.code).toBe('not found');
    expect((await owner.get('/api/reports/worklists/tess/2026-02-30')).body.code).toBe('malformed');
    expect((await owner.get('/api/reports/worklists/tess/2020-02-03')).body.code).toBe('not found');
  });
});

it('a renewal letter', async () => {
  const page = await owner.get('/api/reports/renewals/house?asOf=2025-12-01');
  expect(page.text).toContain('runs until January 1, 2026');
  expect(page.text).toContain('Live termites were found at station 1.');
  expect((await owner.get('/api/reports/renewals/house?format=pdf')).text.slice(0, 5)).toBe('%PDF-');
});

describe('labels', () => {
  it('of a property, and of tags that nothing carries yet on a sheet given in numbers', async () => {
    const own = await owner.get('/api/reports/labels/house?stock=roll%2057x32');
    expect(own.text.slice(0, 5)).toBe('%PDF-');
    expect((await owner.get('/api/reports/labels/neighbour')).body.code).toBe('paper cannot be written');
    const stock = {
      kind: 'sheet',
      pageWidthMm: 210,
      pageHeightMm: 297,
      columns: 2,
      rows: 4,
      labelWidthMm: 90,
      labelHeightMm: 60,
      leftMm: 10,
      topMm: 10,
      pitchXMm: 95,
      pitchYMm: 65,
    };
    expect(
      (await owner.post('/api/reports/labels', { prefix: 'A', first: '01', count: 9, stock })).status,
    ).toBe(200);
    const over = { ...stock, columns: 3 };
    const refused = await owner.post('/api/reports/labels', { first: '1', count: 1, stock: over });
    expect(refused.body).toMatchObject({ code: 'malformed', errors: [{ at: 'stock' }] });

    const ask = (more: object) => owner.post('/api/reports/labels', { stock, ...more });
    const ofHouse = await ask({ property: 'house', only: '1' });
    expect([ofHouse.status, ofHouse.text.slice(0, 5)]).toEqual([200, '%PDF-']);
    expect((await ask({ property: 'house' })).text.length).toBeGreaterThan(ofHouse.text.length);
    expect((await ask({ property: 'house', only: 'one' })).body.errors[0].at).toBe('body.only');
    expect((await ask({ property: 'neighbour' })).body.code).toBe('paper cannot be written');
    expect((await ask({ property: 'nowhere' })).status).toBe(404);
    expect((await ask({ first: '1' })).body).toMatchObject({ code: 'malformed', errors: [{ at: 'body' }] });
  });
});

describe.skipIf(!hasPython)("inspector's bundle", () => {
  async function fetchBundle(query: string): Promise<string> {
    const cookie = [...inspector.cookies].map(([name, value]) => `${name}=${value}`).join('; ');
    const answer = await fetch(`${server.url}/api/reports/bundle${query}`, { headers: { cookie } });
    expect(answer.headers.get('content-type')).toBe('application/zip');
    const into = mkdtempSync(join(folder, 'bundle-'));
    writeFileSync(join(into, 'b.zip'), Buffer.from(await answer.arrayBuffer()));
    execFileSync('python3', ['-m', 'zipfile', '-e', join(into, 'b.zip'), into]);
    return into;
  }

  it('the whole ledger: the chain recomputed by Python ends at the head that /api/verify tells', async () => {
    const into = await fetchBundle('?whole=true');
    const { head, facts } = (await inspector.get('/api/verify')).body;
    const run = spawnSync('python3', ['check.py'], { cwd: into, encoding: 'utf8' });
    expect(run.stderr).toBe('');
    expect(run.stdout).toContain(`${facts} entries, the whole ledger: unchanged up to the head ${head}`);
  });

  it('one record: only what it rests on, each link recomputed here', async () => {
    const into = await fetchBundle('?product=99999-999');
    const lines = readFileSync(join(into, 'entries.ndjson'), 'utf8').trim().split('\n');
    const entries: { readonly previousHash: string; readonly hash: string; readonly text: string }[] =
      lines.map((line) => JSON.parse(line));
    for (const { previousHash, hash, text } of entries)
      expect(createHash('sha256').update(Buffer.from(previousHash, 'hex')).update(text).digest('hex')).toBe(
        hash,
      );
    const kinds = entries.map(({ text }) => JSON.parse(text).kind);
    expect(kinds).toContain('station seen');
    expect(kinds).not.toContain('round published');
    expect(lines.join('')).not.toContain('neighbour');
    expect(spawnSync('python3', ['check.py'], { cwd: into, encoding: 'utf8' }).stderr).toBe('');
    expect(readFileSync(join(into, 'applications.csv'), 'utf8')).not.toMatch(/(^|,|")=dwelling/m);
  });

  it('tells of a stored record that was altered', async () => {
    const db = new DatabaseSync(join(server.folder, 'ledger.db'));
    const row = db.prepare('select seq, text from ledger_fact where text like \'%"grams":120%\'').get();
    const text = String(row?.['text']);
    const write = db.prepare('update ledger_fact set text = ? where seq = ?');
    write.run(text.replace('"grams":120', '"grams":12'), Number(row?.['seq']));
    const into = await fetchBundle('?whole=true');
    write.run(text, Number(row?.['seq']));
    db.close();
    const manifest = JSON.parse(readFileSync(join(into, 'manifest.json'), 'utf8'));
    expect(manifest.chain).toMatchObject({ sound: false, brokenAtSeq: Number(row?.['seq']) });
    expect(readFileSync(join(into, 'README.txt'), 'utf8')).toContain('THE CHAIN WAS BROKEN');
    expect(spawnSync('python3', ['check.py'], { cwd: into }).status).not.toBe(0);
  });

  it('tells of an application that the index moved to another property, out of the record asked for', async () => {
    const db = new DatabaseSync(join(server.folder, 'ledger.db'));
    const row = db.prepare('select seq, property from ledger_fact where text like \'%"grams":120%\'').get();
    const write = db.prepare('update ledger_fact set property = ? where seq = ?');
    write.run('elsewhere', Number(row?.['seq']));
    const into = await fetchBundle(`?property=${String(row?.['property'])}`);
    write.run(String(row?.['property']), Number(row?.['seq']));
    db.close();
    const manifest = JSON.parse(readFileSync(join(into, 'manifest.json'), 'utf8'));
    expect(manifest.chain).toMatchObject({ sound: false, brokenAtSeq: Number(row?.['seq']) });
  });
});

describe('what a paper will hold', () => {
  it('the count of a record is the count of its rows, for the same question', async () => {
    const count = await inspector.get('/api/reports/applications?format=count');
    expect(count.headers.get('content-type')).toBe('application/json; charset=utf-8');
    expect(count.body).toMatchObject({ applications: 1, wordings: 1, properties: 1 });
    const csv = await inspector.get('/api/reports/applications?format=csv');
    expect(csv.text.trim().split('\r\n').length - 1).toBe(count.body.wordings);
    const none = await inspector.get('/api/reports/applications?format=count&product=1-1');
    expect(none.body).toEqual({ applications: 0, wordings: 0, properties: 0, withGaps: 0 });
  });

  it('labels of chosen stations only, and a clear word for what cannot be read', async () => {
    const all = await owner.get('/api/reports/labels/house');
    const one = await owner.get('/api/reports/labels/house?only=1');
    expect([all.status, one.status]).toEqual([200, 200]);
    expect(one.text.length).toBeLessThan(all.text.length);
    const wrong = await owner.get('/api/reports/labels/house?only=one');
    expect([wrong.status, wrong.body.errors[0].at]).toEqual([400, 'query.only']);
    const none = await owner.get('/api/reports/labels/house?only=50-60');
    expect([none.status, none.body.code]).toEqual([409, 'paper cannot be written']);
  });

  it('the properties whose agreement ends in a month', async () => {
    const found = await owner.get('/api/properties?renewsIn=2026-01');
    const all: readonly { readonly renewsOn: string | null }[] = (await owner.get('/api/properties')).body
      .properties;
    expect(found.body.total).toBe(all.filter(({ renewsOn }) => renewsOn?.startsWith('2026-01')).length);
    expect(found.body.total).toBeGreaterThan(0);
    expect((await owner.get('/api/properties?renewsIn=2026-02')).body).toMatchObject({
      total: 0,
      all: all.length,
    });
    expect((await owner.get('/api/properties?renewsIn=soon')).status).toBe(400);
  });
});
