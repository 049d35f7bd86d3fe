import type { BranchStock, Load } from '@sillwatch/rounds';
import { useQuery } from '@tanstack/react-query';
import { getJson } from '../../api/client.ts';
import { askAgainAfter, type ReckonedHead } from '../../api/reckoned.ts';

interface Reckoned<T> extends ReckonedHead {
  readonly answer: T | null;
}

export interface LoadAnswer {
  readonly published: boolean;
  readonly load: Load | null;
  readonly withoutProfile: readonly string[];
}

export interface StockAnswer extends BranchStock {
  readonly places: readonly { readonly place: string; readonly name: string }[];
  readonly lines: readonly {
    readonly place: string;
    readonly part: string;
    readonly lot: string | null;
    readonly count: number;
    readonly usableUntil: string | null;
    readonly countedOn: string | null;
  }[];
}

/** Asked for again while the server is still reckoning, or reckons anew. */
function useReckoned<T>(path: string, asked: Readonly<Record<string, string>>) {
  const query = new URLSearchParams(Object.entries(asked).filter(([, value]) => value !== '')).toString();
  return useQuery({
    queryKey: [path, query],
    queryFn: () => getJson<Reckoned<T>>(`${path}?${query}`),
    refetchInterval: ({ state }) => askAgainAfter(state.data),
  });
}

export const useLoad = (asked: Readonly<Record<string, string>>) =>
  useReckoned<LoadAnswer>('/api/load', asked);
export const useStock = (asked: Readonly<Record<string, string>>) =>
  useReckoned<StockAnswer>('/api/stock', asked);
