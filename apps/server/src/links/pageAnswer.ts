import { createHash } from 'node:crypto';
import { gonePage, PAGE_STYLE, type PaperLanguage } from '@sillwatch/paper';

/** Runs nothing, loads nothing, is framed by nobody; the one style is named by its hash. */
export const PAGE_POLICY = `default-src 'none'; style-src 'sha256-${createHash('sha256').update(PAGE_STYLE).digest('base64')}'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'`;

/** A report has widths in its tables, which no hash can name; it stays without script and in a sandbox. */
export const REPORT_POLICY =
  "default-src 'none'; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'none'; frame-ancestors 'none'; sandbox";

const COMMON = {
  'cache-control': 'private, no-store',
  'x-robots-tag': 'noindex, nofollow, noarchive',
} as const;

/** Answers at secret addresses: never kept by a cache, never found by a search. */
export function linkAnswer(
  body: string | Uint8Array,
  headers: Readonly<Record<string, string>>,
  status = 200,
): Response {
  return new Response(typeof body === 'string' ? body : Uint8Array.from(body), {
    status,
    headers: { ...COMMON, ...headers },
  });
}

/** One answer for every address that opens nothing. */
export function goneAnswer(lang: PaperLanguage): Response {
  return linkAnswer(
    gonePage(lang),
    { 'content-type': 'text/html; charset=utf-8', 'content-security-policy': PAGE_POLICY },
    404,
  );
}

export function tooManyAnswer(waitSeconds: number): Response {
  return linkAnswer(
    'Too many requests. / Demasiadas solicitudes.\n',
    {
      'content-type': 'text/plain; charset=utf-8',
      'content-security-policy': PAGE_POLICY,
      'retry-after': String(waitSeconds),
    },
    429,
  );
}
