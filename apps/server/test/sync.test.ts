import { createHash, randomBytes } from 'node:crypto';
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import type { AnyFact, RoundBody } from '@sillwatch/trade';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createFacts, firstFacts } from './support/facts.ts';
import {
  Client,
  FIRM,
  OTHER_FIRM,
  seedPerson,
  signedIn,
  startTestServer,
  type TestServer,
} from './support/harness.ts';
import { findTestDatabase, type TestDatabase } from './support/postgres.ts';

let database: TestDatabase | undefined;
beforeAll(async () => {
  database = await findTestDatabase();
});
afterAll(() => database?.stop());

const SECRET = 'one secret for both, long enough to sign with';

describe.each(['sqlite', 'postgres'] as const)('what phones ask, on %s', (kind) => {
  let server: TestServer | undefined;
  /** Another process on the same PostgreSQL; the same server on SQLite. */
  let second: TestServer | undefined;
  let phone: Client;
  let person: string;
  let owner: Client;
  let ownerId: string;

  beforeAll(async () => {
    if (kind === 'postgres' && database === undefined) return;
    const settings =
      database === undefined || kind === 'sqlite' ? {} : { databaseUrl: database.url, secret: SECRET };
    server = await startTestServer(settings);
    second = kind === 'sqlite' ? server : await startTestServer(settings);
    person = await seedPerson(server, 'technician');
    ownerId = await seedPerson(server, 'owner');
    phone = await signedIn(server, `technician@${FIRM.id}.example`);
    owner = await signedIn(server, `owner@${FIRM.id}.example`);
    await server.ledger.append(FIRM.id, firstFacts(FIRM.id, ownerId, 'house'), '2026-01-01T00:00:00.000Z');
  });
  afterAll(async () => {
    await server?.end();
    if (second !== server) await second?.end();
  });

  const round = (who: string, day: string): RoundBody => ({
    plan: 'plan-1',
    branch: 'north',
    person: who,
    day,
    startsAt: `${day}T08:00:00-05:00`,
    endsAt: `${day}T16:00:00-05:00`,
    breakMinutes: 30,
    travel: 'great circle',
    visits: [
      {
        visit: `visit ${day}`,
        property: 'house',
        startsAt: `${day}T09:00:00-05:00`,
        endsAt: `${day}T09:40:00-05:00`,
        driveMinutes: 12,
        driveMetres: 9000,
        works: [{ station: 'house-s1', work: 'check' }],
        asks: [],
        frozen: false,
      },
    ],
  });
  const published = (body: RoundBody): AnyFact => ({
    ...createFacts(FIRM.id, ownerId, `desk ${body.person} ${body.day}`).other(null, 'round published'),
    body,
  });

  it('tell the person, the own rounds only, names and the time; then only what is new', async (context) => {
    if (server === undefined) return context.skip();
    const today = new Date().toISOString().slice(0, 10);
    const facts = createFacts(FIRM.id, ownerId, 'desk');
    const away: AnyFact = {
      ...facts.other(null, 'technician away'),
      body: { person: 'somebody', from: today, to: today, why: 'private matter' },
    };
    const mine = published(round(person, today));
    const batch = [mine, published(round(ownerId, today)), published(round(person, '2020-01-01')), away];
    const verdicts = await server.ledger.append(FIRM.id, batch, new Date().toISOString());
    expect(verdicts.map(({ verdict }) => verdict)).toEqual(batch.map(() => 'accepted'));

    const first = (await phone.get('/api/sync/pull')).body;
    expect(first.me.id).toBe(person);
    expect(Math.abs(Date.parse(first.now) - Date.now())).toBeLessThan(60_000);
    expect(first.names.map(({ id }: { id: string }) => id).sort()).toEqual([person, ownerId].sort());
    const kinds = first.facts.map(({ kind: one }: AnyFact) => one);
    expect(kinds.sort()).toEqual(['branch added', 'profile set', 'round published']);
    expect(first.facts.find((fact: AnyFact) => fact.kind === 'round published').id).toBe(mine.id);
    expect(JSON.stringify(first)).not.toContain('private matter');
    expect(first.more).toBe(false);

    expect((await phone.get(`/api/sync/pull?since=${first.upTo}`)).body.facts).toEqual([]);
    const withdrawn = facts.correction(mine, null);
    await server.ledger.append(FIRM.id, [withdrawn, facts.correction(away, null)], new Date().toISOString());
    const after = (await phone.get(`/api/sync/pull?since=${first.upTo}`)).body;
    expect(after.facts.map(({ id }: AnyFact) => id)).toEqual([withdrawn.id]);
  });

  it('give the facts of the asked properties after a position, and say where to go on', async (context) => {
    if (server === undefined) return context.skip();
    const ask = async (properties: readonly unknown[]) =>
      (await phone.post('/api/sync/facts', { properties })).body.properties;
    const [whole, none] = await ask([
      { property: 'house', afterSeq: 0 },
      { property: 'no such house', afterSeq: 7 },
    ]);
    const stored = await server.ledger.listFacts(FIRM.id, { property: 'house' });
    expect(whole).toEqual({
      property: 'house',
      facts: stored,
      upTo: stored.at(-1)?.receipt?.seq,
      more: false,
    });
    expect(none).toEqual({ property: 'no such house', facts: [], upTo: 7, more: false });
    const facts = createFacts(FIRM.id, person, 'phone');
    const seen = facts.seen('house', 'house-s1', 90);
    expect((await phone.post('/api/facts', { facts: [seen] })).body.verdicts[0].verdict).toBe('accepted');
    const [news] = await ask([{ property: 'house', afterSeq: whole.upTo }]);
    expect(news.facts.map(({ id }: AnyFact) => id)).toEqual([seen.id]);
  });

  it('tell a phone without a session whether the person has left, and nothing of anybody else', async (context) => {
    if (server === undefined) return context.skip();
    const nobody = new Client(server.url);
    const ask = async (firm: string, id: string) =>
      (await nobody.post('/api/sync/standing', { firm, person: id })).body.standing;
    const leaver = await seedPerson(server, 'technician', { email: `leaver-${kind}@example.com` });
    expect(await ask(FIRM.id, leaver)).toBe('current');
    expect((await owner.send('DELETE', `/api/people/${leaver}`)).status).toBe(204);
    expect(await ask(FIRM.id, leaver)).toBe('former');
    expect(await ask(OTHER_FIRM.id, leaver)).toBe('unknown');
    expect(await ask(FIRM.id, 'nobody at all')).toBe('unknown');
  });

  describe('pictures', () => {
    const picture = new Uint8Array(
      Buffer.concat([Buffer.from([0xff, 0xd8, 0xff, 0xe0]), randomBytes(300_000)]),
    );
    const hash = createHash('sha256').update(picture).digest('hex');
    const put = (client: Client, name: string, offset: number, bytes: Uint8Array, size = picture.length) =>
      client.send('PUT', `/api/photos/${name}?offset=${offset}&size=${size}`, bytes, {
        'content-type': 'image/jpeg',
      });

    it('come in parts, over two servers, cut and repeated, and are given to the own firm only', async (context) => {
      if (server === undefined || second === undefined) return context.skip();
      const onSecond = new Client(second.url);
      onSecond.cookies = phone.cookies;
      const part = 128 * 1024;
      expect((await put(phone, hash, 0, picture.slice(0, part))).body.received).toBe(part);
      // Again, as a phone does that got no answer; and a part from too far on.
      expect((await put(onSecond, hash, 0, picture.slice(0, part))).body.received).toBe(part);
      expect((await put(phone, hash, 2 * part, picture.slice(2 * part))).body.received).toBe(part);
      expect((await phone.get(`/api/photos/${hash}`)).status).toBe(404);
      const state = (await onSecond.get(`/api/photos/${hash}/state`)).body;
      expect(state).toEqual({ received: part, complete: false, thumbnail: false });
      await Promise.all([
        put(phone, hash, part, picture.slice(part, 2 * part)),
        put(onSecond, hash, part, picture.slice(part, 2 * part)),
      ]);
      expect((await put(onSecond, hash, 2 * part, picture.slice(2 * part))).body.complete).toBe(true);

      const got = await fetch(`${second.url}/api/photos/${hash}`, {
        headers: { cookie: [...phone.cookies].map(([name, value]) => `${name}=${value}`).join('; ') },
      });
      expect(got.headers.get('content-type')).toBe('image/jpeg');
      expect(got.headers.get('content-security-policy')).toContain("default-src 'none'");
      expect(new Uint8Array(await got.arrayBuffer())).toEqual(picture);

      const small = picture.slice(0, 2000);
      const thumb = await phone.send('PUT', `/api/photos/${hash}/thumbnail`, small, {
        'content-type': 'image/jpeg',
      });
      expect(thumb.body.thumbnail).toBe(true);
      expect((await onSecond.get(`/api/photos/${hash}/thumbnail`)).status).toBe(200);

      await seedPerson(server, 'owner', { firm: OTHER_FIRM, email: `other-${kind}@example.com` });
      const stranger = await signedIn(server, `other-${kind}@example.com`);
      for (const path of [`/api/photos/${hash}`, `/api/photos/${hash}/thumbnail`])
        expect((await stranger.get(path)).status).toBe(404);
      expect((await stranger.get(`/api/photos/${hash}/state`)).body.received).toBe(0);
    });

    it('are refused when they are no picture, not what their hash says, or too large; and nothing stays', async (context) => {
      if (server === undefined) return context.skip();
      const page = new TextEncoder().encode('<html><script>alert(1)</script></html>');
      const pageHash = createHash('sha256').update(page).digest('hex');
      expect((await put(phone, pageHash, 0, page, page.length)).body.code).toBe('photo refused');
      const liar = picture.slice(0, 1000);
      const wrong = 'ab'.repeat(32);
      const answer = await put(phone, wrong, 0, liar, liar.length);
      expect([answer.status, answer.body.code]).toEqual([422, 'photo refused']);
      expect((await phone.get(`/api/photos/${wrong}/state`)).body.received).toBe(0);
      expect((await put(phone, wrong, 0, liar, 5_000_000)).status).toBe(400);
      expect((await put(phone, wrong, 0, new Uint8Array(600_000).fill(255), 600_000)).status).toBe(413);
      expect((await put(phone, 'no-hash', 0, liar, 1000)).status).toBe(400);
    });

    it('lie beside the ledger, not in its file', (context) => {
      if (server === undefined || kind === 'postgres') return context.skip();
      expect(existsSync(join(server.folder, 'ledger.photos.db'))).toBe(true);
    });
  });
});
