import type { Day, DueItem, HeldService, StationState } from '@sillwatch/trade';
import { timelinessOn } from '@sillwatch/trade';
import { Link } from 'wouter';
import { markOf, StationMark } from '../../marks/stationMark.tsx';
import { TimeMark } from '../../marks/timeMark.tsx';
import { useDays } from '../../words/days.ts';
import { useWords } from '../../words/index.ts';

interface Props {
  readonly stations: readonly StationState[];
  readonly items: readonly DueItem[];
  readonly held: readonly HeldService[];
  readonly today: Day;
}

export function StationList({ stations, items, held, today }: Props) {
  const w = useWords();
  const days = useDays();
  const words = (day: Day | null) => (day === null ? w.property.never : days.plain(day));
  return (
    <div className="stations">
      <div className="stations-head small quiet" aria-hidden="true">
        <span>{w.property.station}</span>
        <span>{w.property.state}</span>
        <span>{w.property.lastOpened}</span>
        <span>{w.property.lastYearly}</span>
        <span>{w.property.nextDue}</span>
      </div>
      <ul>
        {stations.map((state) => {
          const kind = markOf(state);
          return (
            <li key={state.station}>
              <Link href={`/properties/${state.property}/stations/${state.station}`} className="station-row">
                <span className="station-number">
                  <StationMark kind={kind} size={26} silent />
                  <span className="hidden-words">{w.property.station} </span>
                  {state.number}
                </span>
                <span className="station-state">
                  {w.marks.station[kind]}
                  {state.auxiliary && <span className="quiet small"> {w.property.auxiliary}</span>}
                </span>
                <Cell label={w.property.lastOpened}>{words(state.lastOpenedOn)}</Cell>
                <Cell label={w.property.lastYearly}>{words(state.lastYearlyOn)}</Cell>
                <Cell label={w.property.nextDue}>
                  <NextDue
                    items={items.filter(({ station }) => station === state.station)}
                    held={held.some(({ station }) => station === state.station)}
                    today={today}
                  />
                </Cell>
              </Link>
            </li>
          );
        })}
      </ul>
    </div>
  );
}

function Cell({ label, children }: { readonly label: string; readonly children: React.ReactNode }) {
  return (
    <span className="station-cell">
      <span className="station-label small quiet">{label} </span>
      <span>{children}</span>
    </span>
  );
}

interface NextProps {
  readonly items: readonly DueItem[];
  readonly held: boolean;
  readonly today: Day;
}

/** The work whose last day comes first; a held service is named beside it. */
export function NextDue({ items, held, today }: NextProps) {
  const w = useWords();
  const days = useDays();
  const next = items.reduce<DueItem | undefined>(
    (first, item) => (first === undefined || item.latest < first.latest ? item : first),
    undefined,
  );
  return (
    <span className="next-due">
      {next === undefined ? (
        <span className="quiet">{w.property.notDue}</span>
      ) : (
        <span className="next-line">
          <TimeMark kind={timelinessOn(next, today)} size={20} />
          <span>
            {w.works1[next.work]}, {w.property.by(days.plain(next.latest))}
          </span>
        </span>
      )}
      {held && (
        <span className="next-line">
          <StationMark kind="carried over" size={20} silent />
          <span>{w.property.heldShort}</span>
        </span>
      )}
    </span>
  );
}
