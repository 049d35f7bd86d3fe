/** Runs in a worker thread: draws one paper after the other. Touches no database: it is fed from the other side. */
import { parentPort } from 'node:worker_threads';
import type { Entry, StoredLedger } from '@sillwatch/ledger';
import { type BoundPaper, renderDiagramPdf, renderLabels, renderPdf, renderTogether } from '@sillwatch/paper';
import { BundleTooLargeError, writeBundle } from '../papers/inspectorBundle.ts';
import { writeRecord } from '../papers/writeRecord.ts';
import type { FromPress, PressJob, ToPress } from './pressJob.ts';

const port = parentPort;
if (port === null) throw new Error('this file runs as a worker only');
const post = (message: FromPress): void => port.postMessage(message);
let onPage: (page: readonly unknown[] | null) => void = () => {};
port.on('message', (message: ToPress) => {
  if (message.kind === 'page') onPage(message.page);
  else void press(message.job);
});

async function press(job: PressJob): Promise<void> {
  try {
    await draw(job);
    post({ kind: 'done' });
  } catch (error) {
    const reason =
      error instanceof BundleTooLargeError
        ? 'too large'
        : error instanceof RangeError
          ? 'cannot be drawn'
          : undefined;
    // Anything else is a fault of ours: it ends the thread, and the other side hears of it.
    if (reason === undefined) throw error;
    post({ kind: 'refused', reason, why: error instanceof Error ? error.message : String(error) });
  }
}

async function draw(job: PressJob): Promise<void> {
  switch (job.kind) {
    case 'paper':
      return give(await renderPdf(job.document));
    case 'labels':
      return give(await renderLabels(job.paper));
    case 'diagram':
      return give(await renderDiagramPdf(job.paper));
    case 'letters':
      return give(await renderTogether(job.binding, eachOf(readFeed<BoundPaper>())));
    case 'record':
      return give(await writeRecord(job.request, readFeed<string>));
    case 'bundle': {
      const { request, firms, firm } = job;
      const ledger: Pick<StoredLedger, 'withSnapshot' | 'getFirm'> = {
        withSnapshot: (use) => use({ firms, listEntries: () => readFeed<Entry>() }),
        getFirm: () => Promise.resolve(firm),
      };
      return writeBundle(ledger, request, give);
    }
  }
}

/** A copy that owns its memory is handed over whole. */
function give(bytes: Uint8Array): void {
  const own = Uint8Array.from(bytes);
  port?.postMessage({ kind: 'piece', bytes: own } satisfies FromPress, [own.buffer]);
}

/** The pages that the other side has; what they hold follows from the job. */
async function* readFeed<T>(): AsyncGenerator<readonly T[]> {
  post({ kind: 'open' });
  for (;;) {
    const page = await new Promise<readonly unknown[] | null>((resolve) => {
      onPage = resolve;
      post({ kind: 'next' });
    });
    if (page === null) return;
    yield page as readonly T[];
  }
}

async function* eachOf<T>(pages: AsyncIterable<readonly T[]>): AsyncGenerator<T> {
  for await (const page of pages) yield* page;
}
