import { type Kysely, sql } from 'kysely';
import { LedgerUnusableError } from '../core/errors.ts';
import type { Flavour, Tables } from './tables.ts';

interface Migration {
  /** From 1, without gaps; never renumbered, never changed once released. */
  readonly number: number;
  readonly name: string;
  readonly statements: (flavour: Flavour) => readonly string[];
}

const MIGRATIONS: readonly Migration[] = [
  {
    number: 1,
    name: 'facts, heads and projections',
    statements: ({ keyType }) => [
      `create table ledger_head (
         firm ${keyType} not null primary key,
         seq bigint not null,
         hash text not null)`,
      `create table ledger_fact (
         firm ${keyType} not null,
         seq bigint not null,
         id ${keyType} not null,
         property ${keyType},
         station ${keyType},
         kind ${keyType} not null,
         text text not null,
         hash text not null,
         primary key (firm, seq))`,
      'create unique index ledger_fact_by_id on ledger_fact (firm, id)',
      'create index ledger_fact_by_property on ledger_fact (firm, property, seq)',
      'create index ledger_fact_by_station on ledger_fact (firm, station, seq) where station is not null',
      `create table ledger_property (
         firm ${keyType} not null,
         property ${keyType} not null,
         branch ${keyType},
         search text not null,
         state text not null,
         primary key (firm, property))`,
      'create index ledger_property_by_branch on ledger_property (firm, branch, property)',
      `create table ledger_firm (
         firm ${keyType} not null primary key,
         state text not null)`,
    ],
  },
  {
    number: 2,
    name: 'facts by kind, and which folds made the projections',
    statements: () => [
      'create index ledger_fact_by_kind on ledger_fact (firm, kind, seq)',
      'create table ledger_fold (version integer not null primary key)',
    ],
  },
  {
    number: 3,
    name: 'facts by device',
    statements: ({ keyType, deviceOfText }) => [
      `alter table ledger_fact add column device ${keyType}`,
      `update ledger_fact set device = ${deviceOfText}`,
      'create index ledger_fact_by_device on ledger_fact (firm, device, seq)',
    ],
  },
];

/**
 * Brings the database to this build's tables; run at every opening, in one transaction.
 * @throws LedgerUnusableError when a newer build has been here.
 */
export async function migrate(db: Kysely<Tables>, flavour: Flavour): Promise<void> {
  await db.transaction().execute(async (tx) => {
    if (flavour.migrationLock !== undefined) await sql.raw(flavour.migrationLock).execute(tx);
    await sql`create table if not exists ledger_migration (number integer not null primary key, name text not null)`.execute(
      tx,
    );
    const rows = await tx.selectFrom('ledger_migration').select('number').orderBy('number').execute();
    const done = rows.at(-1)?.number ?? 0;
    const newest = MIGRATIONS.at(-1)?.number ?? 0;
    if (done > newest)
      throw new LedgerUnusableError(
        `the database was last opened by a newer Sillwatch (tables of step ${done}, this build knows ${newest}); update this one`,
      );
    for (const migration of MIGRATIONS.filter(({ number }) => number > done)) {
      for (const statement of migration.statements(flavour)) await sql.raw(statement).execute(tx);
      await tx
        .insertInto('ledger_migration')
        .values({ number: migration.number, name: migration.name })
        .execute();
    }
  });
}
