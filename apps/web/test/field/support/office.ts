import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Ledger, openLedger } from '@sillwatch/ledger';
import {
  type Accounts,
  type AppSettings,
  createBooks,
  createIdMaker,
  createServer,
  openAccounts,
  openPhotoStore,
  type Person,
  type PhotoStore,
} from '@sillwatch/server';
import { pino } from 'pino';

export const FIRM = 'firm-faulty';

/** Parts of the server that no phone asks for (mail, plans and what is to come) are an error if one does. */
function withTheRestUnasked(known: Partial<AppSettings>): AppSettings {
  const unasked = new Proxy(Object.create(null), {
    get: () => () => {
      throw new Error('no phone asks for this part of the server');
    },
  });
  const settings = new Proxy(known, {
    get: (target, key) => (key in target ? Reflect.get(target, key) : unasked),
  });
  return settings as AppSettings;
}

/** The real HTTP application over a real ledger in this process; it can be stopped and started on the same files. */
export interface Office {
  ledger(): Ledger;
  /** Answers as if this person were signed in; null = nobody is. Throws when the server is down or goes down meanwhile. */
  fetch(who: Person | null, path: string, init: RequestInit): Promise<Response>;
  /** Cuts what is under way and opens everything anew. */
  restart(): Promise<void>;
  readonly accounts: Accounts;
  end(): Promise<void>;
}

/** `stored`: SQLite files, so that a restart reads back what was kept; otherwise memory, where a restart only cuts. */
export async function openOffice(stored: boolean): Promise<Office> {
  const folder = mkdtempSync(join(tmpdir(), 'sillwatch-office-'));
  const url = stored ? join(folder, 'ledger.db') : ':memory:';
  const accounts = await openAccounts({
    databaseUrl: ':memory:',
    secret: 'a secret of a test, long enough to sign with',
    secureCookies: false,
    signInsPerMinute: 1000,
    newId: createIdMaker(Date.now),
    now: Date.now,
  });
  let ledger = await openLedger({ url });
  let photos: PhotoStore = await openPhotoStore(url, Date.now);
  let run = 0;
  let restarting = Promise.resolve();
  const appOf = (who: Person | null) =>
    createServer(
      withTheRestUnasked({
        ledger,
        books: createBooks(ledger, Date.now),
        photos,
        accounts,
        deps: { now: Date.now, newId: createIdMaker(Date.now), log: pino({ level: 'silent' }) },
        limits: { requestsPerMinute: 1_000_000, signIns: 1000 },
        setupToken: null,
        demo: false,
        checkAnswers: true,
        publicOrigin: undefined,
        // Asked in this process, without a Host header.
        isLoopback: false,
        behindProxy: false,
        webFolder: join(folder, 'no-web'),
        openAs: async () => who ?? undefined,
        isDraining: () => false,
      }),
    );
  let apps = new Map<string, ReturnType<typeof appOf>>();
  return {
    ledger: () => ledger,
    accounts,
    async fetch(who, path, init) {
      const startedIn = run;
      const key = who?.id ?? '';
      const app = apps.get(key) ?? appOf(who);
      apps.set(key, app);
      const answer = await app.request(`http://localhost${path}`, init);
      if (run !== startedIn) throw new TypeError('the server was restarted under the request');
      return answer;
    },
    restart() {
      restarting = restarting.then(async () => {
        run += 1;
        if (stored) {
          await ledger.close();
          await photos.close();
          ledger = await openLedger({ url });
          photos = await openPhotoStore(url, Date.now);
        }
        // Last, so that no application is left that was made of what has been closed.
        apps = new Map();
      });
      return restarting;
    },
    async end() {
      await ledger.close();
      await photos.close();
      await accounts.close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

export function personOf(id: string, role: Person['role'] = 'technician', firm = FIRM): Person {
  return {
    id,
    name: `Invented ${id}`,
    email: `${id}@example.com`,
    firm,
    firmName: 'Invented Timber Guard',
    role,
    branch: null,
    licenceNumber: 'INV-1',
    certificationNumber: null,
    twoFactor: false,
    mustChangePassword: false,
  };
}
