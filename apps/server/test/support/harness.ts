import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pino } from 'pino';
import {
  type Role,
  type RunningServer,
  type StartOptions,
  seedAccount,
  startServer,
} from '../../src/index.ts';

export const PASSWORD = 'amber lantern gravel 7';

export interface TestServer extends RunningServer {
  readonly folder: string;
  readonly end: () => Promise<void>;
}

/** A server on a free port of this machine with a fresh database in a fresh folder. */
export async function startTestServer(options: Partial<StartOptions> = {}): Promise<TestServer> {
  const folder = mkdtempSync(join(tmpdir(), 'sillwatch-server-'));
  const server = await startServer({
    port: 0,
    databaseUrl: join(folder, 'ledger.db'),
    webFolder: join(folder, 'no-web'),
    log: pino({ level: 'silent' }),
    limits: { requestsPerMinute: 100_000, signIns: 1000 },
    checkAnswers: true,
    mail: null,
    ...options,
  });
  return {
    ...server,
    folder,
    end: async () => {
      await server.stop();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

export interface Answer {
  readonly status: number;
  // biome-ignore lint/suspicious/noExplicitAny: tests read answers of every shape
  readonly body: any;
  readonly text: string;
  readonly headers: Headers;
}

/** A browser as far as the server can tell: keeps cookies, sends Origin. */
export class Client {
  readonly base: string;
  cookies = new Map<string, string>();
  bearer: string | undefined;

  constructor(base: string) {
    this.base = base;
  }

  async send(
    method: string,
    path: string,
    body?: unknown,
    headers: Record<string, string> = {},
  ): Promise<Answer> {
    const isRaw = body instanceof Uint8Array;
    const answer = await fetch(this.base + path, {
      method,
      redirect: 'manual',
      headers: {
        ...(this.bearer === undefined ? { origin: this.base } : { authorization: `Bearer ${this.bearer}` }),
        ...(this.cookies.size > 0
          ? { cookie: [...this.cookies].map(([name, value]) => `${name}=${value}`).join('; ') }
          : {}),
        ...(body === undefined || isRaw ? {} : { 'content-type': 'application/json' }),
        ...headers,
      },
      ...(body === undefined ? {} : { body: isRaw ? Uint8Array.from(body) : JSON.stringify(body) }),
    });
    for (const line of answer.headers.getSetCookie()) {
      const [name = '', value = ''] = (line.split(';')[0] ?? '').split(/=(.*)/s);
      if (/max-age=0/i.test(line) || value === '') this.cookies.delete(name);
      else this.cookies.set(name, value);
    }
    const text = await answer.text();
    const isJson = /[/+]json\b/.test(answer.headers.get('content-type') ?? '');
    return {
      status: answer.status,
      text,
      headers: answer.headers,
      body: isJson ? JSON.parse(text) : undefined,
    };
  }
  get = (path: string) => this.send('GET', path);
  post = (path: string, body?: unknown) => this.send('POST', path, body);

  async signIn(email: string, password = PASSWORD): Promise<Answer> {
    return this.post('/api/auth/sign-in', { email, password });
  }
}

export const FIRM = { id: 'firm-own', name: 'Invented Timber Guard' };
export const OTHER_FIRM = { id: 'firm-other', name: 'Other Invented Firm' };

export async function seedPerson(
  server: RunningServer,
  role: Role,
  { firm = FIRM, email = '', branch = null as string | null, id = '' } = {},
): Promise<string> {
  return seedAccount(server.accounts, firm, {
    ...(id === '' ? {} : { id }),
    name: `Invented ${role}`,
    email: email === '' ? `${role}@${firm.id}.example` : email,
    role,
    branch,
    licenceNumber: null,
    certificationNumber: null,
    password: PASSWORD,
  });
}

export async function signedIn(server: RunningServer, email: string): Promise<Client> {
  const client = new Client(server.url);
  const answer = await client.signIn(email);
  if (answer.status !== 200) throw new Error(`sign-in of ${email}: ${answer.status} ${answer.text}`);
  return client;
}
