import { useWindowVirtualizer } from '@tanstack/react-virtual';
import { useLayoutEffect, useRef, useState } from 'react';
import { Link } from 'wouter';
import type { DueGroup } from '../../api/types.ts';
import { Sign } from '../../marks/signs.tsx';
import { Trouble } from '../../shared/notice.tsx';
import { useWords } from '../../words/index.ts';
import { DueLine } from './dueRow.tsx';
import { type Filter, filterParams } from './filter.ts';
import { useDueSlices } from './queries.ts';

interface Props {
  readonly group: DueGroup;
  readonly count: number;
  readonly filter: Filter;
}

const PAGE_ROWS = 100;
/** Estimated height of a row, px, until it is drawn and measured. */
const ROW_HEIGHT = 112;

/** One whole group, however long: only the rows in sight are drawn, and fetched page by page as they come near. */
export function DueWhole({ group, count, filter }: Props) {
  const w = useWords();
  const list = useRef<HTMLUListElement>(null);
  const [top, setTop] = useState(0);
  useLayoutEffect(() => setTop(list.current?.offsetTop ?? 0), []);
  const rows = useWindowVirtualizer({
    count,
    estimateSize: () => ROW_HEIGHT,
    overscan: 6,
    scrollMargin: top,
  });
  const shown = rows.getVirtualItems();
  const first = Math.floor((shown[0]?.index ?? 0) / PAGE_ROWS);
  const last = Math.floor((shown.at(-1)?.index ?? 0) / PAGE_ROWS);
  const pages = useDueSlices(
    Array.from({ length: last - first + 1 }, (_, index) => ({
      filter,
      group,
      offset: (first + index) * PAGE_ROWS,
      limit: PAGE_ROWS,
    })),
  );
  const failed = pages.find((page) => page.isError);
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
      {failed?.error instanceof Error && <Trouble error={failed.error} retry={() => void failed.refetch()} />}
      <ul className="due-rows due-rows-whole" ref={list} style={{ blockSize: rows.getTotalSize() }}>
        {shown.map(({ index, key, start }) => {
          const page = pages[Math.floor(index / PAGE_ROWS) - first];
          const row = page?.data?.rows[index % PAGE_ROWS];
          return (
            <li
              key={key}
              data-index={index}
              ref={rows.measureElement}
              style={{ transform: `translateY(${start - rows.options.scrollMargin}px)` }}
              aria-setsize={count}
              aria-posinset={index + 1}
            >
              {row === undefined ? (
                <p className="due-line quiet">{w.desk.dueBoard.loadingRow}</p>
              ) : (
                <DueLine row={row} group={group} />
              )}
            </li>
          );
        })}
      </ul>
    </section>
  );
}
