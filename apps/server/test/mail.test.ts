import { type ChildProcess, spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { openLedger } from '@sillwatch/ledger';
import type { PaperSentBody } from '@sillwatch/trade';
import { pino } from 'pino';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { createIdMaker } from '../src/index.ts';
import { type Mail, type MailPace, openMail } from '../src/mail/mail.ts';
import { type MailSettings, readMailSettings } from '../src/mail/settings.ts';
import { createFacts, firstFacts } from './support/facts.ts';
import {
  type Client,
  FIRM,
  seedPerson,
  signedIn,
  startTestServer,
  type TestServer,
} from './support/harness.ts';
import { findTestDatabase, type TestDatabase } from './support/postgres.ts';
import { attachmentOf, headersOf, startSmtp, type TestSmtp } from './support/smtp.ts';

const settingsOf = (port: number): MailSettings => ({
  host: '127.0.0.1',
  port,
  tls: 'off',
  user: undefined,
  password: undefined,
  from: 'Invented Timber Guard <office@firm.invalid>',
  replyTo: undefined,
});
const log = pino({ level: 'silent' });
const MESSAGE = {
  firm: FIRM.id,
  property: 'house',
  visit: null,
  paper: 'station list',
  recipient: 'ida@customer.invalid',
  subject: 'Stations',
  text: 'Attached.',
  attachment: { name: 'stations.pdf', bytes: new TextEncoder().encode('%PDF-1.7 x') },
  askedBy: 'owner',
  timeZone: 'America/New_York',
};

let smtp: TestSmtp;
let database: TestDatabase | undefined;
beforeAll(async () => {
  database = await findTestDatabase();
});
beforeEach(async () => {
  smtp = await startSmtp();
});
afterEach(() => smtp.close());
afterAll(() => database?.stop());

/** The queue by itself on a database, with a clock of the test's own. */
async function openQueue(databaseUrl: string, pace: Partial<MailPace> = {}) {
  const ledger = await openLedger({ url: databaseUrl });
  const clock = { now: Date.parse('2026-11-25T12:00:00Z') };
  const open = (port: number | undefined): Promise<Mail> =>
    openMail({
      databaseUrl,
      settings: port === undefined ? undefined : settingsOf(port),
      ledger,
      now: () => clock.now,
      newId: createIdMaker(Date.now),
      log,
      pace: { pollMs: 1_000_000, ...pace },
    });
  const outcomes = async () => {
    const facts = await ledger.listFacts(FIRM.id, { property: 'house', kinds: ['paper sent'] });
    return facts.map(({ body }) => body as PaperSentBody);
  };
  return { ledger, clock, open, outcomes };
}

describe.each(['SQLite', 'PostgreSQL'])('the queue on %s', (kind) => {
  let folder: string;
  let queue: Awaited<ReturnType<typeof openQueue>> | undefined;
  let count = 0;
  beforeEach(async () => {
    folder = mkdtempSync(join(tmpdir(), 'sillwatch-mail-'));
    if (kind === 'PostgreSQL' && database === undefined) return;
    count += 1;
    queue = await openQueue(
      kind === 'SQLite' || database === undefined ? join(folder, `${count}.db`) : database.url,
    );
  });
  afterEach(async () => {
    await queue?.ledger.close();
    rmSync(folder, { recursive: true, force: true });
  });

  it('sends once, records the outcome once, and drops the attachment', async (context) => {
    if (queue === undefined) return context.skip();
    const before = (await queue.outcomes()).length;
    const mail = await queue.open(smtp.port);
    const { id } = await mail.enqueue(MESSAGE);
    await mail.work();
    await mail.work();
    expect(smtp.received).toHaveLength(1);
    expect(smtp.received[0]?.to).toEqual(['ida@customer.invalid']);
    expect(smtp.received[0]?.from).toBe('office@firm.invalid');
    expect(await mail.store.find(FIRM.id, id)).toMatchObject({
      state: 'sent',
      attempts: 1,
      attachment: null,
      isRecorded: 1,
    });
    const outcomes = (await queue.outcomes()).slice(before);
    expect(outcomes).toEqual([
      {
        paper: 'station list',
        visit: null,
        to: 'ida@customer.invalid',
        contentHash: createHash('sha256').update('%PDF-1.7 x').digest('hex'),
        outcome: 'sent',
        detail: '250 kept',
      },
    ]);
    expect((await queue.ledger.verify(FIRM.id)).sound).toBe(true);
    await mail.stop();
  });

  it('waits longer after each temporary failure, and gets through', async (context) => {
    if (queue === undefined) return context.skip();
    const before = (await queue.outcomes()).length;
    const mail = await queue.open(smtp.port);
    let failures = 2;
    smtp.answer = () => {
      failures -= 1;
      return failures >= 0 ? { code: 451, text: 'mailbox is busy' } : 'take';
    };
    const { id } = await mail.enqueue(MESSAGE);
    await mail.work();
    const first = await mail.store.find(FIRM.id, id);
    expect(first).toMatchObject({ state: 'queued', attempts: 1 });
    expect(first?.detail).toContain('451');
    expect(Date.parse(first?.nextAt ?? '') - queue.clock.now).toBe(60_000);
    await mail.work();
    expect(smtp.received).toHaveLength(1);
    queue.clock.now += 60_000;
    await mail.work();
    const second = await mail.store.find(FIRM.id, id);
    expect(Date.parse(second?.nextAt ?? '') - queue.clock.now).toBe(300_000);
    queue.clock.now += 300_000;
    await mail.work();
    expect(await mail.store.find(FIRM.id, id)).toMatchObject({ state: 'sent', attempts: 3 });
    // At every try the same message: a mailbox can tell.
    expect(new Set(smtp.received.map(({ raw }) => headersOf(raw).get('message-id')?.[0])).size).toBe(1);
    expect((await queue.outcomes()).slice(before)).toHaveLength(1);
    await mail.stop();
  });

  it('a final refusal is told with its words; a retry is a new try with an outcome of its own', async (context) => {
    if (queue === undefined) return context.skip();
    const before = (await queue.outcomes()).length;
    const mail = await queue.open(smtp.port);
    smtp.answer = () => ({ code: 550, text: 'no such mailbox' });
    const { id } = await mail.enqueue(MESSAGE);
    await mail.work();
    expect(await mail.store.find(FIRM.id, id)).toMatchObject({ state: 'refused' });
    expect((await queue.outcomes()).slice(before)).toMatchObject([
      { outcome: 'refused', detail: expect.stringContaining('no such mailbox') },
    ]);
    expect(await mail.cancel(FIRM.id, id)).toBe(false);
    smtp.answer = () => 'take';
    expect(await mail.retry(FIRM.id, id)).toBe(true);
    await mail.work();
    expect((await queue.outcomes()).slice(before).map(({ outcome }) => outcome)).toEqual(['refused', 'sent']);
    expect(await mail.retry(FIRM.id, id)).toBe(false);
    await mail.stop();
  });

  it('a refused message keeps its attachment for sixty days, and without it is not sent again', async (context) => {
    if (queue === undefined) return context.skip();
    const mail = await queue.open(smtp.port);
    smtp.answer = () => ({ code: 550, text: 'no such mailbox' });
    const { id } = await mail.enqueue(MESSAGE);
    await mail.work();
    await mail.stop();
    queue.clock.now += 59 * 86_400_000;
    const kept = await queue.open(undefined);
    expect((await kept.store.find(FIRM.id, id))?.attachment).not.toBeNull();
    await kept.stop();
    queue.clock.now += 2 * 86_400_000;
    const dropped = await queue.open(smtp.port);
    expect((await dropped.store.find(FIRM.id, id))?.attachment).toBeNull();
    expect(await dropped.retry(FIRM.id, id)).toBe(false);
    await dropped.work();
    expect(smtp.received).toHaveLength(1);
    await dropped.stop();
  });

  it('gives up after the last wait, and says after how many tries', async (context) => {
    if (queue === undefined) return context.skip();
    const mail = await queue.open(1);
    const { id } = await mail.enqueue(MESSAGE);
    for (let index = 0; index < 12; index += 1) {
      await mail.work();
      queue.clock.now += 86_400_000;
    }
    const row = await mail.store.find(FIRM.id, id);
    expect(row).toMatchObject({ state: 'refused', attempts: 9 });
    expect(row?.detail).toMatch(/given up after 9 tries: .*ECONNREFUSED/);
    await mail.stop();
  });

  it('a message that was cancelled never goes; without settings it waits', async (context) => {
    if (queue === undefined) return context.skip();
    const idle = await queue.open(undefined);
    const [cancelled, waiting] = [await idle.enqueue(MESSAGE), await idle.enqueue(MESSAGE)];
    await idle.work();
    expect(await idle.cancel(FIRM.id, cancelled.id)).toBe(true);
    await idle.stop();
    const mail = await queue.open(smtp.port);
    await mail.work();
    expect(smtp.received).toHaveLength(1);
    expect(await mail.store.find(FIRM.id, cancelled.id)).toMatchObject({
      state: 'cancelled',
      attachment: null,
    });
    expect(await mail.store.find(FIRM.id, waiting.id)).toMatchObject({ state: 'sent' });
    expect(await mail.store.find('firm-other', waiting.id)).toBeUndefined();
    await mail.stop();
  });

  it('two servers on one queue send each message once', async (context) => {
    if (queue === undefined) return context.skip();
    const idle = await queue.open(undefined);
    for (let index = 0; index < 12; index += 1) await idle.enqueue({ ...MESSAGE, subject: `No ${index}` });
    await idle.stop();
    const both = await Promise.all([queue.open(smtp.port), queue.open(smtp.port)]);
    await Promise.all(both.map((mail) => mail.work()));
    const subjects = smtp.received.map(({ raw }) => headersOf(raw).get('subject')?.[0]);
    expect(subjects.toSorted()).toEqual(Array.from({ length: 12 }, (_, index) => `No ${index}`).sort());
    await Promise.all(both.map((mail) => mail.stop()));
  });
});

describe('killed in the middle', () => {
  it('a message that the server had taken is sent again as the same message, and recorded once', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'sillwatch-mail-'));
    const file = join(folder, 'ledger.db');
    let child: ChildProcess | undefined;
    const killed = new Promise<void>((resolve) => {
      // The message is in our hands, and whoever sent it dies before he hears so.
      smtp.answer = () => {
        child?.once('exit', () => resolve());
        child?.kill('SIGKILL');
        return 'hang';
      };
    });
    child = spawn(
      process.execPath,
      [join(import.meta.dirname, 'support/mailSender.ts'), file, String(smtp.port)],
      {
        stdio: 'inherit',
      },
    );
    await killed;
    smtp.answer = () => 'take';
    const queue = await openQueue(file);
    queue.clock.now = Date.now();
    const mail = await queue.open(smtp.port);
    await mail.work();
    expect(smtp.received).toHaveLength(1);
    queue.clock.now += 16 * 60_000;
    await mail.work();
    expect(smtp.received).toHaveLength(2);
    const ids = smtp.received.map(({ raw }) => headersOf(raw).get('message-id')?.[0]);
    expect(ids[0]).toBe(ids[1]);
    expect(await queue.outcomes()).toHaveLength(1);
    await mail.stop();
    await queue.ledger.close();
    rmSync(folder, { recursive: true, force: true });
  });
});

