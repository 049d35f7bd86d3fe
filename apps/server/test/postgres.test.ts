import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createFacts, firstFacts } from './support/facts.ts';
import {
  Client,
  PASSWORD,
  seedPerson,
  signedIn,
  startTestServer,
  type TestServer,
} from './support/harness.ts';
import { findTestDatabase, type TestDatabase } from './support/postgres.ts';
import { totp } from './support/totp.ts';

let database: TestDatabase | undefined;
beforeAll(async () => {
  database = await findTestDatabase();
});
afterAll(() => database?.stop());

/** Two stateless servers on one PostgreSQL, as behind a balancer. */
describe('two servers on one PostgreSQL', () => {
  let one: TestServer | undefined;
  let two: TestServer | undefined;
  beforeAll(async () => {
    if (database === undefined) return;
    const settings = { databaseUrl: database.url, secret: 'one secret for both, long enough to sign with' };
    // At once: the tables are made under a lock.
    [one, two] = await Promise.all([startTestServer(settings), startTestServer(settings)]);
  });
  afterAll(async () => {
    await one?.end();
    await two?.end();
  });

  it('set up once, share sessions, roles, facts, and the end of a person', async (context) => {
    if (one === undefined || two === undefined) return context.skip();
    const setup = { firmName: 'Invented', name: 'Ada', email: 'ada@example.com', password: PASSWORD };
    const both = await Promise.all([one, two].map(({ url }) => new Client(url).post('/api/setup', setup)));
    expect(both.map(({ status }) => status).sort()).toEqual([201, 409]);
    const owner = await signedIn(one, 'ada@example.com');
    const me = (await owner.get('/api/me')).body;
    const onTwo = new Client(two.url);
    onTwo.cookies = owner.cookies;
    expect((await onTwo.get('/api/me')).body).toEqual(me);

    const batch = firstFacts(me.firm.id, me.id, 'pg-house');
    const stored = await owner.post('/api/facts', { facts: batch });
    expect(stored.body.verdicts.every(({ verdict }: { verdict: string }) => verdict === 'accepted')).toBe(
      true,
    );
    expect((await onTwo.get('/api/due?asOf=2026-11-01')).body.rows).toHaveLength(1);

    const added = await owner.post('/api/people', {
      name: 'Tom',
      email: 'tom@example.com',
      role: 'technician',
    });
    const tom = new Client(two.url);
    await tom.signIn('tom@example.com', added.body.oneTimePassword);
    const change = { currentPassword: added.body.oneTimePassword, newPassword: PASSWORD };
    expect((await tom.post('/api/auth/change-password', change)).status).toBe(200);
    const enrolment = await tom.post('/api/auth/totp', { password: PASSWORD });
    expect((await tom.post('/api/auth/verify-totp', { code: totp(enrolment.body.totpUri) })).status).toBe(
      200,
    );
    const facts = createFacts(me.firm.id, added.body.id);
    const seen = await tom.post('/api/facts', { facts: [facts.seen('pg-house', 'pg-house-s1', 90)] });
    expect(seen.body.verdicts[0].verdict).toBe('accepted');
    expect((await owner.send('DELETE', `/api/people/${added.body.id}`)).status).toBe(204);
    expect((await tom.get('/api/me')).status).toBe(401);
    expect((await new Client(one.url).signIn('tom@example.com')).status).toBe(401);
    expect((await onTwo.get('/api/verify')).body).toMatchObject({ sound: true, facts: batch.length + 1 });
  });

  it('count tries to sign in together', async (context) => {
    if (database === undefined) return context.skip();
    const settings = {
      databaseUrl: database.url,
      secret: 'one secret for both, long enough to sign with',
      limits: { requestsPerMinute: 10_000, signIns: 6 },
    };
    const servers = await Promise.all([startTestServer(settings), startTestServer(settings)]);
    const [first] = servers;
    if (first === undefined) throw new Error('no server');
    await seedPerson(first, 'owner', { email: 'shared@example.com' });
    const statuses: number[] = [];
    for (let index = 0; index < 12; index += 1) {
      const server = servers[index % 2];
      if (server === undefined) throw new Error('no server');
      statuses.push((await new Client(server.url).signIn(`guess-${index}@example.com`)).status);
    }
    expect(statuses.filter((status) => status === 401).length).toBeLessThanOrEqual(6);
    expect(statuses.at(-1)).toBe(429);
    await Promise.all(servers.map((server) => server.end()));
  });
});
