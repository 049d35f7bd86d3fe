import type { CompiledQuery } from 'kysely';
import type { Person } from '../http/context.ts';
import { Problem } from '../http/problems.ts';
import type { Accounts } from './accounts.ts';
import { checkPassword, createOneTimePassword } from './passwords.ts';
import { isRole, MAY_APPOINT, type Role } from './roles.ts';

export interface NewPerson {
  readonly name: string;
  readonly email: string;
  readonly role: Role;
  readonly branch: string | null;
  readonly licenceNumber: string | null;
  readonly certificationNumber: string | null;
}

export interface ListedPerson {
  readonly id: string;
  readonly name: string;
  readonly email: string;
  readonly role: Role;
  readonly branch: string | null;
  readonly licenceNumber: string | null;
  readonly certificationNumber: string | null;
  readonly twoFactor: boolean;
  /** RFC 3339; null = still here. Former people stay listed, because their records name them. */
  readonly removedAt: string | null;
}

export interface SeedAccount extends NewPerson {
  readonly password: string;
}

/** First-run set-up: the firm and its owner, once. A second call, even at the same instant, is refused. */
export async function createFirstOwner(
  accounts: Accounts,
  input: {
    readonly firmName: string;
    readonly name: string;
    readonly email: string;
    readonly password: string;
  },
): Promise<{ readonly firm: string; readonly person: string }> {
  checkPassword(input.password, input);
  if (await accounts.hasAnyAccount()) throw new Problem('already set up', 'An account exists already.');
  const firm = accounts.newId();
  const person = accounts.newId();
  const rows = await personRows(accounts, {
    ...input,
    id: person,
    firm,
    role: 'owner',
    branch: null,
    licenceNumber: null,
    certificationNumber: null,
    mustChangePassword: false,
  });
  try {
    await accounts.database.apply([setupRow(accounts), firmRow(accounts, firm, input.firmName), ...rows]);
  } catch (error) {
    if (await accounts.hasAnyAccount()) throw new Problem('already set up', 'An account exists already.');
    throw error;
  }
  return { firm, person };
}

/**
 * Creates a firm with this id unless it exists, and one person in it with a known password: for the demo, tests and
 * the command line. Closes first-run set-up. Returns the account id; an e-mail in use is returned as it is.
 */
export async function seedAccount(
  accounts: Accounts,
  firm: { readonly id: string; readonly name: string },
  person: SeedAccount & { readonly id?: string },
): Promise<string> {
  const { db, apply } = accounts.database;
  const email = person.email.toLowerCase();
  const existing = await db.selectFrom('user').select('id').where('email', '=', email).executeTakeFirst();
  if (existing !== undefined) return existing.id;
  const id = person.id ?? accounts.newId();
  const hasFirm = await db
    .selectFrom('organization')
    .select('id')
    .where('id', '=', firm.id)
    .executeTakeFirst();
  const hasSetup = await db.selectFrom('accountSetup').select('one').executeTakeFirst();
  await apply([
    ...(hasSetup === undefined ? [setupRow(accounts)] : []),
    ...(hasFirm === undefined ? [firmRow(accounts, firm.id, firm.name)] : []),
    ...(await personRows(accounts, { ...person, id, firm: firm.id, mustChangePassword: false })),
  ]);
  return id;
}

/** Everyone of the firm, former people included, by name. */
export async function listPeople(accounts: Accounts, firm: string): Promise<readonly ListedPerson[]> {
  const rows = await accounts.database.db
    .selectFrom('member')
    .innerJoin('user', 'user.id', 'member.userId')
    .where('member.organizationId', '=', firm)
    .select([
      'user.id',
      'user.name',
      'user.email',
      'user.twoFactorEnabled',
      'member.role',
      'member.branch',
      'member.licenceNumber',
      'member.certificationNumber',
      'member.removedAt',
    ])
    .orderBy('user.name')
    .orderBy('user.id')
    .execute();
  return rows.flatMap(({ twoFactorEnabled, role, removedAt, ...row }) =>
    isRole(role)
      ? [
          {
            ...row,
            role,
            twoFactor: Boolean(twoFactorEnabled),
            removedAt: removedAt === null ? null : new Date(removedAt).toISOString(),
          },
        ]
      : [],
  );
}

