import type { FigureName } from '@sillwatch/rounds';
import { useQuery } from '@tanstack/react-query';
import { getJson } from '../../api/client.ts';
import { askAgainAfter, type ReckonedHead } from '../../api/reckoned.ts';

/** Lists of properties and stations are cut to what a page shows. */
export interface CutLists {
  readonly rowsLeftOut: number;
  /** of the properties that rows name */
  readonly names: Readonly<Record<string, string>>;
}

interface Answer<T> extends ReckonedHead {
  readonly figures: (T & CutLists) | null;
}

/** A page of figures; asked for again while the server is still reckoning, or reckons anew. */
export function useFigures<T>(name: FigureName, branch: string) {
  return useQuery({
    queryKey: ['figures', name, branch],
    queryFn: () =>
      getJson<Answer<T>>(
        `/api/figures/${name}${branch === '' ? '' : `?branch=${encodeURIComponent(branch)}`}`,
      ),
    refetchInterval: ({ state }) => askAgainAfter(state.data),
    staleTime: 60_000,
  });
}
