import { DUE_GROUPS, type DueGroup } from '../../api/types.ts';

/** How far ahead a window may open and still be called coming, days. */
export const COMING_DAYS = 60;

const FIELDS = ['branch', 'work', 'town', 'technician', 'text'] as const;
/** Empty text = no wish. */
export type Filter = Readonly<Record<(typeof FIELDS)[number], string>>;

export const NO_FILTER: Filter = { branch: '', work: '', town: '', technician: '', text: '' };

/** The filter lives in the page's address, so that a list can be bookmarked, shared and gone back to. */
export function readFilter(params: URLSearchParams): Filter {
  const field = (name: string): string => params.get(name) ?? '';
  return {
    branch: field('branch'),
    work: field('work'),
    town: field('town'),
    technician: field('technician'),
    text: field('text'),
  };
}

/** undefined = the overview of all groups. */
export function readGroup(params: URLSearchParams): DueGroup | undefined {
  return DUE_GROUPS.find((group) => group === params.get('group'));
}

export function isFiltered(filter: Filter): boolean {
  return FIELDS.some((name) => filter[name] !== '');
}

/** Page address of a filter and group; also the question that the API is asked. */
export function filterParams(filter: Filter, group: DueGroup | undefined): URLSearchParams {
  const params = new URLSearchParams();
  for (const name of FIELDS) if (filter[name] !== '') params.set(name, filter[name]);
  if (group !== undefined) params.set('group', group);
  return params;
}
