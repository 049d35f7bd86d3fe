import type { RoundBody } from '@sillwatch/trade';
import { type Kysely, sql } from 'kysely';
import { type AccountDatabase, openAccountDatabase } from '../accounts/database.ts';
import { Problem } from '../http/problems.ts';
import type { PlanProgress, PlanResult } from './planTask.ts';

/** `cancelled`: stopped early; what was found by then is kept. `failed`: see `why`. */
export const JOB_STATES = ['waiting', 'running', 'done', 'cancelled', 'failed'] as const;
export type JobState = (typeof JOB_STATES)[number];

export interface PlanRequest {
  /** YYYY-MM-DD */
  readonly from: string;
  readonly days: number;
  readonly seconds: number;
  readonly iterations: number | null;
  readonly seed: number;
}

export interface PlanJob {
  readonly firm: string;
  readonly id: string;
  readonly branch: string;
  readonly state: JobState;
  /** Goes up with every change; what a reader waits on. */
  readonly version: number;
  readonly request: PlanRequest;
  readonly askedBy: string;
  /** RFC 3339, UTC */
  readonly askedAt: string;
  readonly endedAt: string | null;
  readonly progress: PlanProgress | null;
  /** The best rounds so far while it runs, and what it goes on from after a restart. */
  readonly rounds: readonly RoundBody[] | null;
  readonly result: PlanResult | null;
  /** Ids of visits that a later plan must leave where they are. */
  readonly frozen: readonly string[];
  readonly why: string | null;
  readonly publishing: Publishing | null;
  readonly publishedAt: string | null;
}

/** Written before the facts are, so that a publication that was cut off makes the very same facts when it is repeated. */
export interface Publishing {
  /** Version of the plan that is sent out. */
  readonly version: number;
  readonly by: string;
  readonly at: string;
}

/**
 * Planning jobs: one a branch at a time. In PostgreSQL any number of servers take them, each skipping what another has
 * locked; with SQLite the one server does (decision 0142).
 */
export interface PlanStore {
  readonly kind: 'sqlite' | 'postgres';
  /** Throws the problem `plan running` when the branch has one that is not over. */
  add(job: Pick<PlanJob, 'firm' | 'id' | 'branch' | 'request' | 'askedBy' | 'askedAt'>): Promise<void>;
  find(firm: string, id: string): Promise<PlanJob | undefined>;
  /** Of a firm or one branch, the latest first, without rounds and results. */
  list(firm: string, branch: string | undefined, limit: number): Promise<readonly PlanJob[]>;
  findVersion(firm: string, id: string): Promise<number | undefined>;
  /** Takes the job that has waited longest; undefined when none waits. */
  claim(worker: string, at: string): Promise<PlanJob | undefined>;
  /** A sign of life; false when the job is no longer this worker's. */
  beat(
    job: PlanJob,
    worker: string,
    at: string,
    found: Beat,
  ): Promise<{ readonly mine: boolean; readonly stop: boolean }>;
  finish(job: PlanJob, worker: string, end: JobEnd): Promise<boolean>;
  /** Gives a running job back, to be gone on with. */
  release(job: PlanJob, worker: string): Promise<void>;
  /** Jobs of workers that gave no sign of life since then wait again. */
  requeue(silentSince: string): Promise<void>;
  /** False when the job is over already. */
  askStop(firm: string, id: string): Promise<boolean>;
  /** Only when nobody changed the plan meanwhile. */
  saveDraft(job: PlanJob, draft: Pick<PlanJob, 'result' | 'frozen'>): Promise<boolean>;
  setPublishing(job: PlanJob, publishing: Publishing): Promise<boolean>;
  setPublished(job: PlanJob, at: string): Promise<void>;
  /** Drops plans that ended before and were never sent out. */
  forget(endedBefore: string): Promise<void>;
  close(): Promise<void>;
}

export interface Beat {
  readonly progress: PlanProgress | null;
  readonly rounds: readonly RoundBody[] | null;
}

export interface JobEnd {
  readonly state: Extract<JobState, 'done' | 'cancelled' | 'failed'>;
  readonly at: string;
  readonly result: PlanResult | null;
  readonly why: string | null;
}