/** Adds a person and returns the one-time password, which is shown once and kept nowhere. A former person comes back. */
export async function addPerson(
  accounts: Accounts,
  by: Person,
  input: NewPerson,
): Promise<{ readonly id: string; readonly oneTimePassword: string }> {
  checkMayAppoint(by, input.role, input.branch);
  const { db, apply } = accounts.database;
  const email = input.email.toLowerCase();
  const oneTimePassword = createOneTimePassword();
  const taken = await db
    .selectFrom('user')
    .leftJoin('member', 'member.userId', 'user.id')
    .where('user.email', '=', email)
    .select(['user.id', 'member.organizationId', 'member.removedAt', 'member.role'])
    .executeTakeFirst();
  if (taken !== undefined && (taken.organizationId !== by.firm || taken.removedAt === null)) {
    throw new Problem('e-mail in use', 'An account with this e-mail address exists.');
  }
  const id = taken?.id ?? accounts.newId();
  const rows =
    taken === undefined
      ? await personRows(accounts, {
          ...input,
          id,
          firm: by.firm,
          password: oneTimePassword,
          mustChangePassword: true,
        })
      : [
          ...(await passwordRows(accounts, id, oneTimePassword)),
          db
            .updateTable('member')
            .set({
              role: input.role,
              branch: input.branch,
              licenceNumber: input.licenceNumber,
              certificationNumber: input.certificationNumber,
              removedAt: null,
            })
            .where('userId', '=', id)
            .where('organizationId', '=', by.firm)
            .compile(),
          db.updateTable('user').set({ name: input.name }).where('id', '=', id).compile(),
        ];
  try {
    await apply(rows);
  } catch (error) {
    // Of two who add the same address at once, the unique e-mail lets one through.
    if (taken !== undefined || !(await isTaken(accounts, email))) throw error;
    throw new Problem('e-mail in use', 'An account with this e-mail address exists.');
  }
  return { id, oneTimePassword };
}

export interface PersonChange {
  readonly name?: string | undefined;
  readonly role?: Role | undefined;
  readonly branch?: string | null | undefined;
  readonly licenceNumber?: string | null | undefined;
  readonly certificationNumber?: string | null | undefined;
}

export async function changePerson(
  accounts: Accounts,
  by: Person,
  id: string,
  change: PersonChange,
): Promise<ListedPerson> {
  const person = await getPresent(accounts, by.firm, id);
  checkMayAppoint(by, person.role, person.branch);
  if (change.role !== undefined || change.branch !== undefined) {
    checkMayAppoint(
      by,
      change.role ?? person.role,
      change.branch === undefined ? person.branch : change.branch,
    );
  }
  if (person.role === 'owner' && change.role !== undefined && change.role !== 'owner') {
    await checkNotLastOwner(accounts, by.firm, id);
  }
  const { name, ...member } = change;
  const { db, apply } = accounts.database;
  const memberChange = Object.fromEntries(Object.entries(member).filter(([, value]) => value !== undefined));
  await apply([
    ...(Object.keys(memberChange).length === 0
      ? []
      : [
          db
            .updateTable('member')
            .set(memberChange)
            .where('userId', '=', id)
            .where('organizationId', '=', by.firm)
            .compile(),
        ]),
    ...(name === undefined ? [] : [db.updateTable('user').set({ name }).where('id', '=', id).compile()]),
  ]);
  return getPresent(accounts, by.firm, id);
}

/**
 * Ends a person's access in one transaction: sessions, password, second factor and trusted devices go, the membership
 * is marked as former. The name stays, because records name it.
 */
export async function removePerson(accounts: Accounts, by: Person, id: string): Promise<void> {
  const person = await getPresent(accounts, by.firm, id);
  checkMayAppoint(by, person.role, person.branch);
  if (person.role === 'owner') await checkNotLastOwner(accounts, by.firm, id);
  const { db, apply, moment } = accounts.database;
  await apply([
    ...revokeRows(accounts, id),
    db
      .updateTable('member')
      .set({ removedAt: moment(accounts.now()) })
      .where('userId', '=', id)
      .where('organizationId', '=', by.firm)
      .compile(),
  ]);
}

/** A new one-time password for somebody who lost theirs; ends every session and the second factor. */
export async function renewPassword(accounts: Accounts, by: Person, id: string): Promise<string> {
  const person = await getPresent(accounts, by.firm, id);
  checkMayAppoint(by, person.role, person.branch);
  const oneTimePassword = createOneTimePassword();
  await accounts.database.apply([
    ...revokeRows(accounts, id),
    ...(await passwordRows(accounts, id, oneTimePassword)),
  ]);
  return oneTimePassword;
}

/** Called after the person chose a password of their own. */
export async function markPasswordChanged(accounts: Accounts, id: string): Promise<void> {
  const { db, flag } = accounts.database;
  await db
    .updateTable('user')
    .set({ mustChangePassword: flag(false) })
    .where('id', '=', id)
    .execute();
}

