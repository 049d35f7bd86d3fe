import { OpenAPIHono } from '@hono/zod-openapi';
import type { Context } from 'hono';
import { compress } from 'hono/compress';
import type { Env, Person, Services } from './http/context.ts';
import { createRateLimiter } from './http/limits.ts';
import { readPeer } from './http/peer.ts';
import { Problem, problemResponse } from './http/problems.ts';
import type { App } from './http/route.ts';
import { checkHost, checkOrigin, setSecurityHeaders } from './http/security.ts';
import { openStaticSite } from './http/static.ts';
import type { LinkUses } from './links/linkUses.ts';
import { withoutSecret } from './links/secret.ts';
import type { Mail } from './mail/mail.ts';
import type { PlanDepot } from './plans/planDepot.ts';
import type { Reckoner } from './reckon/reckoner.ts';
import { addAuthRoutes } from './routes/auth.ts';
import { addDueRoutes } from './routes/due.ts';
import { addFactRoutes } from './routes/facts.ts';
import { addFigureRoutes } from './routes/figures.ts';
import { addFirmRoutes } from './routes/firm.ts';
import { addImportRoutes } from './routes/imports.ts';
import { addLinkRoutes } from './routes/links.ts';
import { addLoadRoutes } from './routes/load.ts';
import { addMailRoutes } from './routes/mail.ts';
import { addOfficeRoutes } from './routes/office.ts';
import { addPaperRoutes } from './routes/papers.ts';
import { addPeopleRoutes } from './routes/people.ts';
import { addPhotoRoutes } from './routes/photos.ts';
import { addPlanRoutes } from './routes/plans.ts';
import { addPropertyRoutes } from './routes/properties.ts';
import { addReportRoutes } from './routes/reports.ts';
import { addRingRoutes } from './routes/ring.ts';
import { addRoundRoutes } from './routes/rounds.ts';
import { addStepRoutes } from './routes/steps.ts';
import { addSyncRoutes } from './routes/sync.ts';
import { createRoundShelf } from './work/rounds.ts';

export interface AppSettings extends Services {
  readonly plans: PlanDepot;
  readonly reckoner: Reckoner;
  /** `https://stations.example.com`; undefined = the address asked for is the address served */
  readonly publicOrigin: string | undefined;
  readonly isLoopback: boolean;
  readonly behindProxy: boolean;
  readonly webFolder: string;
  /** Demo only: who an anonymous caller on this machine is taken for. */
  readonly openAs: (() => Promise<Person | undefined>) | undefined;
  readonly isDraining: () => boolean;
  readonly mail: Mail;
  readonly linkUses: LinkUses;
}

/** The whole HTTP application; knows no port and no signal (see start.ts). */
export function createServer(settings: AppSettings): App {
  const app: App = new OpenAPIHono<Env>();
  const rounds = createRoundShelf(settings.ledger, settings.deps.now);
  addEdge(app, settings);
  addServerRoutes(app, settings);
  addAuthRoutes(app, settings);
  addPeopleRoutes(app, settings);
  addFigureRoutes(app, settings);
  addLoadRoutes(app, settings);
  addFirmRoutes(app, settings);
  addOfficeRoutes(app, settings);
  addDueRoutes(app, settings);
  addPropertyRoutes(app, settings);
  addStepRoutes(app, settings);
  addFactRoutes(app, settings);
  addSyncRoutes(app, settings);
  addPhotoRoutes(app, settings);
  addReportRoutes(app, settings);
  addRingRoutes(app, settings);
  addPlanRoutes(app, settings);
  addRoundRoutes(app, settings, rounds);
  addImportRoutes(app, settings);
  addLinkRoutes(app, settings, rounds);
  addPaperRoutes(app, settings, rounds);
  addMailRoutes(app, settings);
  addDocument(app);
  addStaticSite(app, settings);
  return app;
}

