import type { Timeliness } from '@sillwatch/trade';
import type { DueRow } from '../../api/types.ts';

export const GROUPS = ['late', 'open', 'coming', 'held'] as const;
export type Group = (typeof GROUPS)[number];

export interface Filter {
  readonly branch: string;
  readonly work: string;
  readonly text: string;
}

/** How far ahead a window may open and still be called coming, days. */
export const COMING_DAYS = 60;

/**
 * Sorts properties into the list of their most urgent work: each stands in one of late, open, coming,
 * and besides in `held` when a yearly service there waits for feeding to end. Earliest last day first.
 */
export function groupDue(
  rows: readonly DueRow[],
  filter: Filter,
): Readonly<Record<Group, readonly DueRow[]>> {
  const groups: Record<Group, DueRow[]> = { late: [], open: [], coming: [], held: [] };
  for (const row of rows) {
    if (!matches(row, filter)) continue;
    const isHeldOnly = row.works.length === 0;
    const hasWork = filter.work === '' || row.works.some(({ work }) => work === filter.work);
    if (hasWork && !isHeldOnly) groups[groupOf(row.timeliness)].push(row);
    if (row.held > 0 && filter.work === '') groups.held.push(row);
  }
  for (const group of GROUPS)
    groups[group].sort((a, b) => a.latest - b.latest || a.name.localeCompare(b.name));
  return groups;
}

export function groupOf(timeliness: Timeliness): 'late' | 'open' | 'coming' {
  switch (timeliness) {
    case 'late':
      return 'late';
    case 'past target':
    case 'open':
      return 'open';
    case 'not yet':
      return 'coming';
  }
}

function matches(row: DueRow, filter: Filter): boolean {
  if (filter.branch !== '' && row.branch !== filter.branch) return false;
  const haystack = `${row.name} ${row.town}`.toLocaleLowerCase();
  return filter.text
    .toLocaleLowerCase()
    .split(/\s+/)
    .every((word) => haystack.includes(word));
}