async function isTaken({ database: { db } }: Accounts, email: string): Promise<boolean> {
  return (
    (await db.selectFrom('user').select('id').where('email', '=', email).executeTakeFirst()) !== undefined
  );
}

async function getPresent(accounts: Accounts, firm: string, id: string): Promise<ListedPerson> {
  const person = (await listPeople(accounts, firm)).find((one) => one.id === id && one.removedAt === null);
  if (person === undefined) throw new Problem('not found', 'No such person works for this firm.');
  return person;
}

/** A lead with a home branch appoints only into that branch. */
function checkMayAppoint(by: Person, role: Role, branch: string | null): void {
  if (!MAY_APPOINT[by.role].includes(role)) {
    throw new Problem(
      'not allowed',
      `A ${by.role} may not add, change or remove a person with the role ${role}.`,
    );
  }
  if (by.role === 'lead' && by.branch !== null && by.branch !== branch) {
    throw new Problem('not allowed', 'A lead of one branch may only act for people of that branch.');
  }
}

async function checkNotLastOwner(accounts: Accounts, firm: string, id: string): Promise<void> {
  const people = await listPeople(accounts, firm);
  const isOther = people.some((one) => one.role === 'owner' && one.removedAt === null && one.id !== id);
  if (!isOther) throw new Problem('last owner', 'This person is the only owner.');
}

function setupRow({ database, now }: Accounts): CompiledQuery {
  return database.db
    .insertInto('accountSetup')
    .values({ one: 1, doneAt: database.moment(now()) })
    .compile();
}

function firmRow({ database, now }: Accounts, id: string, name: string): CompiledQuery {
  return database.db
    .insertInto('organization')
    .values({ id, name, slug: id, createdAt: database.moment(now()) })
    .compile();
}

interface PersonRowInput extends NewPerson {
  readonly id: string;
  readonly firm: string;
  readonly password: string;
  readonly mustChangePassword: boolean;
}

async function personRows(accounts: Accounts, input: PersonRowInput): Promise<readonly CompiledQuery[]> {
  const { db, moment, flag } = accounts.database;
  const at = moment(accounts.now());
  return [
    db
      .insertInto('user')
      .values({
        id: input.id,
        name: input.name,
        email: input.email.toLowerCase(),
        emailVerified: flag(false),
        twoFactorEnabled: flag(false),
        mustChangePassword: flag(input.mustChangePassword),
        createdAt: at,
        updatedAt: at,
      })
      .compile(),
    credentialRow(accounts, input.id, await accounts.library.hashPassword(input.password)),
    db
      .insertInto('member')
      .values({
        id: accounts.newId(),
        organizationId: input.firm,
        userId: input.id,
        role: input.role,
        createdAt: at,
        branch: input.branch,
        licenceNumber: input.licenceNumber,
        certificationNumber: input.certificationNumber,
        removedAt: null,
      })
      .compile(),
  ];
}

/** Replaces the password by a one-time one. */
async function passwordRows(
  accounts: Accounts,
  id: string,
  password: string,
): Promise<readonly CompiledQuery[]> {
  const { db, flag } = accounts.database;
  return [
    db.deleteFrom('account').where('userId', '=', id).compile(),
    credentialRow(accounts, id, await accounts.library.hashPassword(password)),
    db
      .updateTable('user')
      .set({ mustChangePassword: flag(true) })
      .where('id', '=', id)
      .compile(),
  ];
}

function credentialRow({ database, newId, now }: Accounts, userId: string, hash: string): CompiledQuery {
  const at = database.moment(now());
  return database.db
    .insertInto('account')
    .values({
      id: newId(),
      accountId: userId,
      providerId: 'credential',
      userId,
      password: hash,
      createdAt: at,
      updatedAt: at,
    })
    .compile();
}

/** Sessions, password, second factor, trusted devices and half-finished sign-ins of one account. */
function revokeRows({ database: { db, flag } }: Accounts, id: string): readonly CompiledQuery[] {
  return [
    db.deleteFrom('session').where('userId', '=', id).compile(),
    db.deleteFrom('account').where('userId', '=', id).compile(),
    db.deleteFrom('twoFactor').where('userId', '=', id).compile(),
    db.deleteFrom('verification').where('value', 'like', `%${id}%`).compile(),
    db
      .updateTable('user')
      .set({ twoFactorEnabled: flag(false) })
      .where('id', '=', id)
      .compile(),
  ];
}
