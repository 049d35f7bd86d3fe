import type { AnyFact } from '@sillwatch/trade';
import type { Folds, RefusalCode, Verdict } from '../port.ts';
import { canonicalJson } from './canonical.ts';
import { linkHash } from './chain.ts';
import { LONGEST_KEY } from './defaults.ts';
import type { Entry, Head } from './entry.ts';
import { entryToFact, withoutReceipt } from './entry.ts';

/** A fact of a batch after all checks that need no database. */
export interface Screened {
  readonly id: string;
  /** The fact as sent and its canonical JSON; undefined when it cannot be stored at all. */
  readonly sent: { readonly fact: AnyFact; readonly content: string } | undefined;
  readonly refusal: { readonly code: RefusalCode; readonly detail: string } | undefined;
}

export function screenFact(firm: string, value: AnyFact, folds: Folds): Screened {
  const id = readId(value);
  const refuse = (code: RefusalCode, detail: string, sent: Screened['sent'] = undefined): Screened => ({
    id,
    sent,
    refusal: { code, detail },
  });
  if (id === '') return refuse('malformed', 'the fact has no id; give it a UUIDv7');
  if (value.firm !== firm)
    return refuse('other firm', 'the fact names another firm than the one signed in to');
  for (const column of ['id', 'kind', 'property', 'station'] as const) {
    const why = keyProblem(value[column], column === 'property' || column === 'station');
    if (why !== undefined) return refuse('malformed', `${column}: ${why}`);
  }
  const fact = withoutReceipt(value);
  let content: string;
  try {
    content = canonicalJson(fact);
  } catch (error) {
    return refuse('malformed', error instanceof Error ? error.message : 'cannot be written as JSON');
  }
  const sent = { fact, content };
  const check = folds.checkFact(fact);
  return check.ok ? { id, sent, refusal: undefined } : refuse(check.code, check.detail, sent);
}

function readId(value: unknown): string {
  if (typeof value !== 'object' || value === null || !('id' in value)) return '';
  return typeof value.id === 'string' ? value.id : '';
}

function keyProblem(key: unknown, mayBeNull: boolean): string | undefined {
  if (key === null && mayBeNull) return undefined;
  if (typeof key !== 'string' || key === '') return mayBeNull ? 'must be text or null' : 'must be text';
  if (key.length > LONGEST_KEY) return `longer than ${LONGEST_KEY} characters`;
  if (!key.isWellFormed() || key.includes('\u0000')) return 'holds a character that cannot be stored';
  return undefined;
}

/** What is already in the firm's ledger under an id. */
export type Known = ReadonlyMap<string, { readonly seq: number; readonly text: string }>;

export interface Settled {
  readonly verdicts: readonly Verdict[];
  /** the accepted facts, in order, with their receipts and hashes */
  readonly entries: readonly Entry[];
  readonly head: Head;
}

/** Gives every fact of a batch its verdict, and the accepted ones their places after `head`. */
export function settleBatch(
  facts: readonly Screened[],
  known: Known,
  head: Head,
  receivedAt: string,
): Settled {
  const entries: Entry[] = [];
  const added = new Map<string, Entry>();
  const verdicts = facts.map(({ id, sent, refusal }): Verdict => {
    const earlier = known.get(id) ?? added.get(id);
    // Asked before the refusal: what an older, laxer build accepted stays acknowledged when a phone sends it again.
    if (earlier !== undefined && sent !== undefined)
      return sameContent(earlier.text, sent.content)
        ? { id, verdict: 'already known', seq: earlier.seq }
        : {
            id,
            verdict: 'refused',
            code: 'id reused with other content',
            detail: `position ${earlier.seq} holds another fact under this id; record the new one under a new id`,
          };
    if (refusal !== undefined) return { id, verdict: 'refused', ...refusal };
    if (sent === undefined) throw new Error('a fact that cannot be stored was not refused');
    const entry = makeEntry(sent.fact, head, receivedAt);
    head = { seq: entry.seq, hash: entry.hash };
    entries.push(entry);
    added.set(id, entry);
    return { id, verdict: 'accepted', seq: entry.seq };
  });
  return { verdicts, entries, head };
}

function sameContent(storedText: string, content: string): boolean {
  return canonicalJson(withoutReceipt(entryToFact({ text: storedText }))) === content;
}

function makeEntry(fact: AnyFact, head: Head, receivedAt: string): Entry {
  const seq = head.seq + 1;
  const text = canonicalJson({ ...fact, receipt: { seq, receivedAt } });
  const { id, property, station, kind, device } = fact;
  return { seq, id, property, station, kind, device, text, hash: linkHash(head.hash, text) };
}
