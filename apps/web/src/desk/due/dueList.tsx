import { Link } from 'wouter';
import type { DueRow } from '../../api/types.ts';
import { Sign } from '../../marks/signs.tsx';
import { StationMark } from '../../marks/stationMark.tsx';
import { TimeMark } from '../../marks/timeMark.tsx';
import { WindowBar } from '../../shared/windowBar.tsx';
import { useWords } from '../../words/index.ts';
import { soonWords } from '../when.ts';
import type { Group } from './groups.ts';

interface Props {
  readonly group: Group;
  readonly rows: readonly DueRow[];
  readonly filtered: boolean;
  readonly whole: boolean;
  readonly onWhole: () => void;
  readonly onClear: () => void;
}

/** Rows shown at first; the rest on asking. */
const FIRST_ROWS = 20;

export function DueList({ group, rows, filtered, whole, onWhole, onClear }: Props) {
  const w = useWords();
  const shown = whole ? rows : rows.slice(0, FIRST_ROWS);
  return (
    <section id={group} tabIndex={-1} className={`due-group due-${group}`} aria-labelledby={`${group}-title`}>
      <div className="due-group-head">
        <h2 id={`${group}-title`}>
          {w.due.groups[group]} <span className="count">{rows.length}</span>
        </h2>
        {rows.length > 0 && <p className="quiet small">{w.due.groupLead[group]}</p>}
      </div>
      {rows.length > 0 && (
        <ul className="due-rows">
          {shown.map((row) => (
            <li key={row.property}>{group === 'held' ? <HeldRow row={row} /> : <WorkRow row={row} />}</li>
          ))}
        </ul>
      )}
      {rows.length === 0 && (
        <p className="nothing">
          {filtered ? w.due.filtered : w.due.empty[group]}{' '}
          {filtered && (
            <button type="button" className="link-button" onClick={onClear}>
              {w.due.clearFilter}
            </button>
          )}
        </p>
      )}
      {shown.length < rows.length && (
        <button type="button" className="button" onClick={onWhole}>
          {w.due.showAll(rows.length)}
        </button>
      )}
    </section>
  );
}

function WorkRow({ row }: { readonly row: DueRow }) {
  const w = useWords();
  const pieces = row.works.reduce((sum, { stations }) => sum + stations, 0);
  return (
    <Link href={`/properties/${row.property}`} className="due-row">
      <Place row={row} />
      <span className="due-owed">
        {row.works.map(({ work, stations }) => (
          <span key={work}>{w.due.at(w.works[work], stations)}</span>
        ))}
        {row.late > 0 && row.late < pieces && <span className="quiet small">{w.due.lateOf(row.late)}</span>}
        {row.held > 0 && (
          <span className="owed owed-held small">
            <StationMark kind="carried over" size={20} silent />
            <span>{w.due.heldAt(row.held)}</span>
          </span>
        )}
      </span>
      <span className="due-window">
        <span className={`owed owed-${row.timeliness === 'late' ? 'late' : 'open'}`}>
          <TimeMark kind={row.timeliness} />
          <span className="owed-when">{soonWords(row, row.timeliness, row.asOf, w)}</span>
        </span>
        <WindowBar earliest={row.earliest} target={row.target} latest={row.latest} today={row.asOf} />
      </span>
      <Sign name="onward" />
    </Link>
  );
}

function HeldRow({ row }: { readonly row: DueRow }) {
  const w = useWords();
  return (
    <Link href={`/properties/${row.property}`} className="due-row due-row-held">
      <Place row={row} />
      <span className="due-owed">
        <span className="owed owed-held">
          <StationMark kind="carried over" size={22} silent />
          <span>{w.due.heldAt(row.held)}</span>
        </span>
      </span>
      <Sign name="onward" />
    </Link>
  );
}

function Place({ row }: { readonly row: DueRow }) {
  return (
    <span className="due-place">
      <span className="due-name">{row.name}</span>
      <span className="quiet small">{row.town}</span>
    </span>
  );
}
