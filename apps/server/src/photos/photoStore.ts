import { createHash } from 'node:crypto';
import { basename, dirname, extname, join } from 'node:path';
import { parseLedgerUrl } from '@sillwatch/ledger';
import { type Kysely, sql } from 'kysely';
import { type AccountDatabase, openAccountDatabase } from '../accounts/database.ts';
import { Problem } from '../http/problems.ts';
import { readPhotoQuota } from './quota.ts';

/** A phone makes its pictures about 300 kB; more than this is no field photo. */
export const MOST_PHOTO_BYTES = 4 * 1024 * 1024;
export const MOST_PART_BYTES = 512 * 1024;
export const MOST_THUMBNAIL_BYTES = 64 * 1024;
export const PHOTO_TYPES = ['image/jpeg', 'image/png', 'image/webp'] as const;
/** A picture that nobody went on sending for so long is dropped when the server starts. */
const UNFINISHED_DAYS = 60;

export interface PhotoPart {
  readonly firm: string;
  readonly by: string;
  /** sha256 hex of the whole picture */
  readonly hash: string;
  readonly offset: number;
  /** of the whole picture, bytes */
  readonly size: number;
  readonly bytes: Uint8Array;
}

export interface PhotoState {
  /** bytes on stable storage, from the start, without a gap */
  readonly received: number;
  readonly complete: boolean;
  readonly thumbnail: boolean;
}

export interface StoredPicture {
  readonly mediaType: string;
  readonly bytes: Uint8Array;
}

/**
 * Pictures of a firm by content hash, sent in parts that may be cut and sent again. In PostgreSQL they lie in tables beside
 * the ledger, so that any number of app servers can take the next part; with SQLite in a file of their own beside the ledger's
 * (decision 0153).
 */
export interface PhotoStore {
  state(firm: string, hash: string): Promise<PhotoState>;
  /** Throws `photo refused` when the bytes are no picture or do not have this hash; then nothing of it is kept. */
  addPart(part: PhotoPart): Promise<PhotoState>;
  setThumbnail(firm: string, hash: string, bytes: Uint8Array): Promise<PhotoState>;
  /** Whole pictures only. */
  find(firm: string, hash: string): Promise<StoredPicture | undefined>;
  findThumbnail(firm: string, hash: string): Promise<StoredPicture | undefined>;
  /** What a firm's pictures take, begun ones with their whole size, and what they may take; undefined = no limit. */
  usage(firm: string): Promise<PhotoUsage>;
  close(): Promise<void>;
}

export interface PhotoUsage {
  readonly pictures: number;
  readonly usedBytes: number;
  readonly quotaBytes: number | undefined;
}

type PhotoTables = {
  photo: {
    firm: string;
    hash: string;
    media_type: string;
    size: number;
    complete: number;
    sent_by: string;
    begun_at: string;
    thumbnail: Uint8Array | null;
  };
  photo_part: { firm: string; hash: string; at: number; size: number; bytes: Uint8Array };
};

/** `databaseUrl` as the ledger reads it; `quotaBytes` for each firm. */
export async function openPhotoStore(
  databaseUrl: string,
  now: () => number,
  quotaBytes: number | undefined = readPhotoQuota(process.env),
): Promise<PhotoStore> {
  const database = openAccountDatabase(photoUrl(databaseUrl));
  const db = database.db.withTables<PhotoTables>();
  await database.alone(async () => {
    await createTables(db, database.kind);
    await dropUnfinished(db, new Date(now() - UNFINISHED_DAYS * 86_400_000).toISOString());
  });
  return {
    state: (firm, hash) => stateOf(db, firm, hash),
    async addPart(part) {
      // A picture that was begun may be finished: half a picture is of use to nobody.
      if (part.offset === 0 && quotaBytes !== undefined) await checkRoom(db, part, quotaBytes);
      return addPart(database, db, part, new Date(now()).toISOString());
    },
    usage: (firm) => usageOf(db, firm, quotaBytes),
    async setThumbnail(firm, hash, bytes) {
      if (typeOf(bytes) === undefined) throw refused('The thumbnail is neither JPEG, PNG nor WebP.');
      const known = await stateOf(db, firm, hash);
      if (known.received === 0) throw new Problem('not found', 'No picture with this hash has been begun.');
      // The first one stands: nobody replaces what others have seen.
      await db
        .updateTable('photo')
        .set({ thumbnail: bytes })
        .where('firm', '=', firm)
        .where('hash', '=', hash)
        .where('thumbnail', 'is', null)
        .execute();
      return { ...known, thumbnail: true };
    },
    async find(firm, hash) {
      const row = await findRow(db, firm, hash);
      if (row === undefined || row.complete !== 1) return undefined;
      return { mediaType: row.media_type, bytes: await readWhole(db, firm, hash) };
    },
    async findThumbnail(firm, hash) {
      const row = await findRow(db, firm, hash);
      if (row === undefined || row.thumbnail === null) return undefined;
      const bytes = new Uint8Array(row.thumbnail);
      return { mediaType: typeOf(bytes) ?? 'application/octet-stream', bytes };
    },
    close: () => database.close(),
  };
}

