import { createLine, type Fetch } from '../../../src/field/sync/line.ts';
import type { Transport } from '../../../src/field/sync/wire.ts';

export const FAULTS = [
  'none',
  'drop the question',
  'drop the answer',
  'cut the answer',
  'repeat the question',
  'delay',
  'error page',
  'restart the server',
] as const;
export type Fault = (typeof FAULTS)[number];

/** A line to the server that fails as lines do. `faults` counts what it did; `next` says what it will do. */
export function createFaultyLine(fetcher: Fetch, next: () => Fault, restart: () => Promise<void>): Transport {
  return createLine(async (path, init) => {
    const fault = next();
    switch (fault) {
      case 'none':
        return fetcher(path, init);
      case 'drop the question':
        throw new TypeError('no line');
      case 'drop the answer':
        await fetcher(path, init);
        throw new TypeError('the line broke before the answer');
      case 'cut the answer': {
        const answer = await fetcher(path, init);
        const bytes = new Uint8Array(await answer.arrayBuffer());
        return new Response(cutAfter(bytes.slice(0, bytes.length / 2)), {
          status: answer.status,
          headers: answer.headers,
        });
      }
      case 'repeat the question': {
        const [first, second] = await Promise.all([fetcher(path, init), fetcher(path, init)]);
        await first.arrayBuffer();
        return second;
      }
      case 'delay':
        await breathe(5);
        return fetcher(path, init);
      case 'error page':
        return new Response('<html>bad gateway</html>', {
          status: 502,
          headers: { 'content-type': 'text/html' },
        });
      case 'restart the server': {
        const answer = fetcher(path, init);
        // Heard by nobody if it fails meanwhile: the line is gone with the server.
        answer.catch(() => {});
        await breathe(1);
        await restart();
        return answer;
      }
    }
  });
}

function cutAfter(bytes: Uint8Array): ReadableStream<Uint8Array> {
  return new ReadableStream({
    start(controller) {
      controller.enqueue(bytes);
      controller.error(new TypeError('the line was cut in the middle'));
    },
  });
}

export async function breathe(turns: number): Promise<void> {
  for (let turn = 0; turn < turns; turn += 1) await new Promise((resolve) => setImmediate(resolve));
}
