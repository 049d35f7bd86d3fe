import type { Kysely } from 'kysely';
import type { Screened, Settled } from '../core/judge.ts';
import { settleBatch } from '../core/judge.ts';
import type { Folds, Verdict } from '../port.ts';
import { refold } from './projections.ts';
import * as chain from './query/chain.ts';
import * as facts from './query/facts.ts';
import type { Flavour, Tables } from './tables.ts';

/** One call of `append`, screened, waiting for its turn. */
export interface AppendCall {
  readonly firm: string;
  readonly facts: readonly Screened[];
  readonly receivedAt: string;
}

/** Appends the calls in order inside one transaction; each firm is locked, written and projected once. */
export async function appendCalls(
  tx: Kysely<Tables>,
  flavour: Flavour,
  folds: Folds,
  calls: readonly AppendCall[],
): Promise<readonly (readonly Verdict[])[]> {
  const verdictsByCall = new Map<AppendCall, readonly Verdict[]>();
  for (const [firm, ofFirm] of Map.groupBy(calls, (call) => call.firm))
    await appendOfFirm(tx, flavour, folds, firm, ofFirm, verdictsByCall);
  return calls.map((call) => verdictsByCall.get(call) ?? []);
}

async function appendOfFirm(
  tx: Kysely<Tables>,
  flavour: Flavour,
  folds: Folds,
  firm: string,
  calls: readonly AppendCall[],
  verdictsByCall: Map<AppendCall, readonly Verdict[]>,
): Promise<void> {
  const start = await chain.lockHead(tx, flavour, firm);
  const known = new Map(await facts.listKnown(tx, firm, storableIds(calls)));
  const settled: Settled[] = [];
  let head = start;
  for (const call of calls) {
    const one = settleBatch(call.facts, known, head, call.receivedAt);
    head = one.head;
    for (const entry of one.entries) known.set(entry.id, entry);
    settled.push(one);
    verdictsByCall.set(call, one.verdicts);
  }
  if (head.seq === start.seq) return;
  const entries = settled.flatMap((one) => one.entries);
  await facts.insertEntries(tx, firm, entries);
  await chain.setHead(tx, firm, head);
  await refold(
    tx,
    firm,
    entries.map(({ property }) => property),
    folds,
  );
}

function storableIds(calls: readonly AppendCall[]): readonly string[] {
  const ids = new Set<string>();
  for (const call of calls) for (const { id, sent } of call.facts) if (sent !== undefined) ids.add(id);
  return [...ids];
}
