import type { BrokenRule, MoveKind, RELEASE_REASONS, UNPLANNED_REASONS } from '@sillwatch/rounds';
import type { RoundBody, TravelSource, WorkKind } from '@sillwatch/trade';
import { useQuery } from '@tanstack/react-query';
import { getJson } from './client.ts';

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

export interface PlanTotals {
  readonly rounds: number;
  readonly visits: number;
  readonly unplannedVisits: number;
  readonly driveMetres: number;
  readonly driveMinutes: number;
  readonly workMinutes: number;
  readonly waitMinutes: number;
  readonly overtimeMinutes: number;
  readonly lateWorks: number;
  readonly lateBefore: number;
  readonly otherPerson: number;
}

export interface Remedy {
  readonly kind: string;
  readonly person?: string;
  readonly day?: string;
  readonly minutes?: number;
  readonly daysOutside?: number;
  readonly skills?: readonly string[];
  readonly costMinutes?: number;
}

type StationWork = { readonly station: string; readonly work: WorkKind };
export type PlanBrokenRule = Pick<BrokenRule, 'rule' | 'person'> & {
  readonly day: string;
  readonly property: string | null;
  readonly minutes: number | null;
};

export interface VisitPlace {
  readonly day: string;
  readonly person: string;
  readonly startsAt: string;
}

export interface MovedVisit {
  readonly visit: string;
  readonly property: string;
  readonly kinds: readonly MoveKind[];
  readonly before: VisitPlace | null;
  readonly after: VisitPlace | null;
}

export interface BranchPlanAnswer {
  readonly branch: string;
  readonly timeZone: string;
  readonly from: string;
  readonly to: string;
  readonly travel: TravelSource;
  readonly rounds: readonly RoundBody[];
  readonly people: readonly { readonly person: string; readonly name: string }[];
  readonly unplanned: readonly {
    readonly property: string;
    readonly works: readonly StationWork[];
    readonly reason: (typeof UNPLANNED_REASONS)[number];
    readonly earliest: string | null;
    readonly latest: string | null;
    readonly remedies: readonly Remedy[] | null;
  }[];
  readonly late: readonly {
    readonly property: string;
    readonly station: string;
    readonly work: WorkKind;
    readonly latest: string;
    readonly plannedOn: string | null;
    readonly wasLate: boolean;
  }[];
  readonly released: readonly {
    readonly property: string;
    readonly what: 'frozen visit' | 'promise';
    readonly day: string;
    readonly why: (typeof RELEASE_REASONS)[number];
  }[];
  readonly broken: readonly PlanBrokenRule[];
  readonly totals: PlanTotals;
}

export interface PlanAnswer extends PlanJob {
  readonly plan: BranchPlanAnswer | null;
  readonly comparison: {
    readonly plan: PlanTotals;
    readonly byHand: PlanTotals;
    readonly last: PlanTotals | null;
    readonly moves: { readonly moved: readonly MovedVisit[]; readonly kept: number } | null;
  } | null;
  readonly notes: readonly string[];
}

export interface MoveResult {
  readonly visit: string;
  readonly property: string;
  readonly driveMinutes: number;
  readonly driveMetres: number;
  readonly overtimeMinutes: number;
  readonly costMinutes: number;
  readonly due: { readonly standing: 'too early' | 'in its window' | 'late'; readonly days: number };
  readonly broken: readonly PlanBrokenRule[];
  readonly moved: readonly MovedVisit[];
}

export function usePlans() {
  return useQuery({
    queryKey: ['plans'],
    queryFn: async () => (await getJson<{ readonly plans: readonly PlanJob[] }>('/api/plans')).plans,
  });
}

/** A plan; while it is searched for, each answer waits for the next news. */
export function usePlan(id: string) {
  return useQuery({
    queryKey: ['plan', id],
    queryFn: async ({ client }): Promise<PlanAnswer> => {
      const known = client.getQueryData<PlanAnswer>(['plan', id]);
      const wait = known !== undefined && isAtWork(known) ? `?after=${known.version}&waitSeconds=10` : '';
      return getJson<PlanAnswer>(`/api/plans/${encodeURIComponent(id)}${wait}`);
    },
    refetchInterval: ({ state }) => (state.data !== undefined && isAtWork(state.data) ? 50 : false),
  });
}

export function isAtWork({ state }: PlanJob): boolean {
  return state === 'waiting' || state === 'running';
}
