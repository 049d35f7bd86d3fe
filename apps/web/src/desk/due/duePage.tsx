import { useMemo, useState } from 'react';
import { useSearchParams } from 'wouter';
import { useBranches, useDue } from '../../api/queries.ts';
import type { DueAnswer } from '../../api/types.ts';
import { Loading, Notice, Trouble } from '../../shared/notice.tsx';
import { Page } from '../../shared/page.tsx';
import { useDays } from '../../words/days.ts';
import { useWords } from '../../words/index.ts';
import { DueFilter } from './dueFilter.tsx';
import { DueList } from './dueList.tsx';
import { COMING_DAYS, type Filter, GROUPS, type Group, groupDue } from './groups.ts';

export function DuePage() {
  const w = useWords();
  const days = useDays();
  const due = useDue(COMING_DAYS);
  const today = due.data?.rows[0]?.asOf;
  return (
    <Page title={w.due.title} eyebrow={today === undefined ? '' : days.full(today)}>
      {due.isPending && <Loading />}
      {due.isError && <Trouble error={due.error} retry={() => void due.refetch()} />}
      {due.isSuccess && <DueBoard due={due.data} />}
    </Page>
  );
}

/** The filter lives in the address, so that a list can be bookmarked, shared and gone back to. */
function DueBoard({ due }: { readonly due: DueAnswer }) {
  const w = useWords();
  const branches = useBranches();
  const [params, setParams] = useSearchParams();
  const branch = params.get('branch') ?? '';
  const work = params.get('work') ?? '';
  const text = params.get('text') ?? '';
  const groups = useMemo(() => groupDue(due.rows, { branch, work, text }), [due, branch, work, text]);
  const [whole, setWhole] = useState<readonly Group[]>([]);

  const setFilter = (next: Filter) =>
    setParams(
      Object.entries(next).filter(([, value]) => value !== ''),
      { replace: true },
    );

  if (due.properties === 0 && due.withoutProfile.length === 0)
    return (
      <Notice title={w.due.noProperties}>
        <p>{w.due.noPropertiesRemedy}</p>
      </Notice>
    );
  return (
    <>
      <Summary groups={groups} />
      {due.withoutProfile.length > 0 && (
        <Notice title={w.due.withoutProfile(due.withoutProfile.length)} tone="open">
          <p>{w.due.withoutProfileRemedy}</p>
        </Notice>
      )}
      <DueFilter
        branches={branches.data?.branches ?? []}
        filter={{ branch, work, text }}
        onChange={setFilter}
      />
      {GROUPS.map((group) => (
        <DueList
          key={group}
          group={group}
          rows={groups[group]}
          filtered={branch !== '' || work !== '' || text !== ''}
          whole={whole.includes(group)}
          onWhole={() => setWhole([...whole, group])}
          onClear={() => setFilter({ branch: '', work: '', text: '' })}
        />
      ))}
      {due.moreRows > 0 && <p className="quiet">{w.due.cut(due.moreRows)}</p>}
    </>
  );
}

/** One sentence in plain words; every number in it opens its list. */
function Summary({ groups }: { readonly groups: ReturnType<typeof groupDue> }) {
  const w = useWords();
  const late = groups.late.length;
  const open = groups.open.length;
  const held = groups.held.reduce((sum, row) => sum + row.held, 0);
  return (
    <p className="summary">
      {late > 0 ? (
        <a href="#late" className="summary-late">
          {w.due.lateCount(late)}
        </a>
      ) : (
        <span>{w.due.nothingLate}</span>
      )}
      {', '}
      {open > 0 ? (
        <a href="#open">{late > 0 ? w.due.openMore(open) : w.due.openCount(open)}</a>
      ) : (
        <span>{w.due.nothingOpen}</span>
      )}
      {held > 0 && (
        <>
          {w.due.and}
          <a href="#held" className="summary-held">
            {w.due.heldCount(held)}
          </a>{' '}
          {w.due.heldBecause}
        </>
      )}
      {held === 0 && '.'}
    </p>
  );
}
