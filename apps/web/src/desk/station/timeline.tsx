import type { AnyFact } from '@sillwatch/trade';
import { useState } from 'react';
import { usePeople } from '../../api/queries.ts';
import { Corrections } from '../../shared/corrections.tsx';
import { factWords } from '../../shared/factWords.ts';
import { useDays } from '../../words/days.ts';
import { useWords } from '../../words/index.ts';
import { type Entry, factsOfStation, historyOf, textOf } from '../property/history.ts';

interface Props {
  readonly facts: readonly AnyFact[];
  readonly station: string;
}

const FIRST_ROWS = 10;

/** All that was recorded at this station, newest first; what was corrected stays readable under the correction. */
export function Timeline({ facts, station }: Props) {
  const w = useWords();
  const [all, setAll] = useState(false);
  const people = usePeople();
  const entries = historyOf(factsOfStation(facts, station));
  if (entries.length === 0) return <p className="nothing">{w.station.historyNone}</p>;
  const shown = all ? entries : entries.slice(0, FIRST_ROWS);
  return (
    <>
      <ol className="timeline">
        {shown.map((entry) => (
          <EntryView key={entry.fact.id} entry={entry} by={people.data?.get(entry.fact.by)} />
        ))}
      </ol>
      {shown.length < entries.length && (
        <button type="button" className="button" onClick={() => setAll(true)}>
          {w.station.historyAll(entries.length)}
        </button>
      )}
    </>
  );
}

function EntryView({ entry, by }: { readonly entry: Entry; readonly by: string | undefined }) {
  const w = useWords();
  const days = useDays();
  const { fact, day, body } = entry;
  return (
    <li className="entry">
      <p className="entry-day">
        {day === null ? w.app.notKnown : days.plain(day)}
        {by !== undefined && <span className="entry-by small"> {w.station.by(by)}</span>}
      </p>
      <p className={body === null ? 'entry-words entry-withdrawn' : 'entry-words'}>
        {body === null ? w.station.withdrawn : factWords(fact.kind, body, w)}
      </p>
      {textOf(body, 'note') !== '' && <p className="entry-note">“{textOf(body, 'note')}”</p>}
      <Corrections entry={entry} say={(said) => factWords(fact.kind, said, w)} />
    </li>
  );
}
