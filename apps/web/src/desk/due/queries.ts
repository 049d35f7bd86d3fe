import { keepPreviousData, useQuery } from '@tanstack/react-query';
import { getJson } from '../../api/client.ts';
import { readDue, type SentDue } from '../../api/parse.ts';
import type { DueAnswer, DueGroup } from '../../api/types.ts';
import { COMING_DAYS, type Filter, filterParams } from './filter.ts';

interface Slice {
  readonly filter: Filter;
  readonly group: DueGroup | undefined;
  readonly offset: number;
  readonly limit: number;
}

/** Some rows of what is due, and the counts of all of it. */
export function useDueSlice(slice: Slice) {
  return useQuery({ ...sliceQuery(slice), placeholderData: keepPreviousData });
}

/** The rows of a slice alone. */
export function dueRowsQuery(slice: Slice) {
  const { queryKey, queryFn } = sliceQuery(slice);
  return { queryKey: ['rows', ...queryKey], queryFn: async () => (await queryFn()).rows };
}

function sliceQuery({ filter, group, offset, limit }: Slice) {
  const params = filterParams(filter, group);
  params.set('withinDays', String(COMING_DAYS));
  params.set('offset', String(offset));
  params.set('limit', String(limit));
  const address = `/api/due?${params.toString()}`;
  return {
    queryKey: ['due', address],
    queryFn: async (): Promise<DueAnswer> => readDue(await getJson<SentDue>(address)),
  };
}