/** Pictures would make the ledger's own file, and every copy of it, many times larger. */
function photoUrl(databaseUrl: string): string {
  const target = parseLedgerUrl(databaseUrl);
  if (target.kind === 'postgres') return target.url;
  if (target.kind === 'memory') return ':memory:';
  const extension = extname(target.path);
  return join(dirname(target.path), `${basename(target.path, extension)}.photos${extension || '.db'}`);
}

async function createTables(db: Kysely<PhotoTables>, kind: 'sqlite' | 'postgres'): Promise<void> {
  const bytes = kind === 'postgres' ? 'bytea' : 'blob';
  await sql`create table if not exists photo (
    firm text not null, hash text not null, media_type text not null, size integer not null,
    complete integer not null, sent_by text not null, begun_at text not null, thumbnail ${sql.raw(bytes)},
    primary key (firm, hash))`.execute(db);
  await sql`create table if not exists photo_part (
    firm text not null, hash text not null, at integer not null, size integer not null,
    bytes ${sql.raw(bytes)} not null, primary key (firm, hash, at))`.execute(db);
}

async function dropUnfinished(db: Kysely<PhotoTables>, before: string): Promise<void> {
  const rows = await db
    .selectFrom('photo')
    .select(['firm', 'hash'])
    .where('complete', '=', 0)
    .where('begun_at', '<', before)
    .execute();
  for (const { firm, hash } of rows) await drop(db, firm, hash);
}

async function drop(db: Kysely<PhotoTables>, firm: string, hash: string): Promise<void> {
  await db.deleteFrom('photo_part').where('firm', '=', firm).where('hash', '=', hash).execute();
  await db.deleteFrom('photo').where('firm', '=', firm).where('hash', '=', hash).execute();
}

function findRow(db: Kysely<PhotoTables>, firm: string, hash: string) {
  return db
    .selectFrom('photo')
    .selectAll()
    .where('firm', '=', firm)
    .where('hash', '=', hash)
    .executeTakeFirst();
}

async function stateOf(db: Kysely<PhotoTables>, firm: string, hash: string): Promise<PhotoState> {
  const row = await findRow(db, firm, hash);
  if (row === undefined) return { received: 0, complete: false, thumbnail: false };
  const thumbnail = row.thumbnail !== null;
  if (row.complete === 1) return { received: row.size, complete: true, thumbnail };
  const parts = await db
    .selectFrom('photo_part')
    .select(['at', 'size'])
    .where('firm', '=', firm)
    .where('hash', '=', hash)
    .orderBy('at')
    .execute();
  let received = 0;
  for (const { at, size } of parts) if (at === received) received += size;
  return { received, complete: false, thumbnail };
}

async function usageOf(
  db: Kysely<PhotoTables>,
  firm: string,
  quotaBytes: number | undefined,
): Promise<PhotoUsage> {
  const row = await db
    .selectFrom('photo')
    .select(({ fn }) => [fn.countAll().as('pictures'), fn.sum('size').as('bytes')])
    .where('firm', '=', firm)
    .executeTakeFirstOrThrow();
  // PostgreSQL counts in texts; an empty sum is null.
  return { pictures: Number(row.pictures), usedBytes: Number(row.bytes ?? 0), quotaBytes };
}