type Row = {
  firm: string;
  id: string;
  branch: string;
  state: string;
  version: number;
  request: string;
  asked_by: string;
  asked_at: string;
  ended_at: string | null;
  worker: string | null;
  beat_at: string | null;
  stop: number;
  progress: string | null;
  rounds: string | null;
  result: string | null;
  frozen: string;
  why: string | null;
  publishing: string | null;
  published_at: string | null;
};
type PlanTables = {
  plan_job: Row;
};

/** `databaseUrl` as the ledger reads it; the table lies beside the ledger's own. */
export async function openPlanStore(databaseUrl: string): Promise<PlanStore> {
  const database = openAccountDatabase(databaseUrl);
  const db = database.db.withTables<PlanTables>();
  await database.alone(() => createTable(db));
  return createStore(database, db);
}

async function createTable(db: Kysely<PlanTables>): Promise<void> {
  await sql`create table if not exists plan_job (
    firm text not null, id text not null, branch text not null, state text not null, version integer not null,
    request text not null, asked_by text not null, asked_at text not null, ended_at text,
    worker text, beat_at text, stop integer not null, progress text, rounds text, result text,
    frozen text not null, why text, publishing text, published_at text, primary key (firm, id))`.execute(db);
  await sql`create unique index if not exists plan_job_one_a_branch on plan_job (firm, branch)
    where state in ('waiting', 'running')`.execute(db);
}

