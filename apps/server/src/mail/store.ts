import { basename, dirname, extname, join } from 'node:path';
import { parseLedgerUrl } from '@sillwatch/ledger';
import { type Kysely, sql } from 'kysely';
import { openAccountDatabase } from '../accounts/database.ts';

/**
 * `queued` waits for its time; `sending` is being tried by one server; `sent` and `refused` are over; `cancelled` was taken back
 * before it went.
 */
export const MAIL_STATES = ['queued', 'sending', 'sent', 'refused', 'cancelled'] as const;
export type MailState = (typeof MAIL_STATES)[number];

/** One message as it lies in the queue and, later, in the log. Times are RFC 3339 in UTC with milliseconds, which sort as text. */
export interface MailRow {
  readonly firm: string;
  readonly id: string;
  readonly property: string;
  readonly visit: string | null;
  readonly paper: string;
  readonly recipient: string;
  readonly subject: string;
  readonly text: string;
  readonly attachmentName: string | null;
  readonly attachmentHash: string | null;
  /** Base 64; dropped once the message is over. */
  readonly attachment: string | null;
  readonly askedBy: string;
  /** IANA, of the property: the fact of the outcome is dated on its clock. */
  readonly timeZone: string;
  readonly state: MailState;
  readonly attempts: number;
  readonly nextAt: string;
  readonly leaseUntil: string | null;
  readonly createdAt: string;
  readonly changedAt: string;
  readonly detail: string;
  /** Id of the fact that will tell the outcome: made before, so that it is told once. */
  readonly factId: string;
  /** 1 = the outcome stands in the ledger. */
  readonly isRecorded: number;
}

export interface MailStore {
  add(row: MailRow): Promise<void>;
  find(firm: string, id: string): Promise<MailRow | undefined>;
  /** Newest first; without the attachments. */
  list(
    firm: string,
    query: {
      readonly limit: number;
      readonly property?: string;
      readonly state?: MailState;
      readonly before?: string;
    },
  ): Promise<readonly MailRow[]>;
  /** Takes the next message whose time has come, for `leaseUntil`; undefined = none. Of two servers one gets it. */
  claim(nowText: string, leaseUntil: string): Promise<MailRow | undefined>;
  /** Changes a row that is still in the state named; false = it is no longer. */
  change(firm: string, id: string, from: MailState, to: Partial<MailRow>): Promise<boolean>;
  /** Messages that are over and whose outcome does not stand in the ledger yet. */
  listUnrecorded(limit: number): Promise<readonly MailRow[]>;
  setRecorded(firm: string, id: string, factId: string): Promise<void>;
  /** Drops the attachments of messages that were refused before this time: they can no longer be retried. */
  dropRefusedBefore(time: string): Promise<void>;
  close(): Promise<void>;
}

type MailTables = { mail_message: { -readonly [K in keyof MailRow]: MailRow[K] } };

/** The queue lies in PostgreSQL beside the ledger, with SQLite in a file of its own beside the ledger's (decision 0172). */
export async function openMailStore(databaseUrl: string): Promise<MailStore> {
  const database = openAccountDatabase(mailUrl(databaseUrl));
  const db = database.db.withTables<MailTables>();
  await database.alone(() => createTables(db));
  return {
    add: async (row) => {
      await db.insertInto('mail_message').values(row).execute();
    },
    find: (firm, id) =>
      db
        .selectFrom('mail_message')
        .selectAll()
        .where('firm', '=', firm)
        .where('id', '=', id)
        .executeTakeFirst(),
    list: async (firm, { limit, property, state, before }) => {
      let query = db
        .selectFrom('mail_message')
        .select(LISTED)
        .where('firm', '=', firm)
        .orderBy('id', 'desc')
        .limit(limit);
      if (property !== undefined) query = query.where('property', '=', property);
      if (state !== undefined) query = query.where('state', '=', state);
      if (before !== undefined) query = query.where('id', '<', before);
      return (await query.execute()).map((row) => ({ ...row, attachment: null }));
    },
    claim: (nowText, leaseUntil) => claim(db, nowText, leaseUntil),
    change: async (firm, id, from, to) => {
      const { numUpdatedRows } = await db
        .updateTable('mail_message')
        .set(to)
        .where('firm', '=', firm)
        .where('id', '=', id)
        .where('state', '=', from)
        .executeTakeFirst();
      return numUpdatedRows === 1n;
    },
    listUnrecorded: (limit) =>
      db
        .selectFrom('mail_message')
        .selectAll()
        .where('state', 'in', ['sent', 'refused'])
        .where('isRecorded', '=', 0)
        .orderBy('changedAt')
        .limit(limit)
        .execute(),
    setRecorded: async (firm, id, factId) => {
      await db
        .updateTable('mail_message')
        .set({ isRecorded: 1 })
        .where('firm', '=', firm)
        .where('id', '=', id)
        .where('factId', '=', factId)
        .execute();
    },
    dropRefusedBefore: async (time) => {
      await db
        .updateTable('mail_message')
        .set({ attachment: null })
        .where('state', '=', 'refused')
        .where('changedAt', '<', time)
        .where('attachment', 'is not', null)
        .execute();
    },
    close: () => database.close(),
  };
}

