import { Link } from 'wouter';
import type { DueGroup } from '../../api/types.ts';
import { Sign } from '../../marks/signs.tsx';
import { SLICE_ROWS, SliceList } from '../../shared/sliceList.tsx';
import { useWords } from '../../words/index.ts';
import { DueLine } from './dueRow.tsx';
import { type Filter, filterParams } from './filter.ts';
import { dueRowsQuery } from './queries.ts';

interface Props {
  readonly group: DueGroup;
  readonly count: number;
  readonly filter: Filter;
}

/** One whole group, however long. */
export function DueWhole({ group, count, filter }: Props) {
  const w = useWords();
  const queryOf = (slice: number) =>
    dueRowsQuery({ filter, group, offset: slice * SLICE_ROWS, limit: SLICE_ROWS });
  return (
    <section className={`due-group due-${group}`} aria-labelledby="whole-title">
      <div className="due-group-head">
        <Link href={`/?${filterParams(filter, undefined).toString()}`} className="back">
          <Sign name="back" /> {w.desk.dueBoard.back}
        </Link>
        <h2 id="whole-title">
          {w.due.groups[group]} <span className="count">{count}</span>
        </h2>
        <p className="quiet small">{w.due.groupLead[group]}</p>
      </div>
      <SliceList count={count} rowHeight={112} queryOf={queryOf}>
        {(row) =>
          row === undefined ? (
            <p className="due-line quiet">{w.desk.dueBoard.loadingRow}</p>
          ) : (
            <DueLine row={row} group={group} />
          )
        }
      </SliceList>
    </section>
  );
}
