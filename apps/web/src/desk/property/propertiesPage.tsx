import { useState } from 'react';
import { Link } from 'wouter';
import { useProperties } from '../../api/queries.ts';
import type { PropertyRow } from '../../api/types.ts';
import { Sign } from '../../marks/signs.tsx';
import { StationMark } from '../../marks/stationMark.tsx';
import { Loading, Notice, Trouble } from '../../shared/notice.tsx';
import { Page } from '../../shared/page.tsx';
import { useWords } from '../../words/index.ts';

export function PropertiesPage() {
  const w = useWords();
  const properties = useProperties();
  return (
    <Page title={w.properties.title}>
      {properties.isPending && <Loading />}
      {properties.isError && <Trouble error={properties.error} retry={() => void properties.refetch()} />}
      {properties.isSuccess && <PropertyList rows={properties.data} />}
    </Page>
  );
}

function PropertyList({ rows }: { readonly rows: readonly PropertyRow[] }) {
  const w = useWords();
  const [text, setText] = useState('');
  const words = text.toLocaleLowerCase().split(/\s+/);
  const shown = rows.filter((row) => {
    const haystack = `${row.name} ${row.street} ${row.town} ${row.customer}`.toLocaleLowerCase();
    return words.every((word) => haystack.includes(word));
  });
  if (rows.length === 0)
    return (
      <Notice title={w.due.noProperties}>
        <p>{w.due.noPropertiesRemedy}</p>
      </Notice>
    );
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
            onChange={(event) => setText(event.target.value)}
          />
        </label>
        <p className="quiet" role="status">
          {w.app.of(shown.length, rows.length)}
        </p>
      </search>
      {shown.length === 0 ? (
        <Notice title={w.properties.none}>
          <p>{w.properties.noneRemedy}</p>
        </Notice>
      ) : (
        <ul className="due-rows">
          {shown.map((row) => (
            <li key={row.property}>
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
            </li>
          ))}
        </ul>
      )}
    </>
  );
}
