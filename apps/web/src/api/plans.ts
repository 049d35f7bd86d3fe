import type { BranchPlan, MoveResult, PlanComparison, SentRound } from '@sillwatch/rounds';
import { addDays, type Day, dayToText } from '@sillwatch/trade';
import { keepPreviousData, useQuery, useQueryClient } from '@tanstack/react-query';
import { useEffect } from 'react';
import { getJson, postJson } from './client.ts';

/** Plans as the server tells them (GET /openapi.json has the whole shape). */
export type JobState = 'waiting' | 'running' | 'done' | 'cancelled' | 'failed';

export interface PlanJob {
  readonly id: string;
  readonly branch: string;
  readonly state: JobState;
  readonly version: number;
  readonly from: string;
  readonly days: number;
  readonly seconds: number;
  readonly askedBy: string;
  readonly askedAt: string;
  readonly endedAt: string | null;
  readonly progress: {
    readonly elapsedSeconds: number;
    readonly share: number;
    readonly iterations: number;
    readonly costMinutes: number;
    readonly rounds: number;
    readonly visits: number;
    readonly unplannedVisits: number;
    readonly driveMinutes: number;
  } | null;
  readonly why: string | null;
  readonly publishedAt: string | null;
  readonly changedSince: boolean;
  readonly frozen: readonly string[];
}

/** The room's own plan, as it travels: JSON through and through. */
export interface PlanAnswer extends PlanJob {
  readonly plan: BranchPlan | null;
  readonly comparison: PlanComparison | null;
  readonly notes: readonly string[];
}

/** A person and a day: where a visit stands, or where it might. */
export interface Cell {
  readonly day: string;
  readonly person: string;
}

/** Tries a visit elsewhere, or puts it there; refused when the plan is no longer the version that was looked at. */
export function askMove(
  { id, version }: Pick<PlanJob, 'id' | 'version'>,
  kind: 'try' | 'apply',
  visit: string,
  to: Cell & { readonly position?: number },
  signal?: AbortSignal,
): Promise<{ readonly move: MoveResult }> {
  return postJson(
    `/api/plans/${encodeURIComponent(id)}/moves`,
    { kind, visit, ...to, version },
    signal === undefined ? {} : { signal },
  );
}

const PLANS = {
  queryKey: ['plans'],
  queryFn: async () => (await getJson<{ readonly plans: readonly PlanJob[] }>('/api/plans')).plans,
} as const;
const OTHERS_EVERY = 10_000;

export function usePlans() {
  return useQuery(PLANS);
}

/** Milliseconds until a plan at work is asked for again. */
const AFTER_NEWS = 50;
const AFTER_NO_ANSWER = 2000;

/** A plan; while it is searched for, each answer waits for the next news. */
export function usePlan(id: string) {
  return useQuery({
    queryKey: ['plan', id],
    queryFn: async ({ client }): Promise<PlanAnswer> => {
      const known = client.getQueryData<PlanAnswer>(['plan', id]);
      const wait = known !== undefined && isAtWork(known) ? `?after=${known.version}&waitSeconds=10` : '';
      return getJson<PlanAnswer>(`/api/plans/${encodeURIComponent(id)}${wait}`);
    },
    refetchInterval: ({ state }) => {
      if (state.data === undefined || !isAtWork(state.data)) return false;
      return state.status === 'error' ? AFTER_NO_ANSWER : AFTER_NEWS;
    },
  });
}

/** Somebody else's changes to a plan that lies open, looked for in the short list, which costs little; theirs are then shown. */
export function useOthersChanges({ id, version }: Pick<PlanJob, 'id' | 'version'>): void {
  const client = useQueryClient();
  const { data } = useQuery({ ...PLANS, refetchInterval: OTHERS_EVERY });
  const theirs = data?.find((job) => job.id === id)?.version ?? 0;
  useEffect(() => {
    if (theirs > version) void client.invalidateQueries({ queryKey: ['plan', id] });
  }, [client, id, theirs, version]);
}

export function isAtWork({ state }: PlanJob): boolean {
  return state === 'waiting' || state === 'running';
}

/** A round as phones have it, with what was recorded at its visits. */
export interface SentRoundAnswer extends SentRound {
  readonly done: readonly {
    readonly visit: string;
    readonly day: string;
    readonly by: string;
    readonly opened: number;
    readonly unopened: number;
  }[];
}

/** Rounds sent out from a day on, for so many days; null = everybody's. */
export function useSentRounds(from: Day, days: number, person: string | null) {
  const to = dayToText(addDays(from, days - 1));
  const params = new URLSearchParams({
    from: dayToText(from),
    to,
    ...(person === null ? {} : { person }),
  });
  return useQuery({
    queryKey: ['sent rounds', params.toString()],
    queryFn: async () =>
      (await getJson<{ readonly rounds: readonly SentRoundAnswer[] }>(`/api/rounds/sent?${params}`)).rounds,
    placeholderData: keepPreviousData,
  });
}
