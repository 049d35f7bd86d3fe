import { useQueries } from '@tanstack/react-query';
import { useWindowVirtualizer } from '@tanstack/react-virtual';
import { type ReactNode, useLayoutEffect, useRef, useState } from 'react';
import { Trouble } from './notice.tsx';

/** Rows that a slice of a long list holds. */
export const SLICE_ROWS = 100;

export interface SliceQuery<Row> {
  readonly queryKey: readonly unknown[];
  readonly queryFn: () => Promise<readonly Row[]>;
}

interface Props<Row> {
  readonly count: number;
  /** Estimated height of a row, px, until it is drawn and measured. */
  readonly rowHeight: number;
  /** What asks for the rows of a slice, by its number from 0. */
  readonly queryOf: (slice: number) => SliceQuery<Row>;
  readonly children: (row: Row | undefined) => ReactNode;
}

/** A list however long: only the rows in sight are drawn, and fetched slice by slice as they come near. */
export function SliceList<Row>({ count, rowHeight, queryOf, children }: Props<Row>) {
  const list = useRef<HTMLUListElement>(null);
  const [top, setTop] = useState(0);
  useLayoutEffect(() => setTop(list.current?.offsetTop ?? 0), []);
  const rows = useWindowVirtualizer({
    count,
    estimateSize: () => rowHeight,
    overscan: 6,
    scrollMargin: top,
  });
  const shown = rows.getVirtualItems();
  const first = Math.floor((shown[0]?.index ?? 0) / SLICE_ROWS);
  const last = Math.floor((shown.at(-1)?.index ?? 0) / SLICE_ROWS);
  const slices = useQueries({
    queries: Array.from({ length: last - first + 1 }, (_, index) => queryOf(first + index)),
  });
  const failed = slices.find((slice) => slice.isError);
  if (failed?.error !== undefined && failed.error !== null)
    return <Trouble error={failed.error} retry={() => void failed.refetch()} />;
  return (
    <ul className="due-rows due-rows-whole" ref={list} style={{ blockSize: rows.getTotalSize() }}>
      {shown.map(({ index, key, start }) => (
        <li
          key={key}
          data-index={index}
          ref={rows.measureElement}
          style={{ transform: `translateY(${start - rows.options.scrollMargin}px)` }}
          aria-setsize={count}
          aria-posinset={index + 1}
        >
          {children(slices[Math.floor(index / SLICE_ROWS) - first]?.data?.[index % SLICE_ROWS])}
        </li>
      ))}
    </ul>
  );
}
