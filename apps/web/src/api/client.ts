import type { Problem } from './types.ts';

/** The server said no; `problem` is what it said (RFC 9457). */
export class ProblemError extends Error {
  readonly problem: Problem;
  constructor(problem: Problem) {
    super(problem.detail ?? problem.title);
    this.problem = problem;
  }
}

/** No answer came: no network, or no server. */
export class UnreachableError extends Error {}

export async function getJson<T>(path: string): Promise<T> {
  return request<T>(path, { headers: { accept: 'application/json' } });
}

export async function postJson<T>(
  path: string,
  body: unknown,
  more: Pick<RequestInit, 'signal'> = {},
): Promise<T> {
  return request<T>(path, {
    ...more,
    method: 'POST',
    headers: { accept: 'application/json', 'content-type': 'application/json' },
    body: JSON.stringify(body),
  });
}

export async function patchJson<T>(path: string, body: unknown): Promise<T> {
  return request<T>(path, {
    method: 'PATCH',
    headers: { accept: 'application/json', 'content-type': 'application/json' },
    body: JSON.stringify(body),
  });
}

export async function deleteJson<T>(path: string): Promise<T> {
  return request<T>(path, { method: 'DELETE', headers: { accept: 'application/json' } });
}

/** Several files and fields; the browser writes the boundaries. */
export async function postForm<T>(path: string, body: FormData): Promise<T> {
  return request<T>(path, { method: 'POST', headers: { accept: 'application/json' }, body });
}

/** A file as the server names it, asked for with a body where there is one; throws as the others do when it is refused. */
export async function getFile(
  path: string,
  body?: unknown,
): Promise<{ readonly name: string; readonly file: Blob }> {
  const response = await ask(
    path,
    body === undefined
      ? {}
      : { method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify(body) },
  );
  if (!response.ok) throw new ProblemError(problemFrom(response, await readBody(response)));
  const named = /filename="([^"]+)"/.exec(response.headers.get('content-disposition') ?? '');
  return { name: named?.[1] ?? '', file: await response.blob() };
}

async function request<T>(path: string, init: RequestInit): Promise<T> {
  const response = await ask(path, init);
  const body = await readBody(response);
  if (!response.ok) throw new ProblemError(problemFrom(response, body));
  return body as T;
}

async function ask(path: string, init: RequestInit): Promise<Response> {
  try {
    return await fetch(path, { credentials: 'same-origin', ...init });
  } catch (cause) {
    throw new UnreachableError('no answer', { cause });
  }
}

async function readBody(response: Response): Promise<unknown> {
  const text = await response.text();
  if (text === '') return null;
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}

/** Account routes answer `{message}`; all others RFC 9457. */
function problemFrom(response: Response, body: unknown): Problem {
  const said = typeof body === 'object' && body !== null ? (body as Record<string, unknown>) : {};
  const text = (key: string) => (typeof said[key] === 'string' ? said[key] : undefined);
  const detail = text('detail') ?? text('message');
  const errors = Array.isArray(said['errors']) ? (said['errors'] as Problem['errors']) : undefined;
  const code = text('code');
  const remedy = text('remedy');
  const lang = text('lang');
  return {
    title: text('title') ?? response.statusText,
    status: response.status,
    ...(detail === undefined ? {} : { detail }),
    ...(errors === undefined ? {} : { errors }),
    ...(code === undefined ? {} : { code }),
    ...(remedy === undefined ? {} : { remedy }),
    ...(lang === undefined ? {} : { lang }),
  };
}
