import type { FigureName } from '@sillwatch/rounds';
import { useQuery } from '@tanstack/react-query';
import { getJson } from '../../api/client.ts';

interface Answer<T> {
  readonly state: 'done' | 'reckoning';
  readonly figures: T | null;
}

/** A page of figures; asked for again while the server is still reckoning. */
export function useFigures<T>(name: FigureName, branch: string) {
  return useQuery({
    queryKey: ['figures', name, branch],
    queryFn: () =>
      getJson<Answer<T>>(
        `/api/figures/${name}${branch === '' ? '' : `?branch=${encodeURIComponent(branch)}`}`,
      ),
    refetchInterval: ({ state }) => (state.data?.state === 'reckoning' ? 1000 : false),
    staleTime: 60_000,
  });
}
