import { useSearchParams } from 'wouter';
import { useBranches, usePeople } from '../../api/queries.ts';
import { DUE_GROUPS, type DueAnswer } from '../../api/types.ts';
import { Loading, Notice, Trouble } from '../../shared/notice.tsx';
import { Page } from '../../shared/page.tsx';
import { useDays } from '../../words/days.ts';
import { useWords } from '../../words/index.ts';
import { NoProperties } from '../property/noProperties.tsx';
import { DueFilter } from './dueFilter.tsx';
import { DueGroupPart } from './dueGroup.tsx';
import { DueWhole } from './dueWhole.tsx';
import { type Filter, filterParams, NO_FILTER, readFilter, readGroup } from './filter.ts';
import { useDueSlice } from './queries.ts';
import { AxisHead, AxisLegend } from './timeAxis.tsx';

export function DuePage() {
  const w = useWords();
  const days = useDays();
  const [params] = useSearchParams();
  const due = useDueSlice({ filter: readFilter(params), group: undefined, offset: 0, limit: 1 });
  const today = due.data?.rows[0]?.asOf;
  return (
    <Page title={w.due.title} eyebrow={today === undefined ? '' : days.full(today)}>
      {due.isPending && <Loading />}
      {due.isError && <Trouble error={due.error} retry={() => void due.refetch()} />}
      {due.data !== undefined && !due.isError && <DueBoard due={due.data} />}
    </Page>
  );
}

function DueBoard({ due }: { readonly due: DueAnswer }) {
  const w = useWords();
  const branches = useBranches();
  const people = usePeople();
  const [params, setParams] = useSearchParams();
  const filter = readFilter(params);
  const group = readGroup(params);
  const setFilter = (next: Filter) => setParams(filterParams(next, group), { replace: true });
  const today = due.rows[0]?.asOf;

  if (due.properties === 0 && due.withoutProfile.length === 0 && filterParams(filter, undefined).size === 0)
    return <NoProperties />;
  return (
    <>
      <Summary due={due} />
      {due.withoutProfile.length > 0 && (
        <Notice title={w.due.withoutProfile(due.withoutProfile.length)} tone="open">
          <p>{w.due.withoutProfileRemedy}</p>
        </Notice>
      )}
      <DueFilter
        branches={branches.data?.branches ?? []}
        towns={due.towns}
        people={people.data ?? new Map()}
        filter={filter}
        onChange={setFilter}
      />
      {today !== undefined && (
        <div className="axis">
          <AxisLegend />
          <AxisHead today={today} />
        </div>
      )}
      {group === undefined ? (
        DUE_GROUPS.map((one) => (
          <DueGroupPart
            key={one}
            group={one}
            count={due.groups[one]}
            filter={filter}
            onClear={() => setFilter(NO_FILTER)}
          />
        ))
      ) : (
        <DueWhole key={group} group={group} count={due.groups[group]} filter={filter} />
      )}
    </>
  );
}

/** One sentence in plain words; every number in it opens its list. */
function Summary({ due: { groups, held } }: { readonly due: DueAnswer }) {
  const w = useWords();
  const { late, open } = groups;
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
