import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Validator } from '@seriousme/openapi-schema-validator';
import { pino } from 'pino';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { PROBLEMS } from '../src/http/problems.ts';
import { startServer } from '../src/index.ts';
import {
  Client,
  FIRM,
  PASSWORD,
  seedPerson,
  signedIn,
  startTestServer,
  type TestServer,
} from './support/harness.ts';

let server: TestServer;
let site: string;
beforeAll(async () => {
  site = mkdtempSync(join(tmpdir(), 'sillwatch-site-'));
  mkdirSync(join(site, 'assets'));
  writeFileSync(join(site, 'index.html'), `<!doctype html><title>page</title>${' '.repeat(2000)}`);
  writeFileSync(join(site, 'assets', 'main-a1b2c3d4.js'), 'export {};');
  writeFileSync(join(site, '..', 'secret-beside.txt'), 'secret');
  server = await startTestServer({ webFolder: site });
  await seedPerson(server, 'owner');
});
afterAll(async () => {
  await server.end();
  rmSync(site, { recursive: true, force: true });
});

describe('the API document', () => {
  it('is valid OpenAPI 3.1 by an outside validator', async () => {
    const document = (await new Client(server.url).get('/openapi.json')).body;
    expect(document.openapi).toBe('3.1.0');
    const result = await new Validator().validate(document);
    expect(result.errors).toBeUndefined();
    expect(result.valid).toBe(true);
  });
});

describe('problems (RFC 9457)', () => {
  it('carry type, title, status, detail and remedy, and no more of the inside', async () => {
    const client = new Client(server.url);
    const owner = await signedIn(server, `owner@${FIRM.id}.example`);
    const answers = [
      await client.get('/api/me'),
      await client.get('/api/nothing'),
      await owner.get('/api/properties/none'),
      await owner.get('/api/due?limit=0'),
      await owner.send('POST', '/api/facts', new TextEncoder().encode('{'), {
        'content-type': 'application/json',
      }),
      await owner.send('POST', '/api/facts', new TextEncoder().encode('a=1'), {
        'content-type': 'application/x-www-form-urlencoded',
      }),
      await owner.send('POST', '/api/people', { name: 'x'.repeat(70_000) }),
    ];
    expect(answers.map(({ status }) => status)).toEqual([401, 404, 404, 400, 400, 415, 413]);
    for (const answer of answers) {
      expect(answer.headers.get('content-type')).toMatch(/^application\/problem\+json/);
      expect(answer.body.status).toBe(answer.status);
      expect(answer.body.type).toMatch(/^tag:sillwatch\.invalid,2026:problem\/[a-z-]+$/);
      for (const key of ['title', 'detail', 'remedy', 'instance'])
        expect(answer.body[key]).toEqual(expect.any(String));
      expect(answer.body.instance).toBe(answer.headers.get('x-request-id'));
      expect(answer.text).not.toMatch(/node_modules|\.ts:|Error:/);
    }
    expect(answers[3]?.body.errors).toEqual([{ at: 'query.limit', message: expect.any(String) }]);
  });

  it('have remedies that are sentences, and statuses that refuse', () => {
    for (const [code, { status, title, remedy }] of Object.entries(PROBLEMS)) {
      expect(status, code).toBeGreaterThanOrEqual(400);
      expect(title.length, code).toBeGreaterThan(8);
      expect(remedy, code).toMatch(/\.$/);
    }
  });

  it('a fault of the server tells only its request id', async () => {
    const lines: string[] = [];
    const log = pino({ level: 'error' }, { write: (line: string) => void lines.push(line) });
    const broken = await startTestServer({ log });
    await seedPerson(broken, 'owner');
    const owner = await signedIn(broken, `owner@${FIRM.id}.example`);
    Object.assign(broken.ledger, { getFirm: () => Promise.reject(new Error('a secret of the inside')) });
    const answer = await owner.get('/api/branches');
    expect(answer.status).toBe(500);
    expect(answer.text).not.toContain('secret');
    expect(lines.join('')).toContain('a secret of the inside');
    expect(lines.join('')).toContain(answer.body.instance);
    await broken.end();
  });
});