describe('over HTTP', () => {
  let server: TestServer;
  let owner: Client;
  beforeEach(async () => {
    server = await startTestServer({ mail: settingsOf(smtp.port) });
    await seedPerson(server, 'owner', { id: 'owner' });
    await server.ledger.append(FIRM.id, firstFacts(FIRM.id, 'owner', 'house'), '2026-01-01T00:00:00.000Z');
    owner = await signedIn(server, `owner@${FIRM.id}.example`);
  });
  afterEach(() => server.end());

  const ask = (more: object) =>
    owner.post('/api/properties/house/mail', { paper: 'visit report', visit: 'house-visit-80', ...more });
  const change = (body: object) =>
    server.ledger.append(
      FIRM.id,
      [{ ...createFacts(FIRM.id, 'owner', `c${Math.random()}`).other('house', 'property changed'), body }],
      '2026-01-02T00:00:00.000Z',
    );

  it('shows what would go and sends nothing; then sends exactly that', async () => {
    const preview = await ask({ to: 'ida@customer.invalid', preview: true });
    expect(preview.status).toBe(201);
    expect(preview.body.message).toBeNull();
    expect(preview.body.preview.subject).toMatch(/^Visit report: House house, /);
    expect((await owner.get('/api/mail')).body.messages).toEqual([]);
    const sent = await ask({ to: 'ida@customer.invalid' });
    await server.mail.work();
    const [received] = smtp.received;
    if (received === undefined) throw new Error('nothing came');
    const bytes = attachmentOf(received.raw);
    expect(bytes.subarray(0, 5).toString()).toBe('%PDF-');
    expect(createHash('sha256').update(bytes).digest('hex')).toBe(sent.body.preview.attachment.sha256);
    const headers = headersOf(received.raw);
    expect(headers.get('from')).toEqual(['Invented Timber Guard <office@firm.invalid>']);
    expect(headers.get('to')).toEqual(['ida@customer.invalid']);
    const { messages, isSetUp } = (await owner.get('/api/mail?property=house&state=sent')).body;
    expect(isSetUp).toBe(true);
    expect(messages).toMatchObject([{ id: sent.body.message.id, state: 'sent', by: 'owner' }]);
    const state = await server.ledger.findProperty(FIRM.id, 'house');
    expect(state?.papersSent).toMatchObject([
      { paper: 'visit report', visit: 'house-visit-80', outcome: 'sent' },
    ]);
  });

  it('no name and no address adds a header or a recipient', async () => {
    await change({ name: 'House\r\nBcc: evil@example.invalid\r\n\r\nhello' });
    const refused = await ask({ to: 'ida@customer.invalid\r\nBcc: evil@example.invalid' });
    expect(refused.body.code).toBe('malformed');
    expect((await ask({ to: 'a@b.invalid, evil@example.invalid' })).body.code).toBe('malformed');
    expect((await ask({ to: 'ida@customer.invalid' })).status).toBe(201);
    await server.mail.work();
    expect(smtp.received).toHaveLength(1);
    expect(smtp.received[0]?.to).toEqual(['ida@customer.invalid']);
    const headers = headersOf(smtp.received[0]?.raw ?? '');
    expect([...headers.keys()]).not.toContain('bcc');
    expect(headers.get('subject')).toHaveLength(1);
  });

  it('writes to the customer in his language at his address, or says that there is none', async () => {
    expect((await ask({})).body.code).toBe('no address');
    await change({
      customer: { name: 'Ida Example', email: 'ida@customer.invalid', phone: null },
      language: 'es-MX',
    });
    const answer = await ask({ preview: true });
    expect(answer.body.preview).toMatchObject({ to: 'ida@customer.invalid', language: 'es-US' });
    expect(answer.body.preview.text).toContain('Estimado/a Ida Example');
    const letter = await owner.post('/api/properties/house/mail', { paper: 'renewal letter', preview: true });
    expect(letter.body.preview.attachment.name).toBe('renewal-house.pdf');
    expect((await ask({ visit: 'no-such-visit' })).body.code).toBe('not found');
    await change({ agreement: null });
    const none = await owner.post('/api/properties/house/mail', { paper: 'renewal letter', preview: true });
    expect(none.body.code).toBe('paper cannot be written');
  });

  it('without settings it says so; the queue can still be read', async () => {
    const bare = await startTestServer();
    await seedPerson(bare, 'owner', { id: 'owner' });
    await bare.ledger.append(FIRM.id, firstFacts(FIRM.id, 'owner', 'house'), '2026-01-01T00:00:00.000Z');
    const client = await signedIn(bare, `owner@${FIRM.id}.example`);
    const body = { paper: 'station list', to: 'ida@customer.invalid' };
    expect((await client.post('/api/properties/house/mail', body)).body.code).toBe('mail not set up');
    expect((await client.get('/api/mail')).body).toMatchObject({ isSetUp: false, messages: [] });
    await bare.end();
  });
});

