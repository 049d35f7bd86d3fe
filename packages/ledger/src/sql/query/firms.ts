import type { Kysely } from 'kysely';
import type { Tables } from '../tables.ts';

export async function findFirmState(db: Kysely<Tables>, firm: string): Promise<string | undefined> {
  const row = await db.selectFrom('ledger_firm').select('state').where('firm', '=', firm).executeTakeFirst();
  return row?.state;
}

export async function upsertFirmState(tx: Kysely<Tables>, firm: string, state: string): Promise<void> {
  await tx
    .insertInto('ledger_firm')
    .values({ firm, state })
    .onConflict((conflict) =>
      conflict.column('firm').doUpdateSet((set) => ({ state: set.ref('excluded.state') })),
    )
    .execute();
}
