import type { Kysely } from 'kysely';
import { EMPTY_HEAD } from '../../core/chain.ts';
import type { Head } from '../../core/entry.ts';
import type { Flavour, Tables } from '../tables.ts';

/** The firm's head, locked until the transaction ends; made when the firm has none yet. */
export async function lockHead(tx: Kysely<Tables>, flavour: Flavour, firm: string): Promise<Head> {
  const find = () =>
    tx
      .selectFrom('ledger_head')
      .select(['seq', 'hash'])
      .where('firm', '=', firm)
      .$if(flavour.locksRows, (query) => query.forUpdate())
      .executeTakeFirst();
  const head = await find();
  if (head !== undefined) return head;
  await tx
    .insertInto('ledger_head')
    .values({ firm, ...EMPTY_HEAD })
    .onConflict((conflict) => conflict.column('firm').doNothing())
    .execute();
  return (await find()) ?? EMPTY_HEAD;
}

export async function setHead(tx: Kysely<Tables>, firm: string, head: Head): Promise<void> {
  await tx
    .updateTable('ledger_head')
    .set({ seq: head.seq, hash: head.hash })
    .where('firm', '=', firm)
    .execute();
}

/** Head and last stored position in one statement, so that both are of one instant. */
export async function findTip(
  db: Kysely<Tables>,
  firm: string,
): Promise<{ readonly head: Head; readonly lastSeq: number }> {
  const { seq, hash, last } = await db
    .selectNoFrom((from) => [
      from.selectFrom('ledger_head').select('seq').where('firm', '=', firm).as('seq'),
      from.selectFrom('ledger_head').select('hash').where('firm', '=', firm).as('hash'),
      from
        .selectFrom('ledger_fact')
        .select(({ fn }) => fn.max('seq').as('last'))
        .where('firm', '=', firm)
        .as('last'),
    ])
    .executeTakeFirstOrThrow();
  return {
    head: { seq: seq ?? EMPTY_HEAD.seq, hash: hash ?? EMPTY_HEAD.hash },
    lastSeq: last ?? 0,
  };
}

/** Firms that have at least one fact, ordered by id. */
export async function listHeads(
  db: Kysely<Tables>,
): Promise<readonly { readonly firm: string; readonly seq: number; readonly hash: string }[]> {
  return db
    .selectFrom('ledger_head')
    .select(['firm', 'seq', 'hash'])
    .where('seq', '>', 0)
    .orderBy('firm')
    .execute();
}
