import type { AnyFact } from '@sillwatch/trade';
import type { SentVerdict } from '../store/notebook.ts';
import type { SyncProblem } from '../store/port.ts';
import type {
  AskedProperty,
  PhotoPart,
  PhotoState,
  PullAnswer,
  PulledProperty,
  Reply,
  Transport,
} from './wire.ts';

/** A phone between two masts may hang for minutes; better to cut and come again. */
const WAIT_MS = 30_000;

export type Fetch = (path: string, init: RequestInit) => Promise<Response>;

/** The line over HTTP; `fetcher` takes a path of this server (tests bring a line that drops, cuts and repeats). */
export function createLine(fetcher: Fetch): Transport {
  const ask = async (path: string, init: RequestInit = {}): Promise<Answer> => {
    try {
      const response = await fetcher(path, {
        credentials: 'same-origin',
        cache: 'no-store',
        signal: AbortSignal.timeout(WAIT_MS),
        ...init,
      });
      // The body may be cut as well; an answer counts when all of it is here.
      return { response, bytes: new Uint8Array(await response.arrayBuffer()) };
    } catch {
      return undefined;
    }
  };
  const json = async <T>(path: string, init?: RequestInit): Promise<Reply<T>> => {
    const answer = await ask(path, init);
    if (answer === undefined || !answer.response.ok) return refusal(answer);
    const value = readJson(answer.bytes);
    // A sign-in page of a café's network answers 200 with a page.
    return value === undefined ? { ok: false, problem: 'unreachable' } : { ok: true, value: value as T };
  };
  const photo = (hash: string) => `/api/photos/${encodeURIComponent(hash)}`;
  return {
    pull: (since) => json<PullAnswer>(`/api/sync/pull?since=${since}`),
    async sendFacts(facts: readonly AnyFact[], importing = false) {
      const reply = await json<{ readonly verdicts: readonly SentVerdict[] }>(
        `/api/facts${importing ? '?importing=true' : ''}`,
        post({ facts }),
      );
      return reply.ok ? { ok: true, value: reply.value.verdicts } : reply;
    },
    async pullFacts(asked: readonly AskedProperty[]) {
      const reply = await json<{ readonly properties: readonly PulledProperty[] }>(
        '/api/sync/facts',
        post({ properties: asked }),
      );
      return reply.ok ? { ok: true, value: reply.value.properties } : reply;
    },
    async listDue(branch) {
      const filter = branch === null ? '' : `&branch=${encodeURIComponent(branch)}`;
      const reply = await json<{ readonly rows: readonly { readonly property: string }[] }>(
        `/api/due?withinDays=6&limit=60${filter}`,
      );
      return reply.ok ? { ok: true, value: reply.value.rows.map(({ property }) => property) } : reply;
    },
    async standing(firm, person) {
      const reply = await json<{ readonly standing: 'current' | 'former' | 'unknown' }>(
        '/api/sync/standing',
        post({ firm, person }),
      );
      return reply.ok ? { ok: true, value: reply.value.standing } : reply;
    },
    async askReport(property, visit) {
      const reply = await json<unknown>('/api/sync/report', post({ property, visit }));
      return reply.ok ? { ok: true, value: null } : reply;
    },
    photoState: (hash) => json<PhotoState>(`${photo(hash)}/state`),
    sendPhotoPart: ({ hash, offset, size, mediaType, bytes }: PhotoPart) =>
      json<PhotoState>(`${photo(hash)}?offset=${offset}&size=${size}`, {
        method: 'PUT',
        headers: { 'content-type': mediaType },
        body: bytes,
      }),
    async sendThumbnail(hash, bytes) {
      const reply = await json<PhotoState>(`${photo(hash)}/thumbnail`, {
        method: 'PUT',
        headers: { 'content-type': 'image/jpeg' },
        body: bytes,
      });
      return reply.ok ? { ok: true, value: null } : reply;
    },
    async fetchThumbnail(hash) {
      const answer = await ask(`${photo(hash)}/thumbnail`);
      if (answer?.response.ok === true) return { ok: true, value: answer.bytes };
      return answer?.response.status === 404 ? { ok: true, value: null } : refusal(answer);
    },
  };
}

type Answer = { readonly response: Response; readonly bytes: Uint8Array<ArrayBuffer> } | undefined;

function post(body: unknown): RequestInit {
  return {
    method: 'POST',
    headers: { accept: 'application/json', 'content-type': 'application/json' },
    body: JSON.stringify(body),
  };
}

function readJson(bytes: Uint8Array): unknown {
  try {
    return JSON.parse(new TextDecoder('utf-8', { fatal: true }).decode(bytes));
  } catch {
    return undefined;
  }
}

/** Statuses that say that this very request is wrong, whoever sends it and whenever. */
const UNFIT: readonly number[] = [400, 409, 413, 415, 422];

function refusal(answer: Answer): Extract<Reply<never>, { readonly ok: false }> {
  if (answer === undefined) return { ok: false, problem: 'unreachable' };
  const { response, bytes } = answer;
  const said = readJson(bytes);
  const detail =
    typeof said === 'object' && said !== null && 'detail' in said && typeof said.detail === 'string'
      ? said.detail
      : `the server answered ${response.status}`;
  const wait = Number(response.headers.get('retry-after'));
  return {
    ok: false,
    problem: problemOf(response.status, said),
    ...(UNFIT.includes(response.status) ? { unfit: detail } : {}),
    ...(Number.isFinite(wait) && wait > 0 ? { retryAfterSeconds: wait } : {}),
  };
}

function problemOf(status: number, said: unknown): SyncProblem {
  const code = typeof said === 'object' && said !== null && 'code' in said ? said.code : undefined;
  if (status === 401) return code === 'not signed in' ? 'sign in again' : 'server trouble';
  if (status === 403 && code === 'password must be changed') return 'password must be changed';
  if (code === 'no room for photos') return 'no room for photos';
  if (status === 429) return 'too many requests';
  return 'server trouble';
}
