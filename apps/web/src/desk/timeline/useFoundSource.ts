import type { AnyFact } from '@sillwatch/trade';
import { useMemo } from 'react';
import { useTrade } from '../../api/queries.ts';
import type { PropertyAnswer } from '../../api/types.ts';
import { findBefore } from '../../shared/looks.ts';
import type { Entry } from '../property/history.ts';
import { type FoundSource, openedWording } from './found.ts';

export type Asked =
  /** No look, or one at a station that is not known: there is nothing to ask. */
  | { readonly is: 'not asked' }
  | { readonly is: 'on its way' }
  | { readonly is: 'failed'; readonly error: Error; readonly retry: () => void }
  | { readonly is: 'here'; readonly source: FoundSource };

/** What the questions of a look are asked of: the station before it, its model, the label. */
export function useFoundSource(property: PropertyAnswer, facts: readonly AnyFact[], entry: Entry): Asked {
  const { fact, body } = entry;
  const { id, kind } = fact;
  const trade = useTrade();
  const before = useMemo(
    () => (kind === 'station seen' && body !== null ? findBefore(facts, id) : undefined),
    [facts, id, kind, body],
  );
  if (before === undefined) return { is: 'not asked' };
  if (trade.data === undefined)
    return trade.isError
      ? { is: 'failed', error: trade.error, retry: () => void trade.refetch() }
      : { is: 'on its way' };
  const { look, state } = before;
  const source: FoundSource = {
    entry,
    body: look.body,
    opened: openedWording(entry, look.body),
    state,
    model: trade.data.models.get(state.model),
    profile: property.profile === null ? undefined : trade.data.profiles.get(property.profile.id),
    property,
  };
  return { is: 'here', source };
}
