import { type Ledger, listEveryFact } from '@sillwatch/ledger';
import { IMPORT_BACK_DEVICE, IMPORT_DEVICE } from '@sillwatch/paper';
import { type AnyFact, CORRECTION, readCorrections } from '@sillwatch/trade';

/** What earlier imports stored, by id, and which of it was taken back with its whole import. */
export async function listImported(
  ledger: Ledger,
  firm: string,
): Promise<{ readonly known: ReadonlyMap<string, AnyFact>; readonly takenBack: ReadonlySet<string> }> {
  const imported = await listEveryFact(ledger, firm, { devices: [IMPORT_DEVICE] });
  const known = new Map(imported.map((fact) => [fact.id, fact]));
  const corrections = await listEveryFact(ledger, firm, { kinds: [CORRECTION] });
  const { findStanding } = readCorrections(corrections);
  const takenBack = new Set<string>();
  for (const fact of known.values()) {
    const said = findStanding(fact);
    if (said?.body === null && said.correction.device === IMPORT_BACK_DEVICE) takenBack.add(fact.id);
  }
  return { known, takenBack };
}

/** An import is its place in the ledger, first to last: one append is one transaction, and takes one stretch. */
export function importId(seqs: readonly number[]): string | null {
  const first = seqs[0];
  const last = seqs.at(-1);
  return first === undefined || last === undefined ? null : `${first}-${last}`;
}
