import { getDay } from '@sillwatch/trade';
import { expect, it } from 'vitest';
import type { DueRow } from '../src/api/types.ts';
import { groupDue } from '../src/desk/due/groups.ts';

const asOf = getDay('2026-11-25');
const row = (part: Partial<DueRow>): DueRow => ({
  property: 'p',
  name: 'Quill cottage',
  town: 'Brindlemere',
  branch: 'north',
  asOf,
  works: [{ work: 'check', stations: 3 }],
  stations: 3,
  earliest: getDay('2026-11-01'),
  target: getDay('2026-11-20'),
  latest: getDay('2026-12-10'),
  timeliness: 'open',
  late: 0,
  held: 0,
  ...part,
});
const everything = { branch: '', work: '', text: '' };

it('puts each property into one list of work, and besides among those left alone', () => {
  const groups = groupDue(
    [
      row({ property: 'a', timeliness: 'late' }),
      row({ property: 'b', timeliness: 'past target', held: 2 }),
      row({ property: 'c', timeliness: 'open' }),
      row({ property: 'd', timeliness: 'not yet' }),
      row({ property: 'e', works: [], held: 1 }),
    ],
    everything,
  );
  const ids = (rows: readonly DueRow[]) => rows.map(({ property }) => property);
  expect(ids(groups.late)).toEqual(['a']);
  expect(ids(groups.open)).toEqual(['b', 'c']);
  expect(ids(groups.coming)).toEqual(['d']);
  expect(ids(groups.held)).toEqual(['b', 'e']);
});

it('filters by branch, work and every word of the text', () => {
  const rows = [
    row({ property: 'a', branch: 'south' }),
    row({ property: 'b', works: [{ work: 'yearly service', stations: 1 }] }),
    row({ property: 'c', name: 'Old Ferry inn' }),
  ];
  expect(groupDue(rows, { ...everything, branch: 'south' }).open).toHaveLength(1);
  expect(groupDue(rows, { ...everything, work: 'yearly service' }).open).toHaveLength(1);
  expect(groupDue(rows, { ...everything, text: 'ferry BRIND' }).open).toHaveLength(1);
  expect(groupDue(rows, { ...everything, text: 'ferry elsewhere' }).open).toHaveLength(0);
});

it('lists the earliest last day first', () => {
  const groups = groupDue(
    [
      row({ property: 'later', latest: getDay('2026-12-24') }),
      row({ property: 'sooner', latest: getDay('2026-12-01') }),
    ],
    everything,
  );
  expect(groups.open.map(({ property }) => property)).toEqual(['sooner', 'later']);
});
