import { sql } from 'kysely';
import type { Person } from '../http/context.ts';
import { type AccountDatabase, openAccountDatabase } from './database.ts';
import { createLibrary, type Library } from './library.ts';
import { isRole } from './roles.ts';

export interface AccountSettings {
  /** the ledger's own: a file, or a PostgreSQL URL */
  readonly databaseUrl: string;
  /** signs cookies and tokens, encrypts second-factor secrets; 32 characters or more */
  readonly secret: string;
  readonly secureCookies: boolean;
  readonly signInsPerMinute: number;
  readonly newId: () => string;
  readonly now: () => number;
}

/** Firms and people on the account library, in the ledger's database. */
export interface Accounts {
  readonly database: AccountDatabase;
  readonly library: Library;
  readonly newId: () => string;
  readonly now: () => number;
  /** Who sends these headers: by cookie or bearer token; undefined = nobody, or somebody who was removed. */
  findSignedIn(headers: Headers): Promise<Person | undefined>;
  findPerson(userId: string): Promise<Person | undefined>;
  listFirms(): Promise<readonly { readonly id: string; readonly name: string }[]>;
  findFirmName(firm: string): Promise<string | undefined>;
  hasAnyAccount(): Promise<boolean>;
  close(): Promise<void>;
}

/** Opens the store and brings its tables up to date. Throws when the database cannot be reached. */
export async function openAccounts(settings: AccountSettings): Promise<Accounts> {
  if (settings.secret.length < 32) {
    throw new RangeError(
      'the account secret has fewer than 32 characters; generate one with 32 random bytes',
    );
  }
  const database = openAccountDatabase(settings.databaseUrl);
  const library = createLibrary({
    database,
    secret: settings.secret,
    secureCookies: settings.secureCookies,
    signInsPerMinute: settings.signInsPerMinute,
    now: settings.now,
    maySignIn: async (userId) => (await findPerson(database, userId)) !== undefined,
  });
  await database.alone(async () => {
    await library.migrate();
    await createOwnTables(database);
  });
  return {
    database,
    library,
    newId: settings.newId,
    now: settings.now,
    findSignedIn: async (headers) => {
      const session = await library.api.getSession({ headers });
      return session === null ? undefined : findPerson(database, session.user.id);
    },
    findPerson: (userId) => findPerson(database, userId),
    listFirms: () => database.db.selectFrom('organization').select(['id', 'name']).orderBy('id').execute(),
    findFirmName: async (firm) => {
      const row = await database.db
        .selectFrom('organization')
        .select('name')
        .where('id', '=', firm)
        .executeTakeFirst();
      return row?.name;
    },
    hasAnyAccount: async () =>
      (await database.db.selectFrom('user').select('id').limit(1).executeTakeFirst()) !== undefined,
    close: () => database.close(),
  };
}

async function createOwnTables({ db, kind }: AccountDatabase): Promise<void> {
  await db.schema
    .createTable('accountSetup')
    .ifNotExists()
    .addColumn('one', 'integer', (column) => column.primaryKey().check(sql`one = 1`))
    .addColumn('doneAt', kind === 'postgres' ? 'timestamptz' : 'text', (column) => column.notNull())
    .execute();
}

/** Only members who were not removed: whoever is not found here is nobody, whatever cookie is sent. */
async function findPerson({ db }: AccountDatabase, userId: string): Promise<Person | undefined> {
  const row = await db
    .selectFrom('member')
    .innerJoin('user', 'user.id', 'member.userId')
    .innerJoin('organization', 'organization.id', 'member.organizationId')
    .where('member.userId', '=', userId)
    .where('member.removedAt', 'is', null)
    .select([
      'user.id',
      'user.name',
      'user.email',
      'user.twoFactorEnabled',
      'user.mustChangePassword',
      'organization.id as firm',
      'organization.name as firmName',
      'member.role',
      'member.branch',
      'member.licenceNumber',
      'member.certificationNumber',
    ])
    .executeTakeFirst();
  if (row === undefined || !isRole(row.role)) return undefined;
  return {
    id: row.id,
    name: row.name,
    email: row.email,
    firm: row.firm,
    firmName: row.firmName,
    role: row.role,
    branch: row.branch,
    licenceNumber: row.licenceNumber,
    certificationNumber: row.certificationNumber,
    twoFactor: Boolean(row.twoFactorEnabled),
    mustChangePassword: Boolean(row.mustChangePassword),
  };
}