describe('headers and pages', () => {
  it('set a policy without inline script on every answer', async () => {
    for (const path of ['/', '/api/me', '/openapi.json', '/nothing.txt']) {
      const { headers } = await new Client(server.url).get(path);
      expect(headers.get('content-security-policy'), path).toMatch(/script-src 'self'(;|$)/);
      expect(headers.get('content-security-policy'), path).toMatch(/frame-ancestors 'none'/);
      expect(headers.get('x-content-type-options'), path).toBe('nosniff');
      expect(headers.get('referrer-policy'), path).toBe('no-referrer');
    }
  });

  it('serve the application, its page for any screen, and nothing beside its folder', async () => {
    const client = new Client(server.url);
    for (const path of ['/', '/desk/due', '/field/property/7']) {
      const answer = await client.get(path);
      expect(answer.text).toContain('<title>page</title>');
      expect(answer.headers.get('cache-control')).toBe('no-cache');
    }
    const asset = await client.get('/assets/main-a1b2c3d4.js');
    expect(asset.headers.get('cache-control')).toMatch(/immutable/);
    for (const path of [
      '/../secret-beside.txt',
      '/%2e%2e/secret-beside.txt',
      '/assets/..%2f..%2fsecret-beside.txt',
    ]) {
      expect((await client.get(path)).text).not.toBe('secret');
    }
    expect((await client.get('/missing.js')).status).toBe(404);
  });

  it('pack long answers where the caller can unpack them', async () => {
    const owner = await signedIn(server, `owner@${FIRM.id}.example`);
    const packed = await owner.send('GET', '/api/models', undefined, { 'accept-encoding': 'gzip' });
    expect(packed.headers.get('content-encoding')).toBe('gzip');
    expect(packed.body.models).toHaveLength(3);
    const plain = await owner.send('GET', '/api/models', undefined, { 'accept-encoding': 'identity' });
    expect(plain.headers.get('content-encoding')).toBeNull();
  });

  it('say alive and ready', async () => {
    const client = new Client(server.url);
    expect((await client.get('/healthz')).body).toEqual({ status: 'alive' });
    expect((await client.get('/readyz')).body).toEqual({ status: 'ready' });
  });
});

describe('behind a TLS proxy', () => {
  it('cookies are Secure, HSTS is set, only the public origin writes, and the peer is the one that the proxy saw', async () => {
    const limits = { requestsPerMinute: 1000, signIns: 3 };
    const publicUrl = 'https://stations.example.com';
    const behind = await startTestServer({ publicUrl, behindProxy: true, limits });
    await seedPerson(behind, 'owner');
    const body = { email: `owner@${FIRM.id}.example`, password: PASSWORD };
    const client = new Client(behind.url);
    expect((await client.post('/api/auth/sign-in', body)).body.code).toBe('other origin');
    const from = (address: string) => ({ origin: publicUrl, 'x-forwarded-for': `203.0.113.9, ${address}` });
    const answer = await client.send('POST', '/api/auth/sign-in', body, from('198.51.100.7'));
    expect(answer.status, answer.text).toBe(200);
    expect(answer.headers.getSetCookie().find((line) => line.includes('session_token'))).toMatch(
      /; ?Secure/i,
    );
    expect(answer.headers.get('strict-transport-security')).toMatch(/max-age=\d{8}/);
    expect((await client.get('/api/me')).status).toBe(200);
    const guess = (name: string, address: string) =>
      client.send('POST', '/api/auth/sign-in', { ...body, email: `${name}@example.com` }, from(address));
    const statuses: number[] = [];
    for (const name of ['a', 'b', 'c', 'd', 'e']) statuses.push((await guess(name, '198.51.100.8')).status);
    expect(statuses).toEqual([401, 401, 401, 429, 429]);
    expect((await guess('f', '198.51.100.9')).status).toBe(401);
    await behind.end();
  });
});

describe('the log', () => {
  it('names requests and account ids, never people, addresses, passwords or what was searched for', async () => {
    const lines: string[] = [];
    const log = pino({ level: 'trace' }, { write: (line: string) => void lines.push(line) });
    const logged = await startTestServer({ log });
    const client = new Client(logged.url);
    const secretive = { firmName: 'Quiet Firm', name: 'Quiet Owner', email: 'quiet@example.com' };
    await client.post('/api/setup', { ...secretive, password: 'quiet long password 1' });
    await client.signIn('quiet@example.com', 'wrong quiet password');
    await client.signIn('quiet@example.com', 'quiet long password 1');
    await client.get('/api/properties?text=Quietstreet');
    await client.post('/api/people', {
      name: 'Quiet Tech',
      email: 'quiet.tech@example.com',
      role: 'technician',
    });
    await logged.end();
    expect(lines.length).toBeGreaterThan(6);
    expect(lines.join('\n')).not.toMatch(/quiet/i);
    for (const line of lines) expect(() => JSON.parse(line)).not.toThrow();
  });
});

describe('the open demo', () => {
  it('opens signed in as its owner, says so, and refuses any host but loopback', async () => {
    await expect(
      startServer({ host: '0.0.0.0', port: 0, databaseUrl: ':memory:', openAs: 'x' }),
    ).rejects.toThrow(/127\.0\.0\.1/);
    const demo = await startTestServer({ openAs: 'demo-owner' });
    await seedPerson(demo, 'owner', { id: 'demo-owner' });
    const client = new Client(demo.url);
    expect((await client.get('/api/me')).body).toMatchObject({ id: 'demo-owner', role: 'owner', demo: true });
    const elsewhere = await client.send('POST', '/api/people', {}, { origin: 'https://elsewhere.example' });
    expect(elsewhere.body.code).toBe('other origin');
    await demo.end();
  });
});
