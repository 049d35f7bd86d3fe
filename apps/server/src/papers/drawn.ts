import { eachFactPage } from '@sillwatch/ledger';
import type { Binding, BoundPaper, Document } from '@sillwatch/paper';
import type { Services } from '../http/context.ts';
import { Problem } from '../http/problems.ts';
import type { Pressed, PressFeed, PressJob } from '../press/pressJob.ts';
import type { BundleRequest } from './inspectorBundle.ts';
import type { RecordRequest } from './writeRecord.ts';

/** Who asks for a paper: whose turn it is, and whether he is still there. */
export interface Asker {
  readonly firm: string;
  readonly signal: AbortSignal;
}

/** The bytes of a paper. Throws `papers busy` or `too much for one answer`. */
export async function drawPdf(services: Services, asker: Asker, document: Document): Promise<Uint8Array> {
  const [bytes = new Uint8Array()] = await draw(services, asker, { kind: 'paper', document });
  return bytes;
}

/** The pieces of a paper, in order. Throws `papers busy` or `too much for one answer`. */
export async function draw(
  { press }: Services,
  { firm, signal }: Asker,
  job: PressJob,
  feed?: PressFeed,
): Promise<readonly Uint8Array<ArrayBuffer>[]> {
  return piecesOf(await press.draw(firm, job, signal, feed));
}

/** The letters of a month in one file; see `eachRenewalLetter` for what it is fed. */
export function drawLetters(
  services: Services,
  asker: Asker,
  binding: Binding,
  letters: () => AsyncIterable<readonly BoundPaper[]>,
): Promise<readonly Uint8Array<ArrayBuffer>[]> {
  return draw(services, asker, { kind: 'letters', binding }, letters);
}

const RETRY_SECONDS = 5;

export function piecesOf(pressed: Pressed): readonly Uint8Array<ArrayBuffer>[] {
  if (pressed.ok) return pressed.pieces;
  switch (pressed.reason) {
    case 'busy':
      throw new Problem('papers busy', `Too many papers are being drawn: ${pressed.why}.`, {
        retryAfterSeconds: RETRY_SECONDS,
      });
    case 'too large':
      throw new Problem('too much for one answer', `The paper cannot be drawn here: ${pressed.why}.`);
    case 'gone':
      throw new Problem('not ready', `The paper was given up: ${pressed.why}.`);
    case 'cannot be drawn':
      throw new Error(pressed.why);
  }
}

/** An inspector's bundle, from one unchanging view of the ledger, as `writeBundle` makes it. */
export async function drawBundle(
  services: Services,
  asker: Asker,
  request: BundleRequest,
): Promise<readonly Uint8Array<ArrayBuffer>[]> {
  const firm = await services.ledger.getFirm(request.firm);
  return services.ledger.withSnapshot(({ firms, listEntries }) =>
    draw(services, asker, { kind: 'bundle', request, firms, firm }, () => listEntries(request.firm)),
  );
}

/** The application record: of one property, or of all that the firm has recorded, from one unchanging view of the ledger. */
export function drawRecord(
  services: Services,
  asker: Asker,
  request: RecordRequest,
): Promise<readonly Uint8Array<ArrayBuffer>[]> {
  const { ledger } = services;
  const { property } = request.filter;
  const job = { kind: 'record', request } as const;
  if (property !== undefined)
    return draw(services, asker, job, async function* () {
      for await (const page of eachFactPage(ledger, asker.firm, { property }))
        yield page.map((fact) => JSON.stringify(fact));
    });
  return ledger.withSnapshot(({ listEntries }) =>
    draw(services, asker, job, async function* () {
      for await (const page of listEntries(asker.firm)) yield page.map(({ text }) => text);
    }),
  );
}
