import { Problem } from './problems.ts';

/** No inline script anywhere. Inline style stays allowed because the screen library measures and places with it. */
const POLICY = [
  "default-src 'self'",
  "script-src 'self'",
  "style-src 'self' 'unsafe-inline'",
  "img-src 'self' data: blob:",
  "font-src 'self' data:",
  "connect-src 'self'",
  "worker-src 'self'",
  "manifest-src 'self'",
  "object-src 'none'",
  "base-uri 'none'",
  "form-action 'self'",
  "frame-ancestors 'none'",
].join('; ');

/** A printed paper needs its own style and pictures, and nothing else. */
export const PAPER_POLICY =
  "default-src 'none'; style-src 'unsafe-inline'; img-src data:; font-src data:; base-uri 'none'; form-action 'none'; frame-ancestors 'self'; sandbox allow-modals allow-popups";

/** A PDF runs nothing of ours, and a browser's own viewer does not open under a sandbox. */
export const PDF_POLICY = "frame-ancestors 'self'";

export function setSecurityHeaders(headers: Headers, isHttps: boolean): void {
  if (!headers.has('content-security-policy')) headers.set('content-security-policy', POLICY);
  headers.set('x-content-type-options', 'nosniff');
  headers.set(
    'x-frame-options',
    headers.get('content-security-policy')?.includes("frame-ancestors 'self'") ? 'SAMEORIGIN' : 'DENY',
  );
  headers.set('referrer-policy', 'no-referrer');
  headers.set('cross-origin-opener-policy', 'same-origin');
  headers.set('cross-origin-resource-policy', 'same-origin');
  headers.set('permissions-policy', 'camera=(self), geolocation=(self), microphone=(), payment=(), usb=()');
  if (isHttps) headers.set('strict-transport-security', 'max-age=31536000; includeSubDomains');
}

const LOOPBACK_NAMES: readonly string[] = ['localhost', '127.0.0.1', '[::1]'];

export function isLoopbackHost(host: string): boolean {
  return host === 'localhost' || host === '::1' || /^127(\.\d{1,3}){3}$/.test(host);
}

/**
 * On loopback only loopback names are answered: a foreign name that was pointed at this machine
 * (DNS rebinding) would otherwise make its pages same-origin with us.
 */
export function checkHost(host: string | undefined, isLoopback: boolean): void {
  if (!isLoopback) return;
  const name = (host ?? '').replace(/:\d+$/, '').toLowerCase();
  if (!LOOPBACK_NAMES.includes(name)) {
    throw new Problem(
      'other origin',
      'This server answers on this machine only, under localhost or 127.0.0.1.',
    );
  }
}

/**
 * Writes must come from a page of this server: `Origin` (or else `Sec-Fetch-Site`) says so in every browser.
 * A caller that sends neither is no browser page, and a bearer token is never sent by a browser unasked.
 */
export function checkOrigin(request: Request, publicOrigin: string | undefined): void {
  if (request.method === 'GET' || request.method === 'HEAD' || request.method === 'OPTIONS') return;
  if (request.headers.has('authorization')) return;
  const origin = request.headers.get('origin');
  if (origin !== null) {
    const own = publicOrigin ?? new URL(request.url).origin;
    if (origin === own) return;
    throw new Problem(
      'other origin',
      `The request came from ${origin.slice(0, 100)}; this server is ${own}.`,
    );
  }
  const site = request.headers.get('sec-fetch-site');
  if (site !== null && site !== 'same-origin' && site !== 'none') {
    throw new Problem('other origin', 'The request came from a page of another site.');
  }
}
