import { randomBytes } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import type { Server } from 'node:http';
import { dirname, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { serve } from '@hono/node-server';
import { openLedger, parseLedgerUrl, type StoredLedger } from '@sillwatch/ledger';
import { type Logger, pino } from 'pino';
import { type Accounts, openAccounts } from './accounts/accounts.ts';
import { createServer } from './app.ts';
import { DEFAULT_LIMITS, type Limits } from './http/context.ts';
import { isLoopbackHost } from './http/security.ts';
import { createIdMaker } from './ids.ts';
import { openLinkUses } from './links/linkUses.ts';
import { type Mail, type MailPace, openMail } from './mail/mail.ts';
import { type MailSettings, readMailSettings } from './mail/settings.ts';
import { openPhotoStore } from './photos/photoStore.ts';
import { openPlanDepot } from './plans/planDepot.ts';
import { createPress, type PressLimits } from './press/press.ts';
import { createReckoner } from './reckon/reckoner.ts';
import { readTravelSettings, type TravelSettings } from './travel/settings.ts';
import { createBooks } from './work/book.ts';

export interface StartOptions {
  /** default 127.0.0.1; anything but loopback asks for a set-up token and should stand behind TLS */
  readonly host?: string;
  /** default 4180; 0 = any free one */
  readonly port?: number;
  /** a file path or `postgres://...` */
  readonly databaseUrl: string;
  /** where the generated secret is kept; default: beside the database file, or the working directory */
  readonly dataFolder?: string;
  /** 32 characters or more; default: the setting ACCOUNT_SECRET, else made on first start and kept in `dataFolder` */
  readonly secret?: string;
  /** `https://stations.example.com` when a proxy stands in front */
  readonly publicUrl?: string;
  /** one proxy in front writes X-Forwarded-For */
  readonly behindProxy?: boolean;
  readonly webFolder?: string;
  /**
   * Demo: whoever opens the page on this machine is signed in as this account (made by `seedAccount`).
   * Refuses any host but loopback.
   */
  readonly openAs?: string;
  readonly limits?: Limits;
  readonly log?: Logger;
  /** Already open ones are used and closed with the server. */
  readonly ledger?: StoredLedger;
  readonly accounts?: Accounts;
  readonly checkAnswers?: boolean;
  /** How e-mail leaves; default: the settings MAIL_HOST and so on. null = not at all. */
  readonly mail?: MailSettings | null;
  readonly mailPace?: Partial<MailPace>;
  /** default: the settings TRAVEL_SERVICE_URL or TRAVEL_ROADS, else great circle */
  readonly travel?: TravelSettings;
  /** How many papers are drawn at a time, and how large; default: two threads at least, one a core but one. */
  readonly press?: PressLimits;
  /** threads of one plan's search; default: one a core */
  readonly planThreads?: number;
}

export interface RunningServer {
  readonly url: string;
  readonly port: number;
  readonly ledger: StoredLedger;
  readonly accounts: Accounts;
  readonly mail: Mail;
  /** null when on loopback, or once an account exists */
  readonly setupToken: string | null;
  /** Takes no new work, finishes what was begun (10 s at most), closes the databases. Safe to call twice. */
  stop(): Promise<void>;
}

const DRAIN_MILLISECONDS = 10_000;
const WEB_FOLDER = fileURLToPath(new URL('../../web/dist', import.meta.url));

/** Opens the databases and serves until `stop`. Throws when a setting is unsafe, the database unusable or the port taken. */
export async function startServer(options: StartOptions): Promise<RunningServer> {
  const host = options.host ?? '127.0.0.1';
  const isLoopback = isLoopbackHost(host);
  if (options.openAs !== undefined && !isLoopback) {
    throw new RangeError(
      `the open demo would sign in anybody who reaches ${host}; use --host 127.0.0.1, or serve with accounts`,
    );
  }
  const publicOrigin = options.publicUrl === undefined ? undefined : new URL(options.publicUrl).origin;
  const log = options.log ?? pino({ base: null, timestamp: pino.stdTimeFunctions.isoTime });
  const ledger = options.ledger ?? (await openLedger({ url: options.databaseUrl }));
  const accounts = options.accounts ?? (await openServerAccounts(options));
  const photos = await openPhotoStore(options.databaseUrl, Date.now);
  const newId = createIdMaker(Date.now);
  const mail = await openMail({
    databaseUrl: options.databaseUrl,
    settings: options.mail === undefined ? readMailSettings(process.env) : (options.mail ?? undefined),
    ledger,
    now: Date.now,
    newId,
    log,
    ...(options.mailPace === undefined ? {} : { pace: options.mailPace }),
  });
  const linkUses = await openLinkUses(options.databaseUrl);
  const deps = { now: Date.now, newId, log };
  const reckoner = createReckoner(ledger);
  const press = createPress(options.press);
  const plans = await openPlanDepot({
    databaseUrl: options.databaseUrl,
    ledger,
    deps,
    travel: options.travel ?? readTravelSettings(process.env),
    ...(options.planThreads === undefined ? {} : { threads: options.planThreads }),
  });
  const setupToken =
    isLoopback || (await accounts.hasAnyAccount()) ? null : randomBytes(18).toString('base64url');

  let draining = false;
  const { openAs } = options;
  const app = createServer({
    ledger,
    books: createBooks(ledger, Date.now),
    accounts,
    photos,
    plans,
    reckoner,
    press,
    deps,
    limits: options.limits ?? DEFAULT_LIMITS,
    setupToken,
    demo: openAs !== undefined,
    checkAnswers: options.checkAnswers ?? false,
    publicOrigin,
    // Behind a proxy on the same machine the Host header is the public name.
    isLoopback: isLoopback && publicOrigin === undefined,
    behindProxy: options.behindProxy ?? false,
    webFolder: options.webFolder ?? WEB_FOLDER,
    openAs: openAs === undefined ? undefined : () => accounts.findPerson(openAs),
    isDraining: () => draining,
    mail,
    linkUses,
  });
  const { server, port } = await listen(app.fetch, host, options.port ?? 4180);
  const url = `http://${nameOf(host)}:${port}`;
  log.info({ url, demo: openAs !== undefined }, 'listening');
  if (setupToken !== null) {
    log.warn(
      { setupToken, open: `${publicOrigin ?? url}/#${setupToken}` },
      'first-run set-up needs this token, once, because this server is open to the network',
    );
  }

  let stopped: Promise<void> | undefined;
  const stop = async (): Promise<void> => {
    draining = true;
    log.info('stopping: no new connections, finishing what was begun');
    plans.end();
    await Promise.all([reckoner.close(), press.close()]);
    await drain(server);
    await plans.close();
    await mail.stop();
    await linkUses.close();
    await ledger.close();
    await accounts.close();
    await photos.close();
    log.info('stopped');
  };
  return {
    url,
    port,
    ledger,
    accounts,
    mail,
    setupToken,
    stop: () => {
      stopped ??= stop();
      return stopped;
    },
  };
}

/** Opens the account store of a server's settings without serving: for seeding from a command. */
export function openServerAccounts(
  options: Pick<StartOptions, 'databaseUrl' | 'dataFolder' | 'secret' | 'publicUrl' | 'limits'>,
): Promise<Accounts> {
  return openAccounts({
    databaseUrl: options.databaseUrl,
    secret: options.secret ?? process.env['ACCOUNT_SECRET'] ?? getOrCreateSecret(options),
    secureCookies: options.publicUrl?.startsWith('https:') ?? false,
    signInsPerMinute: (options.limits ?? DEFAULT_LIMITS).signIns,
    newId: createIdMaker(Date.now),
    now: Date.now,
  });
}

/** Stops the server on SIGTERM or SIGINT and then ends the process; a second signal ends it at once. */
export function stopOnSignals(server: RunningServer): void {
  let isStopping = false;
  for (const signal of ['SIGTERM', 'SIGINT'] as const) {
    process.on(signal, () => {
      if (isStopping) process.exit(1);
      isStopping = true;
      server.stop().then(
        () => process.exit(0),
        () => process.exit(1),
      );
    });
  }
}

function listen(
  fetch: Parameters<typeof serve>[0]['fetch'],
  host: string,
  port: number,
): Promise<{ readonly server: Server; readonly port: number }> {
  return new Promise((resolveListening, reject) => {
    const server = serve({ fetch, hostname: host, port }, (info) => {
      server.off('error', reject);
      resolveListening({ server: server as Server, port: info.port });
    });
    server.on('error', reject);
  });
}

/** How this machine itself reaches the address that was bound. */
function nameOf(host: string): string {
  if (host === '0.0.0.0' || host === '::') return 'localhost';
  return host.includes(':') ? `[${host}]` : host;
}

/** Waits for open requests; idle connections are closed at once, the rest when the time is over. */
async function drain(server: Server): Promise<void> {
  const closed = new Promise<void>((resolveClosed) => server.close(() => resolveClosed()));
  server.closeIdleConnections();
  const idle = setInterval(() => server.closeIdleConnections(), 100);
  const force = setTimeout(() => server.closeAllConnections(), DRAIN_MILLISECONDS);
  await closed;
  clearInterval(idle);
  clearTimeout(force);
}

/** The secret file: 32 random bytes, readable by its owner only. Whoever holds it can forge sessions. */
function getOrCreateSecret({
  databaseUrl,
  dataFolder,
}: Pick<StartOptions, 'databaseUrl' | 'dataFolder'>): string {
  const target = parseLedgerUrl(databaseUrl);
  if (target.kind === 'memory' && dataFolder === undefined) return randomBytes(32).toString('base64url');
  const folder = dataFolder ?? (target.kind === 'sqlite' ? dirname(resolve(target.path)) : process.cwd());
  const file = join(folder, 'account-secret');
  if (existsSync(file)) return readFileSync(file, 'utf8').trim();
  mkdirSync(folder, { recursive: true });
  const secret = randomBytes(32).toString('base64url');
  // `wx`: of two processes that start together, the second reads what the first wrote.
  try {
    writeFileSync(file, `${secret}\n`, { mode: 0o600, flag: 'wx' });
  } catch {
    return readFileSync(file, 'utf8').trim();
  }
  return secret;
}
