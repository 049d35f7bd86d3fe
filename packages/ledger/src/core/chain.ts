import { createHash } from 'node:crypto';
import type { ChainCheck } from '../port.ts';
import type { Entry, Head } from './entry.ts';

/** The hash before a firm's first fact: 32 zero bytes. */
export const EMPTY_HEAD: Head = { seq: 0, hash: '0'.repeat(64) };

/**
 * hash(n) = SHA-256( the 32 bytes of hash(n-1), then the UTF-8 bytes of the fact's canonical JSON with its receipt ).
 * Whoever changes, removes, reorders or inserts a fact has to rewrite every hash after it, and the head that backups wrote down.
 */
export function linkHash(previousHash: string, text: string): string {
  return createHash('sha256').update(previousHash, 'hex').update(text, 'utf8').digest('hex');
}

/** Walks entries in ledger order; `step` answers why the chain breaks at this entry, or undefined when it holds. */
export interface ChainWalk {
  readonly head: () => Head;
  readonly step: (entry: Entry) => string | undefined;
}

export function walkChain(firm: string): ChainWalk {
  let head = EMPTY_HEAD;
  return {
    head: () => head,
    step: (entry) => {
      const why = findBreak(firm, head, entry);
      if (why === undefined) head = { seq: entry.seq, hash: entry.hash };
      return why;
    },
  };
}

function findBreak(firm: string, before: Head, entry: Entry): string | undefined {
  if (entry.seq !== before.seq + 1) return `the fact at position ${before.seq + 1} is missing`;
  if (linkHash(before.hash, entry.text) !== entry.hash)
    return 'the fact or its hash was changed, moved, inserted or replaced';
  const fact = parseObject(entry.text);
  if (fact === undefined) return 'the fact is not readable JSON';
  const receipt = fact['receipt'];
  const seq = typeof receipt === 'object' && receipt !== null && 'seq' in receipt ? receipt.seq : undefined;
  if (seq !== entry.seq) return `the fact's receipt says position ${String(seq)}`;
  if (fact['firm'] !== firm) return 'the fact belongs to another firm';
  for (const column of ['id', 'property', 'station', 'kind', 'device'] as const)
    if (fact[column] !== entry[column]) return `the index column "${column}" disagrees with the fact`;
  return undefined;
}

function parseObject(text: string): Readonly<Record<string, unknown>> | undefined {
  try {
    const value: unknown = JSON.parse(text);
    return typeof value === 'object' && value !== null ? { ...value } : undefined;
  } catch {
    return undefined;
  }
}

/** What `verifyChain` reads; the adapters give it. */
export interface ChainSource {
  /** Head row and last position stored, read at one instant. */
  readonly findTip: () => Promise<{ readonly head: Head; readonly lastSeq: number }>;
  /** Entries after `afterSeq` up to and with `untilSeq`, in order, at most a page. */
  readonly listPage: (afterSeq: number, untilSeq: number) => Promise<readonly Entry[]>;
}

/** Streams a firm's chain page by page, so that a ledger of any size is checked in little memory, while appends go on. */
export async function verifyChain(
  firm: string,
  source: ChainSource,
  onProgress?: (done: number, total: number) => void,
): Promise<ChainCheck> {
  const walk = walkChain(firm);
  const broken = (brokenAtSeq: number, why: string): ChainCheck => ({
    sound: false,
    facts: walk.head().seq,
    brokenAtSeq,
    why,
  });
  // Facts that arrive from now on are not looked at: the answer is for this instant.
  const { head, lastSeq } = await source.findTip();
  while (walk.head().seq < head.seq) {
    const page = await source.listPage(walk.head().seq, head.seq);
    if (page.length === 0)
      return broken(walk.head().seq + 1, `the fact at position ${walk.head().seq + 1} is missing`);
    for (const entry of page) {
      const at = walk.head().seq + 1;
      const why = walk.step(entry);
      if (why !== undefined) return broken(at, why);
    }
    onProgress?.(walk.head().seq, head.seq);
  }
  if (walk.head().hash !== head.hash)
    return broken(head.seq, 'the head of the chain does not match the last fact');
  if (lastSeq > head.seq) return broken(head.seq + 1, 'a fact stands after the head of the chain');
  return { sound: true, facts: head.seq, head: head.hash };
}
