import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createFacts, firstFacts } from './support/facts.ts';
import {
  type Client,
  FIRM,
  seedPerson,
  signedIn,
  startTestServer,
  type TestServer,
} from './support/harness.ts';
import { attachmentOf, startSmtp, type TestSmtp } from './support/smtp.ts';

let smtp: TestSmtp;
let server: TestServer;
let ana: Client;
let ben: Client;
let owner: Client;

beforeAll(async () => {
  smtp = await startSmtp();
  server = await startTestServer({
    mail: {
      host: '127.0.0.1',
      port: smtp.port,
      tls: 'off',
      user: undefined,
      password: undefined,
      from: 'Invented Timber Guard <office@firm.invalid>',
      replyTo: undefined,
    },
  });
  const ownerId = await seedPerson(server, 'owner');
  const anaId = await seedPerson(server, 'technician', { email: 'ana@firm.invalid' });
  await seedPerson(server, 'technician', { email: 'ben@firm.invalid' });
  owner = await signedIn(server, `owner@${FIRM.id}.example`);
  ana = await signedIn(server, 'ana@firm.invalid');
  ben = await signedIn(server, 'ben@firm.invalid');
  const at = '2026-01-01T00:00:00.000Z';
  for (const [property, email] of [
    ['house', 'ida@customer.invalid'],
    ['silent', null],
  ] as const) {
    const facts = firstFacts(FIRM.id, ownerId, property).map((fact) =>
      fact.kind === 'property added' && typeof fact.body === 'object'
        ? {
            ...fact,
            body: { ...fact.body, customer: { name: 'Ida Invented', email, phone: null }, language: 'es' },
          }
        : fact,
    );
    // The second one brings the firm's own facts again, which are known.
    await server.ledger.append(FIRM.id, facts, at);
    const made = createFacts(FIRM.id, anaId);
    await server.ledger.append(FIRM.id, [made.closed(property, 80, `${property}-visit`)], at);
  }
});
afterAll(async () => {
  await server.end();
  await smtp.close();
});

const ask = (who: Client, property: string, visit: string) =>
  who.post('/api/sync/report', { property, visit });

describe('the report of an own visit', () => {
  it('is refused to anybody who did not close the visit, whatever the role', async () => {
    expect((await ask(ben, 'house', 'house-visit')).status).toBe(404);
    expect((await ask(owner, 'house', 'house-visit')).status).toBe(404);
    expect((await ask(ana, 'house', 'another visit')).status).toBe(404);
    expect((await ask(ana, 'silent', 'house-visit')).status).toBe(404);
    expect((await ask(ana, 'no such house', 'house-visit')).status).toBe(404);
  });

  it('goes to the address of the office alone, in the language of the property, once, however often it is asked for', async () => {
    const answers = await Promise.all([1, 2, 3].map(() => ask(ana, 'house', 'house-visit')));
    expect(answers.map(({ status }) => status)).toEqual([200, 200, 200]);
    expect(new Set(answers.map(({ body }) => body.message)).size).toBe(1);
    const waiting = await owner.get('/api/mail?property=house');
    expect(waiting.body.messages).toHaveLength(1);
    expect(waiting.body.messages[0]).toMatchObject({
      to: 'ida@customer.invalid',
      paper: 'visit report',
      visit: 'house-visit',
    });
    expect(waiting.body.messages[0].subject).toMatch(/visita/i);
    await owner.post(`/api/mail/${answers[0]?.body.message}/retry`, {});
    for (let tries = 0; smtp.received.length === 0 && tries < 100; tries += 1)
      await new Promise((resolve) => setTimeout(resolve, 50));
    expect(smtp.received.map(({ to }) => to)).toEqual([['ida@customer.invalid']]);
    expect(attachmentOf(smtp.received[0]?.raw ?? '')).toBeDefined();
    expect((await ask(ana, 'house', 'house-visit')).body.state).toMatch(/sent|sending/);
    expect(smtp.received).toHaveLength(1);
  });

  it('says that there is no address, and takes none from the phone', async () => {
    const answer = await ana.post('/api/sync/report', {
      property: 'silent',
      visit: 'silent-visit',
      to: 'thief@elsewhere.invalid',
    });
    expect(answer.body).toMatchObject({ code: 'no address' });
    expect((await owner.get('/api/mail?property=silent')).body.messages).toEqual([]);
  });

  it('is not sent for a visit whose closing was taken back', async () => {
    const mine = await server.ledger.listFacts(FIRM.id, { property: 'silent', kinds: ['visit closed'] });
    const closed = mine.find(({ body }) => JSON.stringify(body).includes('silent-visit"'));
    if (closed === undefined) throw new Error('no closed visit');
    await server.ledger.append(
      FIRM.id,
      [createFacts(FIRM.id, closed.by, 'second phone').correction(closed, null)],
      '2026-01-02T00:00:00.000Z',
    );
    expect((await ask(ana, 'silent', 'silent-visit')).status).toBe(404);
  });
});
