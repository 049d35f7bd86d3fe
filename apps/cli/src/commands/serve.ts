import { spawn } from 'node:child_process';
import { mkdirSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { DEMO_PEOPLE, generateDemo } from '@sillwatch/demo';
import { openLedger } from '@sillwatch/ledger';
import { openServerAccounts, seedAccount, startServer, stopOnSignals } from '@sillwatch/server';
import { dayToText } from '@sillwatch/trade/units';
import { type CommonOptions, dayOrToday, ledgerUrl } from '../context.ts';
import { CommandError, createProgress, EXIT, type Io } from '../io.ts';

export interface ServeOptions extends CommonOptions {
  readonly port: string;
  readonly host: string;
}

/** `sillwatch serve`: runs until it is told to stop. */
export async function runServe(io: Io, options: ServeOptions): Promise<number> {
  const server = await listening(options.port, () =>
    startServer({
      host: options.host,
      port: readPort(options.port),
      databaseUrl: ledgerUrl(io, options.data),
      dataFolder: makeFolder(options.data),
      behindProxy: io.env['BEHIND_PROXY'] === 'true',
      ...(io.env['PUBLIC_URL'] === undefined ? {} : { publicUrl: io.env['PUBLIC_URL'] }),
    }),
  );
  stopOnSignals(server);
  io.err(`Sillwatch answers at ${server.url} (data: ${resolve(options.data)}). Stop it with Ctrl-C.\n`);
  if (server.setupToken !== null)
    io.err(`The first page asks for this set-up token, once: ${server.setupToken}\n`);
  await new Promise(() => undefined);
  return EXIT.ok;
}

export interface DemoOptions extends CommonOptions {
  readonly port: string;
  readonly seed: string;
  readonly properties: string;
  readonly open: boolean;
}

/** Known to everybody, and therefore good for the invented firm on this machine only. */
const DEMO_PASSWORD = 'invented-firm-only';

/** `sillwatch demo`: fills an empty ledger with the invented firm, serves it on loopback, signed in as its owner. */
export async function runDemo(io: Io, options: DemoOptions): Promise<number> {
  const folder = options.data === '.data' ? join(options.data, 'demo') : options.data;
  makeFolder(folder);
  const databaseUrl = join(resolve(folder), 'sillwatch.db');
  await fillDemo(io, databaseUrl, folder, options);
  const server = await listening(options.port, () =>
    startServer({
      host: '127.0.0.1',
      port: readPort(options.port),
      databaseUrl,
      dataFolder: folder,
      openAs: 'person-owner',
    }),
  );
  stopOnSignals(server);
  io.err(
    `\nThe invented firm is at ${server.url}\n` +
      `It opens signed in as its owner and answers on this machine only. Its ledger: --data ${folder}\n` +
      `Other people of the firm sign in with the password ${DEMO_PASSWORD}: ${DEMO_PEOPLE.map((person) => person.email).join(', ')}\n` +
      'Stop it with Ctrl-C.\n',
  );
  if (options.open && io.isTerminal) openBrowser(server.url);
  await new Promise(() => undefined);
  return EXIT.ok;
}

const BATCH = 2_000;

async function fillDemo(io: Io, databaseUrl: string, folder: string, options: DemoOptions): Promise<void> {
  const ledger = await openLedger({ url: databaseUrl });
  try {
    const firms = await ledger.listFirms();
    if (firms.length > 0) {
      if (firms.length === 1 && firms[0] === 'firm-demo') return;
      throw new CommandError(
        EXIT.found,
        `${folder} holds a real firm's ledger`,
        'The demo writes into an empty folder only; name another with --data.',
      );
    }
    const today = dayOrToday(io, undefined, 'America/New_York');
    io.err(`Making an invented firm with three years of records up to ${dayToText(today)}…\n`);
    const demo = generateDemo({
      seed: readNumber('--seed', options.seed),
      today,
      properties: readNumber('--properties', options.properties),
    });
    const progress = createProgress(io, 'entries');
    const receivedAt = Temporal.Instant.fromEpochMilliseconds(io.now()).toString();
    for (let from = 0; from < demo.facts.length; from += BATCH) {
      const verdicts = await ledger.append(demo.firm.id, demo.facts.slice(from, from + BATCH), receivedAt);
      const refused = verdicts.find((verdict) => verdict.verdict === 'refused');
      if (refused?.verdict === 'refused')
        throw new Error(`the demo made a fact that the ledger refuses: ${refused.code}: ${refused.detail}`);
      progress.step(Math.min(from + BATCH, demo.facts.length), demo.facts.length);
    }
    progress.end();
    const accounts = await openServerAccounts({ databaseUrl, dataFolder: folder });
    for (const person of demo.people) {
      await seedAccount(accounts, demo.firm, {
        ...person,
        licenceNumber: person.certificationNumber,
        password: DEMO_PASSWORD,
      });
    }
    await accounts.close();
  } finally {
    await ledger.close();
  }
}

function makeFolder(folder: string): string {
  mkdirSync(resolve(folder), { recursive: true });
  return resolve(folder);
}

async function listening<T>(port: string, start: () => Promise<T>): Promise<T> {
  try {
    return await start();
  } catch (error) {
    if (error instanceof RangeError)
      throw new CommandError(EXIT.usage, error.message, 'Change the setting that is named.');
    if (error instanceof Error && 'code' in error && error.code === 'EADDRINUSE') {
      throw new CommandError(
        EXIT.found,
        `port ${port} is taken`,
        'Stop what uses it, or give another with --port (0 takes any free one).',
      );
    }
    throw error;
  }
}

function readPort(text: string): number {
  const port = readNumber('--port', text);
  if (port <= 65_535) return port;
  throw new CommandError(EXIT.usage, `--port ${text} is no port`, 'Give a number from 0 to 65535.');
}

function readNumber(option: string, text: string): number {
  const value = Number(text);
  if (Number.isInteger(value) && value >= 0) return value;
  throw new CommandError(
    EXIT.usage,
    `${option} ${JSON.stringify(text)} is not a whole number`,
    'Give a whole number, 0 or more.',
  );
}

/** Opens the page if the desktop can; that it cannot is no failure. */
function openBrowser(url: string): void {
  const opener =
    process.platform === 'darwin' ? 'open' : process.platform === 'win32' ? 'explorer' : 'xdg-open';
  const child = spawn(opener, [url], { stdio: 'ignore', detached: true });
  child.on('error', () => undefined);
  child.unref();
}
