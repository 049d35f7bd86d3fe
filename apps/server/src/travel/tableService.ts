import { setTimeout as sleep } from 'node:timers/promises';
import type { Place } from '@sillwatch/trade';
import { flattenRows, type RoadAnswer, type RoadSource, RoadSourceError } from './roadSource.ts';

export interface TableServiceSettings {
  /** Where the service answers, `http://localhost:5000`; a path before `/table` is kept. */
  readonly url: string;
  /** Routing profile in the address; default `driving`. */
  readonly profile?: string;
  /** Origins and destinations in one question; default 100, which such services allow unless set otherwise. */
  readonly mostPlaces?: number;
  /** default 10,000 */
  readonly timeoutMilliseconds?: number;
  /** Further tries of one question; default 3. */
  readonly retries?: number;
  /** Wait before the first further try, doubled each time; default 500. */
  readonly backOffMilliseconds?: number;
}

const MOST_PLACES = 100;
const MOST_ANSWER_BYTES = 8 * 1024 * 1024;
const LONGEST_WAIT_MILLISECONDS = 30_000;

/**
 * A service that speaks the `table` request of the OSRM HTTP API, version 1 (durations in seconds, distances in metres).
 * Throws a RangeError for an address that is no plain HTTP address.
 */
export function createTableService(settings: TableServiceSettings): RoadSource {
  const { profile = 'driving', mostPlaces = MOST_PLACES } = settings;
  const base = readAddress(settings.url);
  return {
    source: 'road service',
    name: `the road service at ${base.host}`,
    cacheKey: `road service ${base.href} ${profile}`,
    mostPlaces,
    askTable: async (origins, destinations, signal) => {
      const answer = await askPatiently(addressOf(base, profile, origins, destinations), settings, signal);
      return readAnswer(answer, origins.length, destinations.length);
    },
  };
}

function readAddress(text: string): URL {
  const url = URL.canParse(text) ? new URL(text) : undefined;
  if (url === undefined || !/^https?:$/.test(url.protocol) || url.username !== '' || url.search !== '')
    throw new RangeError(
      `${JSON.stringify(text)} is no address of a road service; give one like http://localhost:5000`,
    );
  return url;
}

function addressOf(
  base: URL,
  profile: string,
  origins: readonly Place[],
  destinations: readonly Place[],
): URL {
  const places = [...origins, ...destinations]
    .map(({ latitude, longitude }) => `${longitude.toFixed(6)},${latitude.toFixed(6)}`)
    .join(';');
  const numbers = (from: number, count: number): string =>
    Array.from({ length: count }, (_, n) => String(from + n)).join(';');
  const url = new URL(base);
  url.pathname = `${base.pathname.replace(/\/$/, '')}/table/v1/${encodeURIComponent(profile)}/${places}`;
  url.search =
    `sources=${numbers(0, origins.length)}&destinations=${numbers(origins.length, destinations.length)}` +
    '&annotations=duration,distance&generate_hints=false';
  return url;
}

interface Reply {
  readonly status: number;
  readonly body: unknown;
  readonly retryAfterMilliseconds: number | undefined;
}

/** Asks again after a time-out, a lost connection, 429 or 5xx; any other refusal is final. */
async function askPatiently(url: URL, settings: TableServiceSettings, signal: AbortSignal): Promise<unknown> {
  const { retries = 3, backOffMilliseconds = 500, timeoutMilliseconds = 10_000 } = settings;
  for (let tried = 0; ; tried += 1) {
    const outcome = await ask(url, timeoutMilliseconds, signal);
    if (!(outcome instanceof RoadSourceError)) {
      if (outcome.status === 200) return outcome.body;
      if (outcome.status !== 429 && outcome.status < 500) throw new RoadSourceError(refusalOf(outcome));
    }
    if (tried >= retries)
      throw outcome instanceof RoadSourceError ? outcome : new RoadSourceError(refusalOf(outcome));
    const asked = outcome instanceof RoadSourceError ? undefined : outcome.retryAfterMilliseconds;
    const wait = Math.min(LONGEST_WAIT_MILLISECONDS, asked ?? backOffMilliseconds * 2 ** tried);
    await sleep(wait, undefined, { signal });
  }
}

function refusalOf({ status, body }: Reply): string {
  const code = fieldOf(body, 'code');
  const message = fieldOf(body, 'message');
  const words = [code, message].filter((part) => typeof part === 'string').join(': ');
  return `it refused with ${status}${words === '' ? '' : ` (${words.slice(0, 200)})`}`;
}

async function ask(
  url: URL,
  timeoutMilliseconds: number,
  signal: AbortSignal,
): Promise<Reply | RoadSourceError> {
  const timeout = AbortSignal.timeout(timeoutMilliseconds);
  try {
    const answer = await fetch(url, {
      redirect: 'error',
      headers: { accept: 'application/json' },
      signal: AbortSignal.any([signal, timeout]),
    });
    const after = Number(answer.headers.get('retry-after') ?? 'none');
    return {
      status: answer.status,
      body: parseJson(await readText(answer)),
      retryAfterMilliseconds: Number.isFinite(after) ? after * 1000 : undefined,
    };
  } catch (error) {
    // Asked to stop: not the service's fault.
    signal.throwIfAborted();
    if (timeout.aborted) return new RoadSourceError(`no answer within ${timeoutMilliseconds / 1000} s`);
    return error instanceof RoadSourceError
      ? error
      : new RoadSourceError(`no connection (${causeOf(error)})`);
  }
}

async function readText(answer: Response): Promise<string> {
  const parts: Uint8Array[] = [];
  let bytes = 0;
  for await (const part of answer.body ?? []) {
    bytes += part.byteLength;
    if (bytes > MOST_ANSWER_BYTES) throw new RoadSourceError('its answer is larger than 8 MiB');
    parts.push(part);
  }
  return Buffer.concat(parts).toString('utf8');
}

function parseJson(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

function readAnswer(body: unknown, origins: number, destinations: number): RoadAnswer {
  if (fieldOf(body, 'code') !== 'Ok') throw new RoadSourceError('its answer is not that of a table service');
  return {
    seconds: flattenRows(fieldOf(body, 'durations'), origins, destinations, 1, 'durations'),
    metres: flattenRows(fieldOf(body, 'distances'), origins, destinations, 1, 'distances'),
  };
}

function fieldOf(value: unknown, name: string): unknown {
  return typeof value === 'object' && value !== null
    ? Object.getOwnPropertyDescriptor(value, name)?.value
    : undefined;
}

function causeOf(error: unknown): string {
  const cause = error instanceof Error && error.cause instanceof Error ? error.cause : error;
  const code = fieldOf(cause, 'code');
  return typeof code === 'string' ? code : cause instanceof Error ? cause.message : String(cause);
}
