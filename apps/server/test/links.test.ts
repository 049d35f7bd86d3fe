import type { LinkBody } from '@sillwatch/trade';
import ICAL from 'ical.js';
import { pino } from 'pino';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createGuessGuard } from '../src/links/guesses.ts';
import { findPlace, hashSecret, isSameHash, makeSecret, placeToText } from '../src/links/secret.ts';
import { createFacts, firstFacts } from './support/facts.ts';
import {
  type Answer,
  Client,
  FIRM,
  OTHER_FIRM,
  seedPerson,
  signedIn,
  startTestServer,
  type TestServer,
} from './support/harness.ts';

let server: TestServer;
let owner: Client;
let technician: Client;
const logged: string[] = [];

const at = '2026-01-01T00:00:00.000Z';
beforeAll(async () => {
  const log = pino({}, { write: (line: string) => logged.push(line) });
  server = await startTestServer({ log, behindProxy: true });
  await seedPerson(server, 'owner', { id: 'owner' });
  await seedPerson(server, 'technician', { id: 'tess' });
  await seedPerson(server, 'technician', { id: 'theo', email: 'theo@example.com' });
  await seedPerson(server, 'owner', { firm: OTHER_FIRM, id: 'other-owner', email: 'other@example.com' });
  await server.ledger.append(FIRM.id, firstFacts(FIRM.id, 'owner', 'house'), at);
  const neighbour = createFacts(FIRM.id, 'owner', 'second');
  await server.ledger.append(
    FIRM.id,
    [
      neighbour.property('neighbour'),
      neighbour.structure('neighbour'),
      neighbour.installed('neighbour', 'neighbour-s1'),
      neighbour.seen('neighbour', 'neighbour-s1'),
      neighbour.closed('neighbour'),
    ],
    at,
  );
  await server.ledger.append(OTHER_FIRM.id, firstFacts(OTHER_FIRM.id, 'other-owner', 'house'), at);
  owner = await signedIn(server, `owner@${FIRM.id}.example`);
  technician = await signedIn(server, `technician@${FIRM.id}.example`);
});
afterAll(() => server.end());

async function makeLink(purpose = 'property page', forDays: number | null = 90): Promise<Answer> {
  const made = await owner.post('/api/properties/house/links', { purpose, forDays });
  expect(made.status).toBe(201);
  return made;
}
let visitor = 0;
/** Each visitor with an address of the network of his own, so that one test's guesses do not close another's door. */
const visit = (url: string) => {
  visitor += 1;
  return new Client('').send('GET', url, undefined, { 'x-forwarded-for': `198.51.100.${visitor}` });
};

