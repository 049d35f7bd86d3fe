import type { Kysely } from 'kysely';
import type { Tables } from '../tables.ts';

/** The version of the folds that made all projections; undefined where none was written down yet. */
export async function findVersion(db: Kysely<Tables>): Promise<number | undefined> {
  const row = await db.selectFrom('ledger_fold').select('version').executeTakeFirst();
  return row?.version;
}

export async function setVersion(db: Kysely<Tables>, version: number): Promise<void> {
  await db.transaction().execute(async (tx) => {
    await tx.deleteFrom('ledger_fold').execute();
    await tx
      .insertInto('ledger_fold')
      .values({ version })
      .onConflict((conflict) => conflict.column('version').doNothing())
      .execute();
  });
}
