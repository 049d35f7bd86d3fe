import { useState } from 'react';
import { Link } from 'wouter';
import { propertyRowsQuery, usePropertyCount } from '../../api/queries.ts';
import type { PropertyRow } from '../../api/types.ts';
import { Sign } from '../../marks/signs.tsx';
import { StationMark } from '../../marks/stationMark.tsx';
import { Loading, Notice, Trouble } from '../../shared/notice.tsx';
import { Page } from '../../shared/page.tsx';
import { SliceList } from '../../shared/sliceList.tsx';
import { useWords } from '../../words/index.ts';
import { NoProperties } from './noProperties.tsx';

/** Every property of the firm by name, however many; the server searches. */
export function PropertiesPage() {
  const w = useWords();
  const [text, setText] = useState('');
  const count = usePropertyCount(text);
  return (
    <Page title={w.properties.title}>
      {count.isPending && <Loading />}
      {count.isError && <Trouble error={count.error} retry={() => void count.refetch()} />}
      {count.data !== undefined && (
        <PropertyList total={count.data.total} all={count.data.all} text={text} onText={setText} />
      )}
    </Page>
  );
}

interface ListProps {
  /** properties that match, and properties in all */
  readonly total: number;
  readonly all: number;
  readonly text: string;
  readonly onText: (text: string) => void;
}

function PropertyList({ total, all, text, onText }: ListProps) {
  const w = useWords();
  if (all === 0) return <NoProperties />;
  return (
    <>
      <search className="filter">
        <label className="filter-text">
          <span className="hidden-words">{w.properties.search}</span>
          <Sign name="search" size={20} />
          <input
            type="search"
            placeholder={w.properties.search}
            value={text}
            onChange={(event) => onText(event.target.value)}
          />
        </label>
        <p className="quiet" role="status">
          {w.properties.found(total, all)}
        </p>
      </search>
      {total === 0 ? (
        <Notice title={w.properties.none}>
          <p>{w.properties.noneRemedy}</p>
        </Notice>
      ) : (
        <SliceList
          key={text}
          count={total}
          rowHeight={76}
          queryOf={(slice) => propertyRowsQuery(text, slice)}
        >
          {(row) =>
            row === undefined ? (
              <p className="due-row quiet">{w.desk.dueBoard.loadingRow}</p>
            ) : (
              <PropertyLine row={row} />
            )
          }
        </SliceList>
      )}
    </>
  );
}

function PropertyLine({ row }: { readonly row: PropertyRow }) {
  const w = useWords();
  return (
    <Link href={`/properties/${row.property}`} className="due-row place-row">
      <span className="due-place">
        <span className="due-name">{row.name}</span>
        <span className="quiet small">
          {row.street}, {row.town}
        </span>
      </span>
      <span className="place-counts small">
        {row.feeding > 0 && (
          <span className="owed-held place-mark">
            <StationMark kind="feeding" size={20} silent />
            {w.properties.feeding(row.feeding)}
          </span>
        )}
        <span className="quiet">{w.due.stations(row.stations)}</span>
      </span>
      <Sign name="onward" />
    </Link>
  );
}
