import type { Kysely } from 'kysely';
import { sql } from 'kysely';
import { DEFAULT_PROPERTIES } from '../../core/defaults.ts';
import type { PropertyRow } from '../../core/search.ts';
import { searchWords } from '../../core/search.ts';
import type { PropertyQuery } from '../../port.ts';
import type { Tables } from '../tables.ts';
import { chunksOf } from './chunks.ts';

export async function upsertProperties(
  tx: Kysely<Tables>,
  firm: string,
  rows: readonly PropertyRow[],
): Promise<void> {
  for (const chunk of chunksOf(rows, 250))
    await tx
      .insertInto('ledger_property')
      .values(chunk.map((row) => ({ firm, ...row })))
      .onConflict((conflict) =>
        conflict.columns(['firm', 'property']).doUpdateSet((set) => ({
          branch: set.ref('excluded.branch'),
          search: set.ref('excluded.search'),
          state: set.ref('excluded.state'),
        })),
      )
      .execute();
}

/** Removes rows of properties that no fact names. */
export async function deleteStrays(tx: Kysely<Tables>, firm: string): Promise<void> {
  await tx
    .deleteFrom('ledger_property')
    .where('firm', '=', firm)
    .where(({ not, exists, selectFrom }) =>
      not(
        exists(
          selectFrom('ledger_fact')
            .select('seq')
            .whereRef('ledger_fact.firm', '=', 'ledger_property.firm')
            .whereRef('ledger_fact.property', '=', 'ledger_property.property'),
        ),
      ),
    )
    .execute();
}

export async function findPropertyState(
  db: Kysely<Tables>,
  firm: string,
  property: string,
): Promise<string | undefined> {
  const row = await db
    .selectFrom('ledger_property')
    .select('state')
    .where('firm', '=', firm)
    .where('property', '=', property)
    .executeTakeFirst();
  return row?.state;
}

export async function listPropertyStates(
  db: Kysely<Tables>,
  firm: string,
  { branch, text, after = '', limit = DEFAULT_PROPERTIES }: PropertyQuery,
): Promise<readonly string[]> {
  let query = db
    .selectFrom('ledger_property')
    .select('state')
    .where('firm', '=', firm)
    .where('property', '>', after)
    .orderBy('property')
    .limit(limit);
  if (branch !== undefined) query = query.where('branch', '=', branch);
  for (const word of searchWords(text))
    query = query.where(sql<boolean>`search like ${`%${escapeLike(word)}%`} escape '\\'`);
  const rows = await query.execute();
  return rows.map(({ state }) => state);
}

function escapeLike(word: string): string {
  return word.replace(/[\\%_]/g, '\\$&');
}
