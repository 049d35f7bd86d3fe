import type { LabelProfile, StationModel } from '@sillwatch/trade';
import { keepPreviousData, QueryClient, useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { SLICE_ROWS } from '../shared/sliceList.tsx';
import { getJson, ProblemError, postJson } from './client.ts';
import { readProperty, type SentProperty } from './parse.ts';
import type { Branch, FactsAnswer, Me, PropertyAnswer, PropertyRow, Trade } from './types.ts';

export function createQueryClient(): QueryClient {
  return new QueryClient({
    defaultOptions: {
      queries: {
        staleTime: 15_000,
        // A refusal does not become an answer by asking again; a cut line may.
        retry: (count, error) => !(error instanceof ProblemError) && count < 2,
      },
    },
  });
}

/** null = not signed in. */
export function useMe(isAsked = true) {
  return useQuery({
    queryKey: ['me'],
    enabled: isAsked,
    queryFn: async (): Promise<Me | null> => {
      try {
        return await getJson<Me>('/api/me');
      } catch (error) {
        if (error instanceof ProblemError && error.problem.status === 401) return null;
        throw error;
      }
    },
    staleTime: 60_000,
  });
}

/** Whether this server has no firm yet. Asked only while nobody is signed in. */
export function useSetUpState(isAsked: boolean) {
  return useQuery({
    queryKey: ['setup'],
    queryFn: () => getJson<{ readonly needed: boolean; readonly tokenNeeded: boolean }>('/api/setup'),
    enabled: isAsked,
  });
}

export function useBranches() {
  return useQuery({
    queryKey: ['branches'],
    queryFn: () => getJson<{ readonly branches: readonly Branch[] }>('/api/branches'),
    staleTime: 300_000,
  });
}

/** Names by account; former people included, because records name them. */
export function usePeople() {
  return useQuery({
    queryKey: ['people'],
    queryFn: async (): Promise<ReadonlyMap<string, string>> => {
      const { people } = await getJson<{
        readonly people: readonly { readonly id: string; readonly name: string }[];
      }>('/api/people');
      return new Map(people.map(({ id, name }) => [id, name]));
    },
    staleTime: 300_000,
  });
}

/** The firm's label profiles and station models, by id: what the rules take their numbers from. */
export function useTrade() {
  return useQuery({
    queryKey: ['trade'],
    queryFn: async (): Promise<Trade> => {
      const [{ profiles }, { models }] = await Promise.all([
        getJson<{ readonly profiles: readonly LabelProfile[] }>('/api/profiles'),
        getJson<{ readonly models: readonly StationModel[] }>('/api/models'),
      ]);
      return {
        profiles: new Map(profiles.map((profile) => [profile.id, profile])),
        models: new Map(models.map((model) => [model.id, model])),
      };
    },
    staleTime: 60_000,
  });
}

interface PropertiesAnswer {
  readonly properties: readonly PropertyRow[];
  /** properties that match; properties in all */
  readonly total: number;
  readonly all: number;
}

/** How many properties match and stand in all; the last answer stands while the next is on its way. */
export function usePropertyCount(text: string) {
  return useQuery({ ...propertiesQuery(text, 0, 1), placeholderData: keepPreviousData });
}

/** A slice of the properties that match, by name. */
export function propertyRowsQuery(text: string, slice: number) {
  const { queryKey, queryFn } = propertiesQuery(text, slice * SLICE_ROWS, SLICE_ROWS);
  return { queryKey: ['rows', ...queryKey], queryFn: async () => (await queryFn()).properties };
}

function propertiesQuery(text: string, offset: number, limit: number) {
  const params = new URLSearchParams({
    order: 'name',
    offset: String(offset),
    limit: String(limit),
    ...(text.trim() === '' ? {} : { text }),
  });
  return {
    queryKey: ['properties', params.toString()],
    queryFn: () => getJson<PropertiesAnswer>(`/api/properties?${params.toString()}`),
  };
}

export function propertyQuery(id: string) {
  return {
    queryKey: ['property', id],
    queryFn: async (): Promise<PropertyAnswer> =>
      readProperty(await getJson<SentProperty>(`/api/properties/${encodeURIComponent(id)}`)),
  };
}

export function useProperty(id: string) {
  return useQuery(propertyQuery(id));
}

export function useFacts(id: string) {
  return useQuery({
    queryKey: ['facts', id],
    queryFn: () => getJson<FactsAnswer>(`/api/properties/${encodeURIComponent(id)}/facts`),
  });
}

/** `code needed`: a second factor is switched on for this account. */
export function useSignIn() {
  const client = useQueryClient();
  return useMutation({
    mutationFn: (body: { readonly email: string; readonly password: string }) =>
      postJson<SignedIn>('/api/auth/sign-in', body),
    onSuccess: ({ status }) => (status === 'signed in' ? client.invalidateQueries() : undefined),
  });
}

/** A code of the app, or one of the backup codes: ends a sign-in, or an enrolment. */
export function useSecondFactor() {
  const client = useQueryClient();
  return useMutation({
    mutationFn: ({ code, isBackup }: { readonly code: string; readonly isBackup: boolean }) =>
      postJson<SignedIn>(`/api/auth/verify-${isBackup ? 'backup-code' : 'totp'}`, { code }),
    onSuccess: () => client.invalidateQueries(),
  });
}

interface SignedIn {
  readonly status: 'signed in' | 'code needed';
}

export function useChangePassword() {
  const client = useQueryClient();
  return useMutation({
    mutationFn: (body: { readonly currentPassword: string; readonly newPassword: string }) =>
      postJson<SignedIn>('/api/auth/change-password', body),
    onSuccess: () => client.invalidateQueries(),
  });
}

/** Begins to enrol an authenticator app; nothing is asked for at sign-in before a code of it has been typed. */
export function useBeginSecondFactor() {
  return useMutation({
    mutationFn: (password: string) =>
      postJson<{ readonly totpUri: string; readonly backupCodes: readonly string[] }>('/api/auth/totp', {
        password,
      }),
  });
}

export function useEndSecondFactor() {
  const client = useQueryClient();
  return useMutation({
    mutationFn: (password: string) => postJson<unknown>('/api/auth/totp-off', { password }),
    onSuccess: () => client.invalidateQueries(),
  });
}

export function useSignOut() {
  const client = useQueryClient();
  return useMutation({
    mutationFn: () => postJson<unknown>('/api/auth/sign-out', {}),
    onSuccess: () => {
      client.clear();
      location.assign('/');
    },
  });
}
