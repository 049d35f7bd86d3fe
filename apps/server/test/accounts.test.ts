import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  Client,
  FIRM,
  PASSWORD,
  seedPerson,
  signedIn,
  startTestServer,
  type TestServer,
} from './support/harness.ts';
import { codeAt, totp } from './support/totp.ts';

const OWNER = {
  firmName: 'Invented Timber Guard',
  name: 'Ada Invented',
  email: 'Ada@Example.com',
  password: PASSWORD,
};

describe('first-run set-up', () => {
  it('creates the owner and the firm once, even when asked twice at the same instant', async () => {
    const server = await startTestServer();
    const client = new Client(server.url);
    expect((await client.get('/api/setup')).body).toEqual({ needed: true, tokenNeeded: false });
    expect((await client.get('/api/me')).status).toBe(401);
    const answers = await Promise.all([1, 2, 3].map(() => new Client(server.url).post('/api/setup', OWNER)));
    expect(answers.map(({ status }) => status).sort()).toEqual([201, 409, 409]);
    expect((await client.post('/api/setup', OWNER)).body.code).toBe('already set up');
    expect((await client.signIn('ada@example.COM')).body).toEqual({ status: 'signed in', token: null });
    const me = await client.get('/api/me');
    expect(me.body).toMatchObject({ email: 'ada@example.com', role: 'owner', demo: false });
    expect((await client.get('/api/setup')).body.needed).toBe(false);
    await server.end();
  });

  it('asks for the token from the log when the server is open to the network', async () => {
    const server = await startTestServer({ host: '0.0.0.0' });
    expect(server.setupToken).toMatch(/^[\w-]{24}$/);
    const client = new Client(`http://127.0.0.1:${server.port}`);
    for (const token of [undefined, '', 'wrong']) {
      expect((await client.post('/api/setup', { ...OWNER, token })).body.code).toBe('set-up token wrong');
    }
    expect((await client.post('/api/setup', { ...OWNER, token: server.setupToken })).status).toBe(201);
    await server.end();
  });

  it('refuses weak passwords with the reason', async () => {
    const server = await startTestServer();
    const client = new Client(server.url);
    for (const password of ['short', 'aaaaaaaaaaaaaaaa', 'ada@example.com', 'x'.repeat(129)]) {
      expect((await client.post('/api/setup', { ...OWNER, password })).body.code).toBe('password too weak');
    }
    await server.end();
  });
});

