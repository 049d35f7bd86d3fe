import type { Kysely } from 'kysely';
import { DEFAULT_FACTS } from '../../core/defaults.ts';
import type { Entry } from '../../core/entry.ts';
import type { FactQuery } from '../../port.ts';
import type { Tables } from '../tables.ts';
import { chunksOf } from './chunks.ts';

const COLUMNS = ['seq', 'id', 'property', 'station', 'kind', 'device', 'text', 'hash'] as const;

export async function insertEntries(
  tx: Kysely<Tables>,
  firm: string,
  entries: readonly Entry[],
): Promise<void> {
  for (const chunk of chunksOf(entries, 250)) {
    await tx
      .insertInto('ledger_fact')
      .values(chunk.map((entry) => ({ firm, ...entry })))
      .execute();
  }
}

/** What the firm's ledger already holds under these ids. */
export async function listKnown(
  db: Kysely<Tables>,
  firm: string,
  ids: readonly string[],
): Promise<ReadonlyMap<string, { readonly seq: number; readonly text: string }>> {
  const known = new Map<string, { readonly seq: number; readonly text: string }>();
  for (const chunk of chunksOf(ids, 500)) {
    const rows = await db
      .selectFrom('ledger_fact')
      .select(['id', 'seq', 'text'])
      .where('firm', '=', firm)
      .where('id', 'in', chunk)
      .execute();
    for (const { id, seq, text } of rows) known.set(id, { seq, text });
  }
  return known;
}

export async function findText(
  db: Kysely<Tables>,
  firm: string,
  id: string,
): Promise<{ readonly text: string } | undefined> {
  return db
    .selectFrom('ledger_fact')
    .select('text')
    .where('firm', '=', firm)
    .where('id', '=', id)
    .executeTakeFirst();
}

export async function listTexts(
  db: Kysely<Tables>,
  firm: string,
  { afterSeq = 0, property, station, kinds, devices, limit = DEFAULT_FACTS }: FactQuery,
): Promise<readonly { readonly text: string }[]> {
  let query = db
    .selectFrom('ledger_fact')
    .select(['seq', 'text'])
    .where('firm', '=', firm)
    .where('seq', '>', afterSeq)
    .orderBy('seq')
    .limit(limit);
  if (property !== undefined) query = query.where('property', '=', property);
  if (station !== undefined) query = query.where('station', '=', station);
  if (kinds === undefined && devices === undefined) return query.execute();
  if (kinds?.length === 0 || devices?.length === 0) return [];
  const isNarrow = property !== undefined || station !== undefined;
  if (kinds !== undefined && (isNarrow || devices !== undefined)) query = query.where('kind', 'in', kinds);
  if (isNarrow) return (devices === undefined ? query : query.where('device', 'in', devices)).execute();
  // One by one: asked for several at once in the order of the ledger, SQLite walks all of it (7 s of 4 million entries).
  const found = await Promise.all(
    devices !== undefined
      ? [...new Set(devices)].map((device) => query.where('device', '=', device).execute())
      : [...new Set(kinds)].map((kind) => query.where('kind', '=', kind).execute()),
  );
  return found
    .flat()
    .sort((a, b) => Number(a.seq) - Number(b.seq))
    .slice(0, limit);
}

/** Whole entries for walking the chain, from after one position up to and with another. */
export async function listEntries(
  db: Kysely<Tables>,
  firm: string,
  afterSeq: number,
  untilSeq: number,
  limit: number,
): Promise<readonly Entry[]> {
  return db
    .selectFrom('ledger_fact')
    .select(COLUMNS)
    .where('firm', '=', firm)
    .where('seq', '>', afterSeq)
    .where('seq', '<=', untilSeq)
    .orderBy('seq')
    .limit(limit)
    .execute();
}

/** All facts of some properties, each in ledger order. */
export async function listTextsOfProperties(
  db: Kysely<Tables>,
  firm: string,
  properties: readonly string[],
): Promise<readonly { readonly property: string | null; readonly text: string }[]> {
  return db
    .selectFrom('ledger_fact')
    .select(['property', 'text'])
    .where('firm', '=', firm)
    .where('property', 'in', properties)
    .orderBy('property')
    .orderBy('seq')
    .execute();
}

/** The facts of the firm itself that are of these kinds. */
export async function listTextsOfFirm(
  db: Kysely<Tables>,
  firm: string,
  kinds: readonly string[],
): Promise<readonly { readonly text: string }[]> {
  return db
    .selectFrom('ledger_fact')
    .select('text')
    .where('firm', '=', firm)
    .where('property', 'is', null)
    .where('kind', 'in', kinds)
    .orderBy('seq')
    .execute();
}

/** Ids of the properties that facts name, in order, a page after `after`. */
export async function listPropertyIds(
  db: Kysely<Tables>,
  firm: string,
  after: string,
  limit: number,
): Promise<readonly string[]> {
  const rows = await db
    .selectFrom('ledger_fact')
    .select('property')
    .distinct()
    .where('firm', '=', firm)
    .where('property', '>', after)
    .orderBy('property')
    .limit(limit)
    .execute();
  return rows.flatMap(({ property }) => (property === null ? [] : [property]));
}

export async function countProperties(db: Kysely<Tables>, firm: string): Promise<number> {
  const { count } = await db
    .selectFrom('ledger_fact')
    .select(({ fn }) => fn.count<number>('property').distinct().as('count'))
    .where('firm', '=', firm)
    .executeTakeFirstOrThrow();
  return Number(count);
}