/** Around every request: id, headers, host and origin, person, rate, log, problems. */
function addEdge(app: App, settings: AppSettings): void {
  const { deps, accounts, limits } = settings;
  const log = deps.log;
  const limiter = createRateLimiter(limits.requestsPerMinute, 60_000, deps.now);
  const isHttps = settings.publicOrigin?.startsWith('https:') ?? false;

  app.use(async (context, next) => {
    const startedAt = deps.now();
    const requestId = deps.newId();
    context.set('requestId', requestId);
    context.set('peer', readPeer(context, settings.behindProxy));
    await next();
    context.res.headers.set('x-request-id', requestId);
    setSecurityHeaders(context.res.headers, isHttps);
    if (settings.isDraining()) context.res.headers.set('connection', 'close');
    log.info(
      {
        requestId,
        method: context.req.method,
        // Without the query: it may hold words that were searched for.
        path: withoutSecret(new URL(context.req.url).pathname),
        status: context.res.status,
        milliseconds: deps.now() - startedAt,
        person: context.get('person')?.id,
      },
      'request',
    );
  });

  // Answers to reads are long and phones are slow; answers to writes are short.
  const pack = compress();
  app.use('/api/*', (context, next) => (context.req.method === 'GET' ? pack(context, next) : next()));
  app.use('/api/*', async (context, next) => {
    checkHost(context.req.header('host'), settings.isLoopback);
    checkOrigin(context.req.raw, settings.publicOrigin);
    const person = (await accounts.findSignedIn(ownHeaders(context.req.raw))) ?? (await settings.openAs?.());
    context.set('person', person);
    const wait = limiter.take(person?.id ?? context.get('peer'));
    if (wait !== undefined) {
      throw new Problem('too many requests', 'More requests than one person makes in a minute.', {
        retryAfterSeconds: wait,
      });
    }
    return next();
  });

  app.onError((error, context) => {
    if (error instanceof Problem) return problemResponse(error, context.get('requestId'));
    log.error({ requestId: context.get('requestId'), error: error.stack ?? String(error) }, 'request failed');
    return problemResponse(
      new Problem('internal', 'The server met a fault of its own.'),
      context.get('requestId'),
    );
  });
  app.notFound((context) =>
    problemResponse(new Problem('not found', nothingAt(context)), context.get('requestId')),
  );
}

/** A bearer token stands alone: with one, the cookie is not looked at, so neither can lend the other its strength. */
function ownHeaders(request: Request): Headers {
  const headers = new Headers(request.headers);
  if (headers.has('authorization')) headers.delete('cookie');
  return headers;
}

function nothingAt(context: Context<Env>): string {
  return `Nothing answers ${context.req.method} ${new URL(context.req.url).pathname.slice(0, 200)}.`;
}

/** Outside the API and its sign-in: for the machine that runs the server. */
function addServerRoutes(app: App, { ledger, accounts, isDraining }: AppSettings): void {
  app.get('/healthz', (context) => context.json({ status: 'alive' }));
  app.get('/readyz', async (context) => {
    if (isDraining()) throw new Problem('not ready', 'The server is stopping.');
    try {
      await Promise.all([ledger.listFirms(), accounts.hasAnyAccount()]);
    } catch {
      throw new Problem('not ready', 'The database does not answer.');
    }
    return context.json({ status: 'ready' });
  });
}

function addDocument(app: App): void {
  app.openAPIRegistry.registerComponent('securitySchemes', 'cookie', {
    type: 'apiKey',
    in: 'cookie',
    name: 'sillwatch.session_token',
  });
  app.openAPIRegistry.registerComponent('securitySchemes', 'bearer', { type: 'http', scheme: 'bearer' });
  app.get('/openapi.json', (context) => context.json(getDocument(app)));
}

/** The OpenAPI 3.1 document of all that `addRoute` declared. */
export function getDocument(app: App) {
  return app.getOpenAPI31Document({
    openapi: '3.1.0',
    info: {
      title: 'Sillwatch',
      version: '0.1.0',
      description:
        'Station rounds, rules and records. Facts are appended and never changed; all else is computed from them. ' +
        'Refusals are problem documents (RFC 9457) with a remedy.',
      license: { name: 'MIT', url: 'https://spdx.org/licenses/MIT.html' },
    },
    servers: [{ url: '/' }],
  });
}

function addStaticSite(app: App, { webFolder }: AppSettings): void {
  const site = openStaticSite(webFolder);
  app.get('*', (context, next) => {
    const path = new URL(context.req.url).pathname;
    if (path.startsWith('/api/')) return next();
    const acceptsBrotli = /\bbr\b/.test(context.req.header('accept-encoding') ?? '');
    return Promise.resolve(site.respond(path, acceptsBrotli) ?? next());
  });
}