describe('sign-in and sessions', () => {
  let server: TestServer;
  beforeAll(async () => {
    server = await startTestServer();
    for (const role of ['owner', 'lead', 'technician', 'inspector'] as const) await seedPerson(server, role);
  });
  afterAll(() => server.end());

  it('tells the same for an unknown address and a wrong password', async () => {
    const client = new Client(server.url);
    const unknown = await client.signIn('nobody@example.com');
    const wrong = await client.signIn(`owner@${FIRM.id}.example`, 'not the password');
    expect([unknown.status, wrong.status]).toEqual([401, 401]);
    expect({ ...unknown.body, instance: '' }).toEqual({ ...wrong.body, instance: '' });
  });

  it('has no way to sign up and none into the library beyond the named addresses', async () => {
    const client = await signedIn(server, `technician@${FIRM.id}.example`);
    for (const path of [
      '/api/auth/sign-up/email',
      '/api/auth/organization/create',
      '/api/auth/organization/update-member-role',
      '/api/auth/update-user',
      '/api/auth/sign-in/email',
    ]) {
      expect(
        (await client.post(path, { email: 'x@example.com', password: PASSWORD, name: 'x' })).status,
        path,
      ).toBe(404);
    }
  });

  it('marks cookies HttpOnly and SameSite=Lax, and takes writes from its own pages only', async () => {
    const client = new Client(server.url);
    const answer = await client.signIn(`owner@${FIRM.id}.example`);
    const cookie = answer.headers.getSetCookie().find((line) => line.includes('session_token'));
    expect(cookie).toMatch(/HttpOnly/i);
    expect(cookie).toMatch(/SameSite=Lax/i);
    for (const headers of [{ origin: 'https://elsewhere.example' }, { origin: 'null' }]) {
      const refused = await client.send('POST', '/api/auth/sign-out', undefined, headers);
      expect(refused.body.code).toBe('other origin');
    }
    expect((await client.get('/api/me')).status).toBe(200);
  });

  it('answers on loopback under loopback names only', async () => {
    const { request } = await import('node:http');
    const status = await new Promise<number>((resolve, reject) => {
      request(`${server.url}/api/setup`, { headers: { host: 'rebound.example' } }, (answer) => {
        answer.resume();
        resolve(answer.statusCode ?? 0);
      })
        .on('error', reject)
        .end();
    });
    expect(status).toBe(403);
  });

  it('gives programs a bearer token, which stops with sign-out', async () => {
    const client = new Client(server.url);
    const { body } = await client.post('/api/auth/sign-in', {
      email: `owner@${FIRM.id}.example`,
      password: PASSWORD,
      wantToken: true,
    });
    const program = new Client(server.url);
    program.bearer = body.token;
    expect((await program.get('/api/me')).body.role).toBe('owner');
    program.bearer = `${String(body.token).slice(0, -4)}AAA=`;
    expect((await program.get('/api/me')).status).toBe(401);
    program.bearer = body.token;
    expect((await program.post('/api/auth/sign-out')).status).toBe(204);
    expect((await program.get('/api/me')).status).toBe(401);
  });

  it('adds a person with a one-time password that must be replaced first', async () => {
    const owner = await signedIn(server, `owner@${FIRM.id}.example`);
    const added = await owner.post('/api/people', {
      name: 'Tom Invented',
      email: 'tom@example.com',
      role: 'technician',
      licenceNumber: 'INV-1',
    });
    expect(added.status).toBe(201);
    expect(added.body.oneTimePassword).toMatch(/^([a-z2-9]{4}-){3}[a-z2-9]{4}$/);
    const tom = new Client(server.url);
    await tom.signIn('tom@example.com', added.body.oneTimePassword);
    expect((await tom.get('/api/me')).body).toMatchObject({
      mustChangePassword: true,
      licenceNumber: 'INV-1',
    });
    expect((await tom.get('/api/people')).body.code).toBe('password must be changed');
    const change = { currentPassword: added.body.oneTimePassword, newPassword: 'another long password 9' };
    expect(
      (await tom.post('/api/auth/change-password', { ...change, currentPassword: 'wrong' })).status,
    ).toBe(401);
    expect((await tom.post('/api/auth/change-password', change)).status).toBe(200);
    expect((await tom.get('/api/people')).status).toBe(200);
    expect((await tom.get('/api/me')).body.mustChangePassword).toBe(false);
    expect((await new Client(server.url).signIn('tom@example.com', added.body.oneTimePassword)).status).toBe(
      401,
    );
  });

  it('lets one of two who add the same address at once through', async () => {
    const owner = await signedIn(server, `owner@${FIRM.id}.example`);
    const person = { name: 'Twin Invented', email: 'twin@example.com', role: 'inspector' };
    const answers = await Promise.all([1, 2, 3].map(() => owner.post('/api/people', person)));
    expect(answers.map(({ status }) => status).sort()).toEqual([201, 409, 409]);
  });

  it('a lead appoints technicians and inspectors only, and nobody appoints themselves higher', async () => {
    const lead = await signedIn(server, `lead@${FIRM.id}.example`);
    const person = { name: 'New Invented', email: 'new@example.com' };
    expect((await lead.post('/api/people', { ...person, role: 'owner' })).body.code).toBe('not allowed');
    expect((await lead.post('/api/people', { ...person, role: 'inspector' })).status).toBe(201);
    const me = (await lead.get('/api/me')).body.id;
    expect((await lead.send('PATCH', `/api/people/${me}`, { role: 'owner' })).body.code).toBe('not allowed');
    const owner = await signedIn(server, `owner@${FIRM.id}.example`);
    const ownerId = (await owner.get('/api/me')).body.id;
    expect((await lead.send('DELETE', `/api/people/${ownerId}`)).body.code).toBe('not allowed');
    expect((await owner.send('DELETE', `/api/people/${ownerId}`)).body.code).toBe('last owner');
    expect((await owner.send('PATCH', `/api/people/${ownerId}`, { role: 'lead' })).body.code).toBe(
      'last owner',
    );
  });

  it('a change of role acts on the next request', async () => {
    const owner = await signedIn(server, `owner@${FIRM.id}.example`);
    const id = await seedPerson(server, 'lead', { email: 'shrinking@example.com' });
    const lead = await signedIn(server, 'shrinking@example.com');
    expect((await owner.send('PATCH', `/api/people/${id}`, { role: 'inspector' })).status).toBe(200);
    expect((await lead.post('/api/people', {})).body.code).toBe('not allowed');
  });

  it('a former person is out at once: cookie, token, password, half-finished second factor', async () => {
    const owner = await signedIn(server, `owner@${FIRM.id}.example`);
    const id = await seedPerson(server, 'technician', { email: 'leaver@example.com' });
    const byCookie = await signedIn(server, 'leaver@example.com');
    const { uri } = await enrol(byCookie);
    const halfway = new Client(server.url);
    expect((await halfway.signIn('leaver@example.com')).body.status).toBe('code needed');
    expect((await byCookie.get('/api/me')).status).toBe(200);
    expect((await owner.send('DELETE', `/api/people/${id}`)).status).toBe(204);
    expect((await byCookie.get('/api/me')).status).toBe(401);
    expect((await halfway.post('/api/auth/verify-totp', { code: totp(uri) })).status).toBe(401);
    expect((await halfway.get('/api/me')).status).toBe(401);
    expect((await new Client(server.url).signIn('leaver@example.com')).status).toBe(401);
    const people = (await owner.get('/api/people')).body.people;
    expect(people.find((one: { id: string }) => one.id === id).removedAt).toMatch(/^\d{4}-/);
    expect((await owner.send('DELETE', `/api/people/${id}`)).status).toBe(404);

    // The same person comes back under the same id, with a new password.
    const back = await owner.post('/api/people', {
      name: 'Back',
      email: 'leaver@example.com',
      role: 'technician',
    });
    expect(back.body.id).toBe(id);
    expect((await byCookie.get('/api/me')).status).toBe(401);
    expect(
      (await new Client(server.url).signIn('leaver@example.com', back.body.oneTimePassword)).status,
    ).toBe(200);
  });
});

