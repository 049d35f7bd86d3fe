import { Problem } from '../http/problems.ts';
import type { Accounts } from './accounts.ts';
import { LIBRARY_ORIGIN, PEER_HEADER } from './library.ts';

export interface LibraryAnswer {
  readonly status: number;
  readonly body: Readonly<Record<string, unknown>>;
  /** Set-Cookie lines to pass on */
  readonly cookies: readonly string[];
  /** a bearer token for programs; undefined when the library gave none */
  readonly token: string | undefined;
}

/**
 * Hands one request to the account library under its own origin, with only the headers it needs.
 * Only the addresses that our routes name ever reach it, so nothing of its wider interface is open to the outside.
 */
export async function askLibrary(
  accounts: Accounts,
  request: Request,
  peer: string,
  call: { readonly path: string; readonly method: 'GET' | 'POST'; readonly body?: unknown },
): Promise<LibraryAnswer> {
  const headers = new Headers({ origin: LIBRARY_ORIGIN, [PEER_HEADER]: peer });
  for (const name of ['cookie', 'authorization', 'user-agent']) {
    const value = request.headers.get(name);
    if (value !== null) headers.set(name, value);
  }
  if (call.method === 'POST') headers.set('content-type', 'application/json');
  const answer = await accounts.library.handler(
    new Request(`${LIBRARY_ORIGIN}/api/auth${call.path}`, {
      method: call.method,
      headers,
      ...(call.method === 'POST' ? { body: JSON.stringify(call.body ?? {}) } : {}),
    }),
  );
  if (answer.status === 429) {
    const seconds = Number(answer.headers.get('x-retry-after') ?? 60);
    throw new Problem('too many requests', 'Too many tries from this address.', {
      retryAfterSeconds: Number.isFinite(seconds) ? seconds : 60,
    });
  }
  if (answer.status >= 500) throw new Error(`the account library answered ${answer.status} to ${call.path}`);
  return {
    status: answer.status,
    body: readObject(await answer.text()),
    cookies: answer.headers.getSetCookie(),
    token: answer.headers.get('set-auth-token') ?? undefined,
  };
}

function readObject(text: string): Readonly<Record<string, unknown>> {
  if (text === '') return {};
  const value: unknown = JSON.parse(text);
  return typeof value === 'object' && value !== null ? Object.fromEntries(Object.entries(value)) : {};
}
