import { eachFactPage, type Ledger } from '@sillwatch/ledger';
import { IMPORT_BACK_DEVICE, IMPORT_DEVICE } from '@sillwatch/paper';
import { type AnyFact, correctedId } from '@sillwatch/trade';
import { isSameImport } from './withdrawImport.ts';

export interface PastImport {
  /** first and last position in the ledger */
  readonly id: string;
  /** account id */
  readonly by: string;
  readonly importedAt: string;
  readonly facts: number;
  /** when it was taken back; null = it stands, as far as single entries were not corrected */
  readonly takenBackAt: string | null;
}

interface Shelved {
  /** ledger position of the last fact that was read */
  seq: number;
  readonly imports: Entry[];
}

interface Entry {
  readonly start: AnyFact;
  readonly first: number;
  last: number;
  takenBackAt: string | null;
}

/** Imports of each firm, the latest first; only what is new since it was last asked is read. */
export function createImportShelf(ledger: Ledger): { list(firm: string): Promise<readonly PastImport[]> } {
  const shelf = new Map<string, Promise<Shelved>>();
  return {
    async list(firm) {
      // One reading at a time for a firm; a failed one leaves nothing behind.
      const before = shelf.get(firm) ?? Promise.resolve({ seq: 0, imports: [] });
      const next = before.then((kept) => readOn(ledger, firm, kept));
      shelf.set(firm, next);
      const { imports } = await next.catch((error: unknown) => {
        shelf.delete(firm);
        throw error;
      });
      return imports.toReversed().map(show);
    },
  };
}

async function readOn(ledger: Ledger, firm: string, kept: Shelved): Promise<Shelved> {
  const { imports } = kept;
  let lastBack = '';
  for await (const page of eachFactPage(ledger, firm, {
    afterSeq: kept.seq,
    devices: [IMPORT_DEVICE, IMPORT_BACK_DEVICE],
  })) {
    for (const fact of page) {
      const seq = fact.receipt?.seq ?? 0;
      kept.seq = seq;
      if (fact.device === IMPORT_DEVICE) {
        const open = imports.at(-1);
        if (open !== undefined && open.last === seq - 1 && isSameImport(open.start, fact)) open.last = seq;
        else imports.push({ start: fact, first: seq, last: seq, takenBackAt: null });
      } else if (fact.device === IMPORT_BACK_DEVICE) {
        const receivedAt = fact.receipt?.receivedAt ?? fact.at;
        // All corrections of one taking back belong to one import: the first tells which.
        if (receivedAt === lastBack) continue;
        lastBack = receivedAt;
        const target = (await ledger.findFact(firm, correctedId(fact) ?? ''))?.receipt?.seq ?? 0;
        const of = imports.find(({ first, last }) => first <= target && target <= last);
        if (of !== undefined) of.takenBackAt = receivedAt;
      }
    }
  }
  return kept;
}

function show({ start, first, last, takenBackAt }: Entry): PastImport {
  return {
    id: `${first}-${last}`,
    by: start.by,
    importedAt: start.receipt?.receivedAt ?? start.at,
    facts: last - first + 1,
    takenBackAt,
  };
}
