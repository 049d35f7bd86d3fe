import { sql } from 'kysely';
import { openAccountDatabase } from '../accounts/database.ts';

/**
 * When each secret address was opened last: not who opened it, nor from where. Not a fact, because whoever holds an address
 * could then write into the ledger as often as he asks (decision 0206).
 */
export interface LinkUses {
  /** Kept to some minutes, so that a calendar that asks often costs a write now and then. */
  note(firm: string, link: string, atMs: number): Promise<void>;
  /** RFC 3339, UTC, by link. */
  list(firm: string): Promise<ReadonlyMap<string, string>>;
  close(): Promise<void>;
}

type UseTables = {
  link_use: { firm: string; link: string; used_at: string };
};

const EVERY_MILLISECONDS = 5 * 60_000;
/** Beyond so many links of this process the times are written anew, which costs a write each and loses nothing. */
const MOST_REMEMBERED = 10_000;

/** `databaseUrl` as the ledger reads it; the table lies beside the ledger's own. */
export async function openLinkUses(databaseUrl: string): Promise<LinkUses> {
  const database = openAccountDatabase(databaseUrl);
  const db = database.db.withTables<UseTables>();
  await database.alone(async () => {
    await sql`create table if not exists link_use (
      firm text not null, link text not null, used_at text not null, primary key (firm, link))`.execute(db);
  });
  const noted = new Map<string, number>();
  return {
    async note(firm, link, atMs) {
      const key = `${firm} ${link}`;
      if (atMs - (noted.get(key) ?? Number.NEGATIVE_INFINITY) < EVERY_MILLISECONDS) return;
      if (noted.size >= MOST_REMEMBERED) noted.clear();
      noted.set(key, atMs);
      const used_at = new Date(atMs).toISOString();
      await db
        .insertInto('link_use')
        .values({ firm, link, used_at })
        .onConflict((conflict) => conflict.columns(['firm', 'link']).doUpdateSet({ used_at }))
        .execute();
    },
    async list(firm) {
      const rows = await db
        .selectFrom('link_use')
        .select(['link', 'used_at'])
        .where('firm', '=', firm)
        .execute();
      return new Map(rows.map(({ link, used_at }) => [link, used_at]));
    },
    close: () => database.close(),
  };
}
