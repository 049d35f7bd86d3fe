import { Link } from 'wouter';
import type { DueGroup } from '../../api/types.ts';
import { Trouble } from '../../shared/notice.tsx';
import { useWords } from '../../words/index.ts';
import { DueLine } from './dueRow.tsx';
import { type Filter, filterParams, isFiltered } from './filter.ts';
import { useDueSlice } from './queries.ts';

interface Props {
  readonly group: DueGroup;
  readonly count: number;
  readonly filter: Filter;
  readonly onClear: () => void;
}

/** Rows of a group in the overview; the rest stand on a page of their own. */
const FIRST_ROWS = 8;

export function DueGroupPart({ group, count, filter, onClear }: Props) {
  const w = useWords();
  const slice = useDueSlice({ filter, group, offset: 0, limit: FIRST_ROWS });
  const rows = count === 0 ? [] : (slice.data?.rows ?? []);
  return (
    <section id={group} tabIndex={-1} className={`due-group due-${group}`} aria-labelledby={`${group}-title`}>
      <div className="due-group-head">
        <h2 id={`${group}-title`}>
          {w.due.groups[group]} <span className="count">{count}</span>
        </h2>
        {count > 0 && <p className="quiet small">{w.due.groupLead[group]}</p>}
      </div>
      {slice.isError && <Trouble error={slice.error} retry={() => void slice.refetch()} />}
      {rows.length > 0 && (
        <ul className="due-rows">
          {rows.map((row) => (
            <li key={row.property}>
              <DueLine row={row} group={group} />
            </li>
          ))}
        </ul>
      )}
      {count === 0 && (
        <p className="nothing">
          {isFiltered(filter) ? w.due.filtered : w.due.empty[group]}{' '}
          {isFiltered(filter) && (
            <button type="button" className="link-button" onClick={onClear}>
              {w.due.clearFilter}
            </button>
          )}
        </p>
      )}
      {count > FIRST_ROWS && (
        <Link href={`/?${filterParams(filter, group).toString()}`} className="button">
          {w.due.showAll(count)}
        </Link>
      )}
    </section>
  );
}