describe('the page of one property', () => {
  it('opens without signing in, under a policy that runs and loads nothing, kept by no cache and no search', async () => {
    const { body } = await makeLink();
    const page = await visit(body.url);
    expect(page.status).toBe(200);
    expect(page.text).toContain('House house');
    expect(page.text).toContain('12 Pretend Lane');
    const policy = page.headers.get('content-security-policy') ?? '';
    expect(policy).toMatch(
      /^default-src 'none'; style-src 'sha256-[A-Za-z0-9+/=]+'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'$/,
    );
    expect(page.headers.get('cache-control')).toBe('private, no-store');
    expect(page.headers.get('x-robots-tag')).toContain('noindex');
    expect(page.headers.get('referrer-policy')).toBe('no-referrer');
    expect(page.headers.get('x-frame-options')).toBe('DENY');
    expect(page.headers.getSetCookie()).toEqual([]);
    expect(page.text).not.toMatch(/<script|\son\w+=|style="|https?:\/\//i);
  });

  it('leads to each report of that property, as page and as PDF, and to no other', async () => {
    const { body } = await makeLink();
    const page = await visit(body.url);
    const hrefs = [...page.text.matchAll(/href="([^"]+)"/g)].map((match) => match[1] ?? '');
    expect(hrefs).toHaveLength(2);
    const answers = await Promise.all(hrefs.map((href) => visit(new URL(href, body.url).href)));
    expect(answers[0]?.text).toContain('Visit report');
    expect(answers[0]?.headers.get('content-security-policy')).toContain('sandbox');
    expect(answers[1]?.text.slice(0, 5)).toBe('%PDF-');
    const foreign = await visit(`${body.url}/visits/neighbour-visit-80/report.html`);
    expect(foreign.status).toBe(404);
    expect(foreign.text).not.toContain('neighbour');
    expect((await visit(`${body.url}/calendar.ics`)).status).toBe(404);
    expect(page.text).not.toMatch(/neighbour/i);
  });

  it('tells a customer neither access notes nor hazards', async () => {
    const facts = createFacts(FIRM.id, 'owner', 'third');
    await server.ledger.append(
      FIRM.id,
      [
        {
          ...facts.other('house', 'property changed'),
          body: { accessNotes: 'KEYBOX-4711', hazards: 'HAZARD-9' },
        },
      ],
      at,
    );
    const { body } = await makeLink();
    const page = await visit(body.url);
    expect(page.text).not.toMatch(/KEYBOX|HAZARD-9/);
  });

  it('holds only the hash: neither ledger nor log nor list has the secret', async () => {
    const { body } = await makeLink();
    const secret = new URL(body.url).pathname.split('/')[3] ?? '';
    await visit(body.url);
    expect(secret).toMatch(/^[\w-]{43}$/);
    const facts = await server.ledger.listFacts(FIRM.id, {});
    expect(JSON.stringify(facts)).not.toContain(secret);
    expect(JSON.stringify(facts)).toContain(hashSecret(secret));
    expect(logged.join('')).not.toContain(secret);
    expect(logged.join('')).toContain('/link/(secret)');
    const listed = await owner.get('/api/properties/house/links');
    expect(listed.text).not.toContain(secret);
    expect(listed.text).not.toContain(hashSecret(secret));
    expect((await owner.get('/api/verify')).body.sound).toBe(true);
  });

  it('tells the office when it was opened last, and a wrong secret is no use', async () => {
    const { body } = await makeLink();
    const usedAt = async (): Promise<string | null> =>
      (await owner.get('/api/properties/house/links')).body.links.find(
        ({ link }: LinkBody) => link === body.link,
      ).usedAt;
    expect(body.usedAt).toBeNull();
    await visit(body.url.replace(/[^/]+$/, makeSecret()));
    expect(await usedAt()).toBeNull();
    const begun = Date.now();
    await visit(body.url);
    await expect.poll(usedAt).not.toBeNull();
    expect(Date.parse((await usedAt()) ?? '')).toBeGreaterThanOrEqual(begun);
  });

  it('opens nothing once withdrawn, also after a restart of what is kept in memory', async () => {
    const { body } = await makeLink();
    expect((await visit(body.url)).status).toBe(200);
    expect((await owner.send('DELETE', `/api/properties/house/links/${body.link}`)).status).toBe(204);
    const gone = await visit(body.url);
    expect(gone.status).toBe(404);
    expect(gone.text).not.toContain('House house');
    expect((await owner.send('DELETE', `/api/properties/house/links/${body.link}`)).body.code).toBe(
      'not found',
    );
    await server.ledger.rebuild(FIRM.id);
    expect((await visit(body.url)).status).toBe(404);
    // The fact that made it, sent again by a device, is known already and brings nothing back.
    const facts = await server.ledger.listFacts(FIRM.id, { property: 'house', kinds: ['link made'] });
    const made = facts.find(({ body: one }) => (one as LinkBody).link === body.link);
    if (made === undefined) throw new Error('no fact');
    const { receipt: _, ...sent } = made;
    await owner.post('/api/facts?importing=true', { facts: [sent] });
    expect((await visit(body.url)).status).toBe(404);
  });

  it('opens nothing once its time has come', async () => {
    const secret = makeSecret();
    const facts = createFacts(FIRM.id, 'owner', 'fourth');
    const expired = (expiresAt: string, link: string) => ({
      ...facts.other('house', 'link made'),
      body: { link, secretHash: hashSecret(secret), purpose: 'property page', person: null, expiresAt },
    });
    await server.ledger.append(FIRM.id, [expired('2026-01-01T00:00:00-05:00', 'old')], at);
    const url = `${server.url}/link/${placeToText({ firm: FIRM.id, property: 'house' })}/${secret}`;
    expect((await visit(url)).status).toBe(404);
    const { links } = (await owner.get('/api/properties/house/links')).body;
    expect(links.find(({ link }: LinkBody) => link === 'old')).toMatchObject({ hasExpired: true });
  });

  it('is tied to its place: the secret opens no other property and no other firm', async () => {
    const { body } = await makeLink();
    const secret = new URL(body.url).pathname.split('/')[3] ?? '';
    for (const place of [
      { firm: FIRM.id, property: 'neighbour' },
      { firm: OTHER_FIRM.id, property: 'house' },
      { firm: FIRM.id, property: null },
      { firm: 'no-such-firm', property: 'house' },
    ]) {
      const answer = await visit(`${server.url}/link/${placeToText(place)}/${secret}`);
      expect(answer.status).toBe(404);
      expect(answer.text).not.toMatch(/House|Pretend/);
    }
  });

  it('answers alike whatever is wrong', async () => {
    const { body } = await makeLink();
    const [, , place = '', secret = ''] = new URL(body.url).pathname.split('/');
    const wrong = await Promise.all(
      [
        `/link/${place}/${makeSecret()}`,
        `/link/${placeToText({ firm: 'nobody', property: 'x' })}/${secret}`,
        '/link/!!/x',
        `/link/${place}`,
      ].map((path) => visit(server.url + path)),
    );
    expect(new Set(wrong.map(({ text }) => text)).size).toBe(1);
    for (const { status } of wrong) expect(status).toBe(404);
  });
});

describe('calendars', () => {
  it("a customer's calendar is his property's, read by ical.js", async () => {
    const { body } = await makeLink('property calendar');
    expect(body.url).toMatch(/\/calendar\.ics$/);
    const answer = await visit(body.url);
    expect(answer.headers.get('content-type')).toBe('text/calendar; charset=utf-8');
    const events = new ICAL.Component(ICAL.parse(answer.text)).getAllSubcomponents('vevent');
    expect(events).toHaveLength(1);
    expect(answer.text).not.toMatch(/neighbour|KEYBOX/);
    expect((await visit(body.url.replace('/calendar.ics', ''))).status).toBe(404);
  });

  it("a technician's calendar holds his rounds and nobody else's, as last sent out", async () => {
    const facts = createFacts(FIRM.id, 'owner', 'planner');
    const soon = new Date(Date.now() + 3 * 86_400_000).toISOString().slice(0, 10);
    const round = (person: string, visitId: string, day = soon) => ({
      ...facts.other(null, 'round published'),
      body: {
        plan: 'p',
        branch: 'north',
        person,
        day,
        startsAt: `${day}T08:00:00-05:00`,
        endsAt: `${day}T12:00:00-05:00`,
        breakMinutes: 0,
        travel: 'great circle',
        visits: [
          {
            visit: visitId,
            property: 'house',
            startsAt: `${day}T09:00:00-05:00`,
            endsAt: `${day}T09:30:00-05:00`,
            driveMinutes: 10,
            driveMetres: 5000,
            works: [{ station: 'house-s1', work: 'check' }],
            asks: [],
            frozen: false,
          },
        ],
      },
    });
    const stored = await server.ledger.append(
      FIRM.id,
      [round('tess', 'v-tess'), round('theo', 'v-theo')],
      at,
    );
    expect(stored.map(({ verdict }) => verdict)).toEqual(['accepted', 'accepted']);
    const made = await technician.post('/api/links', {});
    expect(made.status).toBe(201);
    const uids = async () =>
      new ICAL.Component(ICAL.parse((await visit(made.body.url)).text))
        .getAllSubcomponents('vevent')
        .map((event) => event.getFirstPropertyValue('uid'));
    expect(await uids()).toEqual(['visit-v-tess']);
    const emptied = round('tess', 'v-tess');
    await server.ledger.append(FIRM.id, [{ ...emptied, body: { ...emptied.body, visits: [] } }], at);
    expect(await uids()).toEqual([]);
    await server.ledger.append(FIRM.id, [round('tess', 'v-2')], at);
    expect(await uids()).toEqual(['visit-v-2']);

    // A person who leaves takes his calendar with him.
    expect((await owner.send('DELETE', '/api/people/tess')).status).toBe(204);
    expect((await visit(made.body.url)).status).toBe(404);
  });

  it('a technician sees to his own only', async () => {
    const theo = await signedIn(server, 'theo@example.com');
    expect((await theo.post('/api/links', { person: 'owner' })).body.code).toBe('not allowed');
    expect((await theo.post('/api/links', { person: 'other-owner' })).body.code).toBe('not found');
    const own = await theo.post('/api/links', { person: 'theo' });
    const forOwner = await owner.post('/api/links', {});
    expect((await theo.get('/api/links')).body.links.map(({ link }: LinkBody) => link)).toEqual([
      own.body.link,
    ]);
    expect((await theo.send('DELETE', `/api/links/${forOwner.body.link}`)).body.code).toBe('not allowed');
    expect((await theo.send('DELETE', `/api/links/${own.body.link}`)).status).toBe(204);
    expect((await visit(own.body.url)).status).toBe(404);
  });
});

describe('guessing', () => {
  it('is slowed: after ten wrong addresses in a minute there is no answer for a while, right or wrong', async () => {
    const proxied = await startTestServer({ behindProxy: true });
    try {
      await seedPerson(proxied, 'owner', { id: 'owner' });
      await proxied.ledger.append(FIRM.id, firstFacts(FIRM.id, 'owner', 'house'), at);
      const secret = makeSecret();
      const facts = createFacts(FIRM.id, 'owner', 'x');
      const link = {
        link: 'l',
        secretHash: hashSecret(secret),
        purpose: 'property page',
        person: null,
        expiresAt: null,
      };
      await proxied.ledger.append(FIRM.id, [{ ...facts.other('house', 'link made'), body: link }], at);
      const place = placeToText({ firm: FIRM.id, property: 'house' });
      const from = (peer: string, path: string) =>
        new Client(proxied.url).send('GET', path, undefined, { 'x-forwarded-for': peer });
      const statuses: number[] = [];
      for (let index = 0; index < 14; index += 1)
        statuses.push((await from('192.0.2.1', `/link/${place}/${makeSecret()}`)).status);
      expect(statuses.filter((status) => status === 404).length).toBeLessThanOrEqual(11);
      expect(statuses.at(-1)).toBe(429);
      const right = await from('192.0.2.1', `/link/${place}/${secret}`);
      expect(right.status).toBe(429);
      expect(Number(right.headers.get('retry-after'))).toBeGreaterThan(0);
      expect((await from('192.0.2.2', `/link/${place}/${secret}`)).status).toBe(200);
    } finally {
      await proxied.end();
    }
  });

  it('the guard opens again when its time is over', () => {
    let now = 0;
    const guard = createGuessGuard(3, () => now);
    for (let index = 0; index < 3; index += 1) guard.noteWrong('a');
    expect(guard.waitOf('a')).toBeUndefined();
    guard.noteWrong('a');
    expect(guard.waitOf('a')).toBeGreaterThan(0);
    expect(guard.waitOf('b')).toBeUndefined();
    now += 60_000;
    expect(guard.waitOf('a')).toBeUndefined();
  });

  it('a place is read only as it was written, and hashes of odd length are never alike', () => {
    const place = { firm: 'f', property: 'p/ü' };
    expect(findPlace(placeToText(place))).toEqual(place);
    for (const text of ['', '!', 'WyJmIl0', `${placeToText(place)}A`, 'x'.repeat(2000)])
      expect(findPlace(text)).toBeUndefined();
    expect(isSameHash('', '')).toBe(false);
    expect(isSameHash(hashSecret('a'), hashSecret('a'))).toBe(true);
    expect(isSameHash(hashSecret('a'), hashSecret('b'))).toBe(false);
  });
});