function createStore(database: AccountDatabase, db: Kysely<PlanTables>): PlanStore {
  const mine = (job: PlanJob, worker: string) =>
    db
      .updateTable('plan_job')
      .where('firm', '=', job.firm)
      .where('id', '=', job.id)
      .where('worker', '=', worker)
      .where('state', '=', 'running');
  const unchanged = (job: PlanJob) =>
    db
      .updateTable('plan_job')
      .where('firm', '=', job.firm)
      .where('id', '=', job.id)
      .where('version', '=', job.version);
  const next = { version: sql<number>`version + 1` };
  return {
    kind: database.kind,
    async add({ firm, id, branch, request, askedBy, askedAt }) {
      const row: Row = {
        firm,
        id,
        branch,
        state: 'waiting',
        version: 1,
        request: JSON.stringify(request),
        asked_by: askedBy,
        asked_at: askedAt,
        ended_at: null,
        worker: null,
        beat_at: null,
        stop: 0,
        progress: null,
        rounds: null,
        result: null,
        frozen: '[]',
        why: null,
        publishing: null,
        published_at: null,
      };
      const { numInsertedOrUpdatedRows: added } = await db
        .insertInto('plan_job')
        .values(row)
        .onConflict((conflict) => conflict.doNothing())
        .executeTakeFirstOrThrow();
      if (added === 0n) throw new Problem('plan running', `The branch ${branch} is being planned already.`);
    },
    async find(firm, id) {
      const row = await db
        .selectFrom('plan_job')
        .selectAll()
        .where('firm', '=', firm)
        .where('id', '=', id)
        .executeTakeFirst();
      return row === undefined ? undefined : toJob(row);
    },
    async list(firm, branch, limit) {
      const rows = await db
        .selectFrom('plan_job')
        .select(['firm', 'id', 'branch', 'state', 'version', 'request', 'asked_by', 'asked_at', 'ended_at'])
        .select(['progress', 'frozen', 'why', 'publishing', 'published_at', 'worker', 'beat_at', 'stop'])
        .where('firm', '=', firm)
        .$if(branch !== undefined, (query) => query.where('branch', '=', branch ?? ''))
        .orderBy('asked_at', 'desc')
        .orderBy('id', 'desc')
        .limit(limit)
        .execute();
      return rows.map((row) => toJob({ ...row, rounds: null, result: null }));
    },
    async findVersion(firm, id) {
      const row = await db
        .selectFrom('plan_job')
        .select('version')
        .where('firm', '=', firm)
        .where('id', '=', id)
        .executeTakeFirst();
      return row === undefined ? undefined : Number(row.version);
    },
    async claim(worker, at) {
      const skip = sql.raw(database.kind === 'postgres' ? 'for update skip locked' : '');
      const { rows } = await sql<Row>`update plan_job
        set state = 'running', worker = ${worker}, beat_at = ${at}, version = version + 1
        where (firm, id) in (
          select firm, id from plan_job where state = 'waiting' order by asked_at, id limit 1 ${skip})
        returning *`.execute(db);
      const [row] = rows;
      return row === undefined ? undefined : toJob(row);
    },
    async beat(job, worker, at, { progress, rounds }) {
      const { numUpdatedRows } = await mine(job, worker)
        .set({
          ...next,
          beat_at: at,
          ...(progress === null ? {} : { progress: JSON.stringify(progress) }),
          ...(rounds === null ? {} : { rounds: JSON.stringify(rounds) }),
        })
        .executeTakeFirstOrThrow();
      if (numUpdatedRows === 0n) return { mine: false, stop: true };
      const row = await db
        .selectFrom('plan_job')
        .select('stop')
        .where('firm', '=', job.firm)
        .where('id', '=', job.id)
        .executeTakeFirst();
      return { mine: true, stop: row?.stop === 1 };
    },
    async finish(job, worker, { state, at, result, why }) {
      const { numUpdatedRows } = await mine(job, worker)
        .set({
          ...next,
          state,
          ended_at: at,
          why,
          worker: null,
          rounds: null,
          result: result === null ? null : JSON.stringify(result),
        })
        .executeTakeFirstOrThrow();
      return numUpdatedRows > 0n;
    },
    async release(job, worker) {
      await mine(job, worker)
        .set({ ...next, state: 'waiting', worker: null })
        .execute();
    },
    async requeue(silentSince) {
      await db
        .updateTable('plan_job')
        .set({ ...next, state: 'waiting', worker: null })
        .where('state', '=', 'running')
        .where('beat_at', '<', silentSince)
        .execute();
    },
    async askStop(firm, id) {
      const here = db.updateTable('plan_job').where('firm', '=', firm).where('id', '=', id);
      // One that nobody has begun is over at once.
      const never = await here
        .set({ ...next, state: 'cancelled', stop: 1, why: 'stopped before it began' })
        .where('state', '=', 'waiting')
        .executeTakeFirstOrThrow();
      if (never.numUpdatedRows > 0n) return true;
      const { numUpdatedRows } = await here
        .set({ stop: 1 })
        .where('state', '=', 'running')
        .executeTakeFirstOrThrow();
      return numUpdatedRows > 0n;
    },
    async saveDraft(job, { result, frozen }) {
      const { numUpdatedRows } = await unchanged(job)
        .set({ ...next, result: JSON.stringify(result), frozen: JSON.stringify(frozen) })
        .executeTakeFirstOrThrow();
      return numUpdatedRows > 0n;
    },
    async setPublishing(job, publishing) {
      const { numUpdatedRows } = await unchanged(job)
        .set({ publishing: JSON.stringify(publishing) })
        .executeTakeFirstOrThrow();
      return numUpdatedRows > 0n;
    },
    async setPublished(job, at) {
      await db
        .updateTable('plan_job')
        .set({ ...next, published_at: at })
        .where('firm', '=', job.firm)
        .where('id', '=', job.id)
        .execute();
    },
    async forget(endedBefore) {
      await db
        .deleteFrom('plan_job')
        .where('ended_at', '<', endedBefore)
        .where('published_at', 'is', null)
        .execute();
    },
    close: () => database.close(),
  };
}

function toJob(row: Row): PlanJob {
  const parse = <T>(text: string | null): T | null => (text === null ? null : JSON.parse(text));
  return {
    firm: row.firm,
    id: row.id,
    branch: row.branch,
    state: JOB_STATES.find((state) => state === row.state) ?? 'failed',
    version: Number(row.version),
    request: JSON.parse(row.request),
    askedBy: row.asked_by,
    askedAt: row.asked_at,
    endedAt: row.ended_at,
    progress: parse(row.progress),
    rounds: parse(row.rounds),
    result: parse(row.result),
    frozen: parse<readonly string[]>(row.frozen) ?? [],
    why: row.why,
    publishing: parse(row.publishing),
    publishedAt: row.published_at,
  };
}
