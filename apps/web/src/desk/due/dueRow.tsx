import { Link } from 'wouter';
import type { DueGroup, DueRow } from '../../api/types.ts';
import { Sign } from '../../marks/signs.tsx';
import { StationMark } from '../../marks/stationMark.tsx';
import { TimeMark } from '../../marks/timeMark.tsx';
import { useWords } from '../../words/index.ts';
import { soonWords } from '../when.ts';
import { Lane } from './timeAxis.tsx';

interface Props {
  readonly row: DueRow;
  readonly group: DueGroup;
}

/** One property: where, what is owed with each window on the common axis, and how soon. */
export function DueLine({ row, group }: Props) {
  const w = useWords();
  const lanes = group === 'held' ? [] : row.works;
  const pieces = row.works.reduce((sum, { stations }) => sum + stations, 0);
  return (
    <Link href={`/properties/${row.property}`} className="due-line">
      <span className="due-place">
        <span className="due-name">{row.name}</span>
        <span className="quiet small">{row.town}</span>
        {lanes.length > 0 && row.window !== null && (
          <span className={`owed owed-${row.window.timeliness === 'late' ? 'late' : 'open'} small`}>
            <TimeMark kind={row.window.timeliness} />
            <span className="owed-when">{soonWords(row.window, row.window.timeliness, row.asOf, w)}</span>
          </span>
        )}
      </span>
      <span className="due-lanes">
        {lanes.map(({ work, stations, ...window }) => (
          <span className="due-lane" key={work}>
            <span>{w.due.at(w.works[work], stations)}</span>
            <Lane window={window} work={work} today={row.asOf} />
          </span>
        ))}
        {lanes.length > 0 && row.late > 0 && row.late < pieces && (
          <span className="quiet small">{w.due.lateOf(row.late)}</span>
        )}
        {row.held > 0 && (
          <span className="owed owed-held small">
            <StationMark kind="carried over" size={20} silent />
            <span>{w.due.heldAt(row.held)}</span>
          </span>
        )}
      </span>
      <Sign name="onward" />
    </Link>
  );
}