/** The update names the state it expects, so of two that saw the same row only one changes it. */
async function claim(
  db: Kysely<MailTables>,
  nowText: string,
  leaseUntil: string,
): Promise<MailRow | undefined> {
  for (;;) {
    const row = await db
      .selectFrom('mail_message')
      .selectAll()
      .where((where) =>
        where.or([
          where.and([where('state', '=', 'queued'), where('nextAt', '<=', nowText)]),
          // Whoever tried it has died or hangs: it is tried again (at least once; decision 0172).
          where.and([where('state', '=', 'sending'), where('leaseUntil', '<', nowText)]),
        ]),
      )
      .orderBy('nextAt')
      .limit(1)
      .executeTakeFirst();
    if (row === undefined) return undefined;
    const { numUpdatedRows } = await db
      .updateTable('mail_message')
      .set({ state: 'sending', leaseUntil, changedAt: nowText, attempts: row.attempts + 1 })
      .where('firm', '=', row.firm)
      .where('id', '=', row.id)
      .where('state', '=', row.state)
      .where('attempts', '=', row.attempts)
      .executeTakeFirst();
    if (numUpdatedRows === 1n) return { ...row, state: 'sending', leaseUntil, attempts: row.attempts + 1 };
  }
}

const LISTED = [
  'firm',
  'id',
  'property',
  'visit',
  'paper',
  'recipient',
  'subject',
  'text',
  'attachmentName',
  'attachmentHash',
  'askedBy',
  'timeZone',
  'state',
  'attempts',
  'nextAt',
  'leaseUntil',
  'createdAt',
  'changedAt',
  'detail',
  'factId',
  'isRecorded',
] as const;

async function createTables(db: Kysely<MailTables>): Promise<void> {
  await sql`create table if not exists mail_message (
    "firm" text not null,
    "id" text not null,
    "property" text not null,
    "visit" text,
    "paper" text not null,
    "recipient" text not null,
    "subject" text not null,
    "text" text not null,
    "attachmentName" text,
    "attachmentHash" text,
    "attachment" text,
    "askedBy" text not null,
    "timeZone" text not null,
    "state" text not null,
    "attempts" integer not null,
    "nextAt" text not null,
    "leaseUntil" text,
    "createdAt" text not null,
    "changedAt" text not null,
    "detail" text not null,
    "factId" text not null,
    "isRecorded" integer not null,
    primary key ("firm", "id"))`.execute(db);
  await sql`create index if not exists mail_message_by_time on mail_message ("state", "nextAt")`.execute(db);
}

/** A queue that writes often would take the ledger's one write lock from it. */
function mailUrl(databaseUrl: string): string {
  const target = parseLedgerUrl(databaseUrl);
  if (target.kind === 'postgres') return target.url;
  if (target.kind === 'memory') return ':memory:';
  const extension = extname(target.path);
  return join(dirname(target.path), `${basename(target.path, extension)}.mail${extension || '.db'}`);
}
