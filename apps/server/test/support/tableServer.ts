import { createServer } from 'node:http';

export interface TableServer {
  readonly url: string;
  readonly requests: URL[];
  /** What the next requests get instead of a table. */
  readonly faults: Fault[];
  /** Origin and destination places per request, together. */
  mostPlaces: number;
  close(): Promise<void>;
}

export type Fault =
  | { readonly kind: 'status'; readonly status: number; readonly retryAfter?: string }
  | { readonly kind: 'cut' }
  | { readonly kind: 'silent' }
  | { readonly kind: 'body'; readonly body: unknown };

/** Seconds and metres that differ by direction, and no way to or from longitudes east of 10 degrees. */
export function secondsBetween(from: readonly number[], to: readonly number[]): number | null {
  const [fromX = 0, fromY = 0] = from;
  const [toX = 0, toY = 0] = to;
  if (fromX > 10 || toX > 10) return null;
  return Math.round((Math.abs(toX - fromX) + Math.abs(toY - fromY)) * 10_000 + (toX > fromX ? 60 : 0)) + 0.4;
}

/** Speaks the documented `table` request of the OSRM HTTP API (version 1): coordinates, sources, destinations, annotations. */
export async function startTableServer(): Promise<TableServer> {
  const requests: URL[] = [];
  const faults: Fault[] = [];
  const state = { mostPlaces: 100 };
  const server = createServer((request, response) => {
    const url = new URL(request.url ?? '/', 'http://service');
    requests.push(url);
    const answer = (status: number, body: unknown, headers: Record<string, string> = {}): void => {
      response.writeHead(status, { 'content-type': 'application/json', ...headers });
      response.end(JSON.stringify(body));
    };
    const fault = faults.shift();
    if (fault !== undefined) {
      if (fault.kind === 'cut') request.socket.destroy();
      else if (fault.kind === 'status')
        answer(
          fault.status,
          { code: 'InvalidQuery', message: 'no' },
          fault.retryAfter === undefined ? {} : { 'retry-after': fault.retryAfter },
        );
      else if (fault.kind === 'body') answer(200, fault.body);
      return;
    }
    const match = /^\/table\/v1\/driving\/(.+)$/.exec(url.pathname);
    if (match === null) return answer(400, { code: 'InvalidUrl', message: 'URL string malformed' });
    const places = (match[1] ?? '').split(';').map((pair) => pair.split(',').map(Number));
    if (places.length > state.mostPlaces)
      return answer(400, { code: 'TooBig', message: 'Too many table coordinates' });
    const pick = (name: string): readonly (readonly number[])[] =>
      (url.searchParams.get(name) ?? '').split(';').map((index) => places[Number(index)] ?? []);
    const rows = pick('sources').map((from) => pick('destinations').map((to) => secondsBetween(from, to)));
    answer(200, {
      code: 'Ok',
      durations: rows,
      distances: rows.map((row) => row.map((seconds) => (seconds === null ? null : seconds * 12))),
      sources: [],
      destinations: [],
    });
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const address = server.address();
  if (address === null || typeof address === 'string') throw new Error('no port');
  return {
    url: `http://127.0.0.1:${address.port}`,
    requests,
    faults,
    get mostPlaces() {
      return state.mostPlaces;
    },
    set mostPlaces(most) {
      state.mostPlaces = most;
    },
    close: () =>
      new Promise((resolve) => {
        server.closeAllConnections();
        server.close(() => resolve());
      }),
  };
}
