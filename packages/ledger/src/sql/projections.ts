import type { Kysely } from 'kysely';
import { canonicalJson } from '../core/canonical.ts';
import { entryToFact } from '../core/entry.ts';
import { projectProperty } from '../core/search.ts';
import type { Folds } from '../port.ts';
import { chunksOf } from './query/chunks.ts';
import * as facts from './query/facts.ts';
import * as firms from './query/firms.ts';
import * as foldVersions from './query/foldVersions.ts';
import * as properties from './query/properties.ts';
import type { Tables } from './tables.ts';

/** Properties folded from one statement: bounds the memory that their facts take. */
const PROPERTIES_AT_ONCE = 20;

/** Folds the named properties (null: the firm itself) anew from all their facts and stores what came out. */
export async function refold(
  tx: Kysely<Tables>,
  firm: string,
  touched: Iterable<string | null>,
  folds: Folds,
): Promise<void> {
  const ids = new Set(touched);
  if (ids.delete(null)) {
    const texts = await facts.listTextsOfFirm(tx, firm, folds.firmKinds);
    await firms.upsertFirmState(tx, firm, canonicalJson(folds.foldFirm(texts.map(entryToFact))));
  }
  const named = [...ids].filter((id) => id !== null);
  for (const chunk of chunksOf(named, PROPERTIES_AT_ONCE)) {
    await refoldProperties(tx, firm, chunk, folds);
  }
}

async function refoldProperties(
  tx: Kysely<Tables>,
  firm: string,
  ids: readonly string[],
  folds: Folds,
): Promise<void> {
  const rows = await facts.listTextsOfProperties(tx, firm, ids);
  const textsById = Map.groupBy(rows, ({ property }) => property);
  await properties.upsertProperties(
    tx,
    firm,
    ids.map((id) => projectProperty(id, folds.foldProperty((textsById.get(id) ?? []).map(entryToFact)))),
  );
}

/** Runs one piece of work in a transaction that holds the firm's head. */
export type RunLocked = <T>(work: (tx: Kysely<Tables>) => Promise<T>) => Promise<T>;

/**
 * Computes the firm's projections anew from its facts, some properties a transaction, so that neither readers nor appends
 * ever see a gap or wait long: each row is right before and after.
 */
export async function rebuildProjections(
  runLocked: RunLocked,
  firm: string,
  folds: Folds,
  onProgress: (done: number, total: number) => void | Promise<void>,
): Promise<void> {
  const total = await runLocked(async (tx) => {
    await properties.deleteStrays(tx, firm);
    await refold(tx, firm, [null], folds);
    return facts.countProperties(tx, firm);
  });
  let after = '';
  for (let done = 0; ; ) {
    const ids = await runLocked(async (tx) => {
      const page = await facts.listPropertyIds(tx, firm, after, PROPERTIES_AT_ONCE);
      await refold(tx, firm, page, folds);
      return page;
    });
    const last = ids.at(-1);
    if (last === undefined) return;
    after = last;
    done += ids.length;
    await onProgress(done, total);
  }
}

/** Computes every firm's projections anew when folds of another version made them; run at every opening. */
export async function renewStale(
  db: Kysely<Tables>,
  firmIds: () => Promise<readonly string[]>,
  rebuild: (firm: string) => Promise<void>,
  version: number,
): Promise<void> {
  if ((await foldVersions.findVersion(db)) === version) return;
  for (const firm of await firmIds()) await rebuild(firm);
  await foldVersions.setVersion(db, version);
}
