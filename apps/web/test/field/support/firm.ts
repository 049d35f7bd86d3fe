import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Ledger } from '@sillwatch/ledger';
import { type RunningServer, seedAccount, startServer } from '@sillwatch/server';
import { pino } from 'pino';
import { yardFacts } from './yard.ts';

export const EMAIL = 'ana@example.com';
export const PASSWORD = 'amber lantern gravel 7';
const FIRM = { id: 'firm-offline', name: 'Invented Timber Guard' };

/** Checks are long due, and no yearly service yet, whenever the tests run. */
const SET_DAYS_AGO = 320;

/** A firm with one technician and one property of 24 stations on a real server that can be stopped and started again. */
export interface Firm {
  readonly url: string;
  readonly firm: string;
  readonly person: string;
  /** Another technician of the firm, with the same password; gives the person's id. */
  addPerson(name: string, email: string): Promise<string>;
  ledger(): Ledger;
  stop(): Promise<void>;
  start(): Promise<void>;
  end(): Promise<void>;
}

export async function startFirm(webFolder: string): Promise<Firm> {
  const folder = mkdtempSync(join(tmpdir(), 'sillwatch-firm-'));
  const databaseUrl = join(folder, 'ledger.db');
  const open = (port: number): Promise<RunningServer> =>
    startServer({
      port,
      databaseUrl,
      webFolder,
      log: pino({ level: 'silent' }),
      limits: { requestsPerMinute: 100_000, signIns: 1000 },
    });
  let server: RunningServer | undefined = await open(0);
  const { port, url } = server;
  const addPerson = (name: string, email: string): Promise<string> => {
    if (server === undefined) throw new Error('the server is stopped');
    return seedAccount(server.accounts, FIRM, {
      name,
      email,
      role: 'technician',
      branch: null,
      licenceNumber: 'INV-1',
      certificationNumber: null,
      password: PASSWORD,
    });
  };
  const person = await addPerson('Ana (invented)', EMAIL);
  const start = Date.now() - SET_DAYS_AGO * 86_400_000;
  await server.ledger.append(FIRM.id, yardFacts(FIRM.id, 'owner', start), new Date().toISOString());
  const stop = async (): Promise<void> => {
    await server?.stop();
    server = undefined;
  };
  return {
    url,
    firm: FIRM.id,
    person,
    addPerson,
    ledger: () => {
      if (server === undefined) throw new Error('the server is stopped');
      return server.ledger;
    },
    stop,
    async start() {
      server ??= await open(port);
    },
    async end() {
      await stop();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}
