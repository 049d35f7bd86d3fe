import { eachFactPage, type Ledger } from '@sillwatch/ledger';
import { IMPORT_BACK_DEVICE, IMPORT_DEVICE } from '@sillwatch/paper';
import { type AnyFact, CORRECTION, compareRecorded } from '@sillwatch/trade';
import { correctedId } from '../records/envelope.ts';

/** What earlier imports stored, by id, and which of it was taken back with its whole import. */
export async function listImported(
  ledger: Ledger,
  firm: string,
): Promise<{ readonly known: ReadonlyMap<string, AnyFact>; readonly takenBack: ReadonlySet<string> }> {
  const known = new Map<string, AnyFact>();
  const corrections: AnyFact[] = [];
  for await (const page of eachFactPage(ledger, firm)) {
    for (const fact of page) {
      if (fact.device === IMPORT_DEVICE) known.set(fact.id, fact);
      if (fact.kind === CORRECTION) corrections.push(fact);
    }
  }
  const endings = createEndings(corrections);
  const takenBack = new Set<string>();
  for (const id of known.keys()) if (endings.find(id)?.device === IMPORT_BACK_DEVICE) takenBack.add(id);
  return { known, takenBack };
}

export interface Endings {
  /** The correction that withdraws this fact; undefined while the fact stands, whatever it says. */
  find(id: string): AnyFact | undefined;
  /** Corrections that name this fact, the last recorded first. */
  of(id: string): readonly AnyFact[];
}

/** Which facts are withdrawn, by the rule of `resolveFacts`: the last correction that stands wins. */
export function createEndings(corrections: readonly AnyFact[]): Endings {
  const byTarget = Map.groupBy(
    corrections.toSorted((a, b) => compareRecorded(b, a)),
    (fact) => correctedId(fact),
  );
  const of = (id: string): readonly AnyFact[] => byTarget.get(id) ?? [];
  const find = (id: string, seen: ReadonlySet<string>): AnyFact | undefined => {
    const winner = of(id).find(
      (one) => !seen.has(one.id) && find(one.id, new Set(seen).add(one.id)) === undefined,
    );
    return winner !== undefined && isWithdrawing(winner) ? winner : undefined;
  };
  return { of, find: (id) => find(id, new Set()) };
}

function isWithdrawing({ body }: AnyFact): boolean {
  return typeof body === 'object' && body !== null && 'body' in body && body.body === null;
}

/** An import is its place in the ledger, first to last: one append is one transaction, and takes one stretch. */
export function importId(seqs: readonly number[]): string | null {
  const first = seqs[0];
  const last = seqs.at(-1);
  return first === undefined || last === undefined ? null : `${first}-${last}`;
}