describe('the second factor', () => {
  it('is enrolled, asked for at sign-in, replaceable by a backup code, and can be switched off', async () => {
    const server = await startTestServer();
    await seedPerson(server, 'owner', { email: 'two@example.com' });
    const client = await signedIn(server, 'two@example.com');
    expect((await client.post('/api/auth/totp', { password: 'wrong' })).status).toBe(401);
    const { uri, backupCodes } = await enrol(client);
    expect((await client.get('/api/me')).body.twoFactor).toBe(true);

    const second = new Client(server.url);
    expect((await second.signIn('two@example.com')).body.status).toBe('code needed');
    expect((await second.get('/api/me')).status).toBe(401);
    expect((await second.post('/api/auth/verify-totp', { code: '000000' })).body.code).toBe('code refused');
    expect((await second.post('/api/auth/verify-totp', { code: totp(uri) })).body.status).toBe('signed in');
    expect((await second.get('/api/me')).status).toBe(200);

    const third = new Client(server.url);
    await third.signIn('two@example.com');
    expect((await third.post('/api/auth/verify-backup-code', { code: backupCodes[0] })).status).toBe(200);
    const fourth = new Client(server.url);
    await fourth.signIn('two@example.com');
    expect((await fourth.post('/api/auth/verify-backup-code', { code: backupCodes[0] })).status).toBe(401);

    expect((await second.post('/api/auth/totp-off', { password: PASSWORD })).status).toBe(204);
    expect((await new Client(server.url).signIn('two@example.com')).body.status).toBe('signed in');
    await server.end();
  });

  it('counts time steps as RFC 6238, appendix B, does', () => {
    const seed = Buffer.from('12345678901234567890');
    expect(codeAt(seed, Math.floor(59 / 30), 8)).toBe('94287082');
    expect(codeAt(seed, Math.floor(1_111_111_109 / 30), 8)).toBe('07081804');
  });
});

describe('rate limits', () => {
  it('stop guessing at one account and hammering from one address', async () => {
    const server = await startTestServer({ limits: { requestsPerMinute: 100, signIns: 5 } });
    await seedPerson(server, 'owner', { email: 'guessed@example.com' });
    const statuses: number[] = [];
    for (let index = 0; index < 8; index += 1) {
      statuses.push((await new Client(server.url).signIn('guessed@example.com', `wrong ${index}`)).status);
    }
    expect(statuses).toEqual([401, 401, 401, 401, 401, 429, 429, 429]);
    const refused = await new Client(server.url).signIn('guessed@example.com');
    expect(refused.status).toBe(429);
    expect(Number(refused.headers.get('retry-after'))).toBeGreaterThan(0);
    const client = new Client(server.url);
    let last = 200;
    for (let index = 0; index < 110; index += 1) last = (await client.get('/api/setup')).status;
    expect(last).toBe(429);
    await server.end();
  });
});

async function enrol(
  client: Client,
): Promise<{ readonly uri: string; readonly backupCodes: readonly string[] }> {
  const answer = await client.post('/api/auth/totp', { password: PASSWORD });
  expect(answer.status).toBe(201);
  expect(answer.body.totpUri).toMatch(/^otpauth:\/\/totp\//);
  const verified = await client.post('/api/auth/verify-totp', { code: totp(answer.body.totpUri) });
  expect(verified.status).toBe(200);
  return { uri: answer.body.totpUri, backupCodes: answer.body.backupCodes };
}
