import { dirname, join, resolve } from 'node:path';
import { type Ledger, parseLedgerUrl } from '@sillwatch/ledger';
import { getDay } from '@sillwatch/trade';
import type { ServerDeps } from '../http/context.ts';
import { Problem } from '../http/problems.ts';
import { openTravelCache } from '../travel/cache.ts';
import { openRoadSource, type TravelSettings } from '../travel/settings.ts';
import { createToday } from '../work/days.ts';
import { openPlanDesk, type PlanDesk } from './planDesk.ts';
import { startPlanRunner } from './planRunner.ts';
import { openPlanStore, type PlanJob, type PlanStore } from './planStore.ts';
import { readPlanTask, type TravelDesk } from './readTask.ts';

/** Everything about plans that the server keeps open. */
export interface PlanDepot {
  readonly store: PlanStore;
  readonly travel: TravelDesk;
  readonly poke: () => void;
  /** The thread that holds this version of a plan, to move visits about in; kept for some minutes. */
  openDesk(job: PlanJob): Promise<PlanDesk>;
  /** The thread now holds the next version. */
  keepDesk(job: PlanJob, version: number): void;
  dropDesk(job: PlanJob): void;
  /** Nobody waits for news any longer: the server is about to stop. */
  end(): void;
  isEnding(): boolean;
  close(): Promise<void>;
}

export interface DepotSettings {
  readonly databaseUrl: string;
  readonly ledger: Ledger;
  readonly deps: ServerDeps;
  readonly travel: TravelSettings;
  readonly threads?: number;
  /** Tests that add no plans run none. */
  readonly runs?: boolean;
}

const MOST_DESKS = 3;
const IDLE_MILLISECONDS = 5 * 60_000;

/** Throws a RangeError when a travel setting does not work. */
export async function openPlanDepot(settings: DepotSettings): Promise<PlanDepot> {
  const { ledger, deps } = settings;
  const travel = await openTravel(settings.databaseUrl, settings.travel, deps.now);
  const store = await openPlanStore(settings.databaseUrl);
  const runner =
    settings.runs === false
      ? undefined
      : startPlanRunner({
          store,
          ledger,
          travel,
          deps,
          ...(settings.threads === undefined ? {} : { threads: settings.threads }),
        });
  const desks = new Map<string, { readonly desk: PlanDesk; version: number; usedAt: number }>();
  /** Being opened: a visit that is dragged asks again before the first answer, and one thread is enough. */
  const opening = new Map<string, { readonly version: number; readonly desk: Promise<PlanDesk> }>();
  const open = async (job: PlanJob): Promise<PlanDesk> => {
    const key = keyOf(job);
    drop(key);
    const desk = openPlanDesk(await readJobTask(ledger, travel, job, deps.now()));
    const [oldest] = desks.keys();
    if (desks.size >= MOST_DESKS && oldest !== undefined) drop(oldest);
    desks.set(key, { desk, version: job.version, usedAt: deps.now() });
    return desk;
  };
  const drop = (key: string): void => {
    void desks.get(key)?.desk.close();
    desks.delete(key);
  };
  let ending = false;
  const tidy = setInterval(() => {
    for (const [key, { usedAt }] of desks) if (usedAt < deps.now() - IDLE_MILLISECONDS) drop(key);
  }, 60_000);
  tidy.unref();

  return {
    store,
    travel,
    poke: () => runner?.poke(),
    async openDesk(job) {
      const key = keyOf(job);
      const known = desks.get(key);
      if (known !== undefined && known.version === job.version) {
        known.usedAt = deps.now();
        return known.desk;
      }
      const begun = opening.get(key);
      if (begun?.version === job.version) return begun.desk;
      const own = {
        version: job.version,
        desk: open(job).finally(() => {
          if (opening.get(key) === own) opening.delete(key);
        }),
      };
      opening.set(key, own);
      return own.desk;
    },
    keepDesk: (job, version) => {
      const known = desks.get(keyOf(job));
      if (known !== undefined) known.version = version;
    },
    dropDesk: (job) => drop(keyOf(job)),
    end: () => {
      ending = true;
    },
    isEnding: () => ending,
    close: async () => {
      clearInterval(tidy);
      await runner?.stop();
      for (const key of [...desks.keys()]) drop(key);
      travel.cache.close();
      await store.close();
    },
  };
}

function keyOf({ firm, id }: PlanJob): string {
  return `${firm} ${id}`;
}

async function readJobTask(ledger: Ledger, travel: TravelDesk, job: PlanJob, now: number) {
  if (job.result === null)
    throw new Problem('plan not ready', `The plan is ${job.state}; it has no rounds to change.`);
  const { plan } = job.result;
  return readPlanTask(
    ledger,
    job.firm,
    {
      plan: job.id,
      branch: job.branch,
      from: getDay(plan.from),
      days: job.request.days,
      today: createToday(now).inZone(plan.timeZone),
      draft: plan.rounds,
    },
    travel,
    AbortSignal.timeout(60_000),
  );
}

/** The cache of road answers lies beside the SQLite ledger; elsewhere it lives as long as the process. */
export async function openTravel(
  databaseUrl: string,
  settings: TravelSettings,
  now: () => number,
): Promise<TravelDesk> {
  const target = parseLedgerUrl(databaseUrl);
  const folder = target.kind === 'sqlite' ? dirname(resolve(target.path)) : undefined;
  return {
    source: await openRoadSource(settings, folder ?? process.cwd()),
    cache: openTravelCache(folder === undefined ? ':memory:' : join(folder, 'travel.db'), now),
  };
}
