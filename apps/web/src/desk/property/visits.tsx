import type { VisitSummary } from '@sillwatch/trade';
import { useState } from 'react';
import { useDays } from '../../words/days.ts';
import { useWords } from '../../words/index.ts';

interface Props {
  readonly visits: readonly VisitSummary[];
  readonly property: string;
}

const FIRST_ROWS = 5;

export function Visits({ visits, property }: Props) {
  const w = useWords();
  const days = useDays();
  const [all, setAll] = useState(false);
  if (visits.length === 0) return <p className="nothing">{w.property.noVisits}</p>;
  const newest = visits.toSorted((a, b) => b.day - a.day);
  const shown = all ? newest : newest.slice(0, FIRST_ROWS);
  return (
    <>
      <ul className="visits">
        {shown.map((visit) => (
          <li key={visit.visit}>
            <a
              href={`/api/reports/visits/${encodeURIComponent(visit.visit)}?property=${encodeURIComponent(property)}&format=html`}
            >
              {days.plain(visit.day)}
            </a>
            <span className="quiet">{w.property.visitLine(visit.opened, visit.unopened)}</span>
          </li>
        ))}
      </ul>
      {shown.length < newest.length && (
        <button type="button" className="button" onClick={() => setAll(true)}>
          {w.property.allVisits(newest.length)}
        </button>
      )}
    </>
  );
}
