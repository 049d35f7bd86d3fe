/**
 * The service worker: keeps the files of one build and serves them without a network. It never touches /api: facts and
 * their store belong to the page (store/), and an answer of the server is never kept here.
 * No imports: the build takes the types off and writes the list of files in (apps/web/buildWorker.ts).
 */
export {};

declare const self: ServiceWorkerGlobalScope;

/** Written in by the build: every file of the app with the hash of its content. */
const PRECACHE: readonly (readonly [path: string, hash: string])[] = __PRECACHE__;
declare const __PRECACHE__: readonly (readonly [string, string])[];

/** One build, one cache: files of two builds never mix. */
const VERSION = __VERSION__;
declare const __VERSION__: string;
const PREFIX = 'sillwatch-app-';
const CACHE = PREFIX + VERSION;
const PAGE = '/index.html';
const PATHS: ReadonlySet<string> = new Set(PRECACHE.map(([path]) => path));
/** Outside the yard a page waits so long for the server before it takes what is here, ms. */
const PATIENCE_MS = 3000;

/** Service Workers, static routing (Chromium 123 and later); elsewhere the fetch listener below does the same, more slowly. */
interface RoutingInstallEvent extends ExtendableEvent {
  addRoutes?(rules: unknown): Promise<void>;
}

self.addEventListener('install', (event: RoutingInstallEvent) => {
  event.waitUntil(fillCache());
  // Files named by their content come from the cache without waking this worker; what is not there comes from the server.
  const routed = event.addRoutes?.({
    condition: { urlPattern: '/assets/*', requestMethod: 'GET' },
    source: { cacheName: CACHE },
  });
  if (routed !== undefined) event.waitUntil(routed.catch(() => {}));
});

self.addEventListener('activate', (event) => {
  event.waitUntil(takeOver());
});

self.addEventListener('message', (event) => {
  const { type, path } = event.data ?? {};
  if (type === 'take over') void self.skipWaiting();
  if (type === 'is yours') event.ports[0]?.postMessage(PATHS.has(path));
});

self.addEventListener('fetch', (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== 'GET' || url.origin !== self.location.origin) return;
  if (isServers(url.pathname)) return;
  if (request.mode === 'navigate') event.respondWith(pageFor(request, url.pathname));
  else if (PATHS.has(url.pathname)) event.respondWith(fromCache(url.pathname, request));
});

/** What only the server answers: the interface for programs and what the machine asks. */
function isServers(path: string): boolean {
  return path.startsWith('/api/') || path === '/openapi.json' || path === '/healthz' || path === '/readyz';
}

/** All files or none: a build with a hole in it is never installed. What an older build has of the same content is taken over. */
async function fillCache(): Promise<void> {
  const cache = await caches.open(CACHE);
  await Promise.all(
    PRECACHE.map(async ([path, hash]) => {
      if ((await cache.match(path)) !== undefined) return;
      const isNamedByContent = path.startsWith('/assets/');
      const known = isNamedByContent ? await caches.match(path) : undefined;
      if (known !== undefined) return cache.put(path, known);
      // Past every cache: between two builds a name without a hash in it means two contents.
      const answer = await fetch(path, { cache: isNamedByContent ? 'default' : 'reload' });
      const bytes = answer.ok ? await answer.arrayBuffer() : undefined;
      if (bytes === undefined || (await hashOf(bytes)) !== hash)
        throw new Error(`${path} is not of this build`);
      return cache.put(path, new Response(bytes, { headers: keptHeaders(answer.headers) }));
    }),
  );
}

/** The security headers stay with the page; the body is unpacked already. */
function keptHeaders(headers: Headers): Headers {
  const kept = new Headers(headers);
  kept.delete('content-encoding');
  kept.delete('content-length');
  return kept;
}

async function hashOf(bytes: ArrayBuffer): Promise<string> {
  const digest = new Uint8Array(await crypto.subtle.digest('SHA-256', bytes));
  return Array.from(digest.subarray(0, 16), (byte) => byte.toString(16).padStart(2, '0')).join('');
}

async function takeOver(): Promise<void> {
  const names = await caches.keys();
  await Promise.all(
    names.filter((name) => name.startsWith(PREFIX) && name !== CACHE).map((name) => caches.delete(name)),
  );
  // The first worker of a phone takes the page that registered it; there is nothing older to be mixed with.
  await self.clients.claim();
}

/** In the yard the kept page at once; at the desk the server's, unless it is silent. */
async function pageFor(request: Request, path: string): Promise<Response> {
  const kept = await (await caches.open(CACHE)).match(PAGE);
  if (kept === undefined) return fetch(request);
  if (path === '/field' || path.startsWith('/field/')) return kept;
  try {
    return await fetch(request, { signal: AbortSignal.timeout(PATIENCE_MS) });
  } catch {
    return kept;
  }
}

async function fromCache(path: string, request: Request): Promise<Response> {
  return (await (await caches.open(CACHE)).match(path)) ?? fetch(request);
}
