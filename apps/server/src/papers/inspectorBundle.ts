import { EMPTY_HEAD, type Entry, type StoredLedger, walkChain } from '@sillwatch/ledger';
import {
  applicationRecords,
  type BundleEntry,
  type BundleProof,
  entriesOfRecord,
  type FirmCard,
  inspectorBundle,
  type PaperLanguage,
  type RecordFilter,
} from '@sillwatch/paper';
import type { AnyFact } from '@sillwatch/trade';

export interface BundleRequest {
  readonly firm: string;
  readonly card: FirmCard;
  readonly filter: RecordFilter;
  /** True = every entry of the firm, so that the chain is recomputed from its beginning. */
  readonly isWhole: boolean;
  /** RFC 3339 with offset. */
  readonly writtenAt: string;
  readonly lang: PaperLanguage;
  /** Most facts that may stand in memory for the record; more throw a `BundleTooLargeError`. */
  readonly mostFacts?: number;
}

export class BundleTooLargeError extends Error {}

/**
 * Writes an inspector's bundle piece by piece, all of it from one unchanging view of the ledger: first the whole chain is
 * walked, then the entries are written out.
 */
export function writeBundle(
  ledger: Pick<StoredLedger, 'withSnapshot' | 'getFirm'>,
  request: BundleRequest,
  write: (piece: Uint8Array) => void | Promise<void>,
): Promise<void> {
  const { firm, filter } = request;
  return ledger.withSnapshot(async ({ listEntries, firms }) => {
    const head = firms.find((one) => one.firm === firm);
    const { proof, facts } = await walk(
      listEntries(firm),
      head?.facts ?? 0,
      head?.head ?? EMPTY_HEAD.hash,
      request,
    );
    const rows = applicationRecords(facts, filter);
    const ids = request.isWhole ? undefined : entriesOfRecord(rows, facts);
    const { profiles } = await ledger.getFirm(firm);
    const pieces = inspectorBundle({
      firm: request.card,
      firmId: firm,
      rows,
      filter,
      profiles: Object.values(profiles),
      scope: request.isWhole ? 'whole ledger' : 'entries of the record',
      entries: withHashes(listEntries(firm), ids),
      proof,
      writtenAt: request.writtenAt,
      lang: request.lang,
    });
    for await (const piece of pieces) await write(piece);
  });
}

/** Checks every entry as `verify` does, and keeps what the record is made of. */
async function walk(
  pages: AsyncIterable<readonly Entry[]>,
  count: number,
  head: string,
  { firm, filter, mostFacts = Number.POSITIVE_INFINITY }: BundleRequest,
): Promise<{ readonly proof: BundleProof; readonly facts: readonly AnyFact[] }> {
  const facts: AnyFact[] = [];
  const chain = walkChain(firm);
  let broken: { readonly brokenAtSeq: number; readonly why: string } | undefined;
  for await (const page of pages) {
    for (const entry of page) {
      const why = broken === undefined ? chain.step(entry) : undefined;
      if (why !== undefined) broken = { brokenAtSeq: chain.head().seq + 1, why };
      if (filter.property === undefined || entry.property === filter.property)
        facts.push(JSON.parse(entry.text));
      if (facts.length > mostFacts) throw new BundleTooLargeError(`more than ${mostFacts} entries`);
    }
    // Phones that record meanwhile get their turn.
    await new Promise((resolve) => setImmediate(resolve));
  }
  const { seq, hash } = chain.head();
  if (broken === undefined && (hash !== head || seq !== count))
    broken = { brokenAtSeq: seq + 1, why: 'the head of the chain does not match the last entry' };
  const proof: BundleProof =
    broken === undefined ? { sound: true, facts: seq, head: hash } : { sound: false, facts: seq, ...broken };
  return { proof, facts };
}

async function* withHashes(
  pages: AsyncIterable<readonly Entry[]>,
  ids: ReadonlySet<string> | undefined,
): AsyncGenerator<readonly BundleEntry[]> {
  let previousHash = EMPTY_HEAD.hash;
  for await (const page of pages) {
    const chosen: BundleEntry[] = [];
    for (const { seq, id, hash, text } of page) {
      if (ids === undefined || ids.has(id)) chosen.push({ seq, previousHash, hash, text });
      previousHash = hash;
    }
    if (chosen.length > 0) yield chosen;
    await new Promise((resolve) => setImmediate(resolve));
  }
}