async function checkRoom(
  db: Kysely<PhotoTables>,
  { firm, hash, size }: PhotoPart,
  quotaBytes: number,
): Promise<void> {
  const { usedBytes } = await usageOf(db, firm, quotaBytes);
  if (usedBytes + size <= quotaBytes || (await findRow(db, firm, hash)) !== undefined) return;
  throw new Problem(
    'no room for photos',
    `The pictures of the firm take ${usedBytes} of ${quotaBytes} bytes; this one of ${size} does not fit.`,
  );
}

async function addPart(
  database: AccountDatabase,
  db: Kysely<PhotoTables>,
  { firm, by, hash, offset, size, bytes }: PhotoPart,
  at: string,
): Promise<PhotoState> {
  const before = await stateOf(db, firm, hash);
  // What is here already is not taken twice: the answer says where to go on.
  if (before.complete || offset !== before.received) return before;
  if (bytes.length === 0 || offset + bytes.length > size)
    throw refused(`A part of ${bytes.length} bytes at ${offset} does not fit into ${size}.`);
  const mediaType = offset === 0 ? typeOf(bytes) : (await findRow(db, firm, hash))?.media_type;
  if (mediaType === undefined) throw refused('The bytes are neither JPEG, PNG nor WebP.');
  await database.apply([
    db
      .insertInto('photo')
      .values({
        firm,
        hash,
        media_type: mediaType,
        size,
        complete: 0,
        sent_by: by,
        begun_at: at,
        thumbnail: null,
      })
      .onConflict((conflict) => conflict.columns(['firm', 'hash']).doNothing())
      .compile(),
    db
      .insertInto('photo_part')
      .values({ firm, hash, at: offset, size: bytes.length, bytes })
      .onConflict((conflict) => conflict.columns(['firm', 'hash', 'at']).doNothing())
      .compile(),
  ]);
  const after = await stateOf(db, firm, hash);
  const declared = (await findRow(db, firm, hash))?.size ?? size;
  return after.received < declared ? after : finish(db, firm, hash, after);
}

/** All bytes are here: they must be what their name says. */
async function finish(
  db: Kysely<PhotoTables>,
  firm: string,
  hash: string,
  state: PhotoState,
): Promise<PhotoState> {
  const whole = await readWhole(db, firm, hash);
  if (createHash('sha256').update(whole).digest('hex') !== hash) {
    await drop(db, firm, hash);
    throw refused('The bytes that came do not have the hash that names them; send the picture again.');
  }
  await db
    .updateTable('photo')
    .set({ complete: 1 })
    .where('firm', '=', firm)
    .where('hash', '=', hash)
    .execute();
  return { ...state, complete: true };
}

async function readWhole(db: Kysely<PhotoTables>, firm: string, hash: string): Promise<Uint8Array> {
  const parts = await db
    .selectFrom('photo_part')
    .select('bytes')
    .where('firm', '=', firm)
    .where('hash', '=', hash)
    .orderBy('at')
    .execute();
  return new Uint8Array(Buffer.concat(parts.map(({ bytes }) => bytes)));
}

/** By what the file begins with, never by what the sender calls it. Sources: JPEG (ITU T.81), PNG (ISO/IEC 15948), WebP (RFC 9649). */
function typeOf(bytes: Uint8Array): (typeof PHOTO_TYPES)[number] | undefined {
  const startsWith = (signature: readonly number[], from = 0): boolean =>
    signature.every((byte, index) => bytes[from + index] === byte);
  if (startsWith([0xff, 0xd8, 0xff])) return 'image/jpeg';
  if (startsWith([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a])) return 'image/png';
  if (startsWith([0x52, 0x49, 0x46, 0x46]) && startsWith([0x57, 0x45, 0x42, 0x50], 8)) return 'image/webp';
  return undefined;
}

function refused(detail: string): Problem {
  return new Problem('photo refused', detail);
}