describe('settings', () => {
  const good = { MAIL_HOST: 'mail.example.com', MAIL_FROM: 'Office <office@example.com>' };
  it('are read with safe defaults', () => {
    expect(readMailSettings({})).toBeUndefined();
    expect(readMailSettings(good)).toMatchObject({ port: 587, tls: 'starttls' });
    expect(readMailSettings({ ...good, MAIL_TLS: 'implicit' })).toMatchObject({ port: 465 });
    expect(readMailSettings({ ...good, MAIL_HOST: '127.0.0.1', MAIL_TLS: 'off' })).toMatchObject({
      tls: 'off',
    });
  });
  it.each([
    [{ MAIL_FROM: '' }, /MAIL_FROM/],
    [{ MAIL_FROM: 'Office <a@b.invalid>\r\nBcc: x@y.invalid' }, /MAIL_FROM/],
    [{ MAIL_FROM: 'a@b.invalid, c@d.invalid' }, /MAIL_FROM/],
    [{ MAIL_PORT: '99999' }, /MAIL_PORT/],
    [{ MAIL_TLS: 'maybe' }, /MAIL_TLS/],
    [{ MAIL_TLS: 'off' }, /in the clear/],
    [{ MAIL_USER: 'x' }, /together/],
    [{ MAIL_REPLY_TO: 'nobody' }, /MAIL_REPLY_TO/],
  ])('%o is refused by name', (more, why) => {
    expect(() => readMailSettings({ ...good, ...more })).toThrow(why);
  });
});
