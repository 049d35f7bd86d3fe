import { memo, useMemo, useState } from 'react';
import { Link } from 'wouter';
import { type Entry, factsOfStation, historyOf, textOf } from '../../desk/property/history.ts';
import { Corrections } from '../../shared/corrections.tsx';
import { factWords } from '../../shared/factWords.ts';
import { useDays } from '../../words/days.ts';
import { useWords } from '../../words/index.ts';
import { Thumbnail } from '../parts/photos.tsx';
import type { FieldProperty } from '../store/port.ts';
import { useWatched } from '../store/useWatched.ts';
import { useStore } from '../yard.tsx';

interface Props {
  readonly property: FieldProperty;
  readonly station: string;
  readonly back: string;
}

/** The last look at a glance, all of them behind a tap; each can be corrected. */
export const History = memo(function History({ property, station, back }: Props) {
  const w = useWords();
  // Years of looks are drawn when somebody asks for them, not at every tap beside them.
  const [isOpen, setOpen] = useState(false);
  const entries = useMemo(
    () => historyOf(factsOfStation(property.facts, station)),
    [property.facts, station],
  );
  const [last] = entries;
  return (
    <details className="rest history" onToggle={({ currentTarget }) => setOpen(currentTarget.open)}>
      <summary>
        {w.field.station.lastLooks}
        {last !== undefined && <Glance entry={last} />}
      </summary>
      {last === undefined && <p className="quiet">{w.field.station.neverOpened}</p>}
      <ol className="timeline">
        {(isOpen ? entries : []).map((entry) => (
          <Line key={entry.fact.id} entry={entry} href={`${back}/s/${station}/fix/${entry.fact.id}`} />
        ))}
      </ol>
      <Link href={`${back}/s/${station}/change`} className="button">
        {w.field.station.change1}
      </Link>
    </details>
  );
});

/** The last record in one line, without a tap. */
function Glance({ entry: { fact, day, body } }: { readonly entry: Entry }) {
  const w = useWords();
  const days = useDays();
  return (
    <span className="history-glance">
      {day === null ? w.app.notKnown : days.short(day)}:{' '}
      {body === null ? w.station.withdrawn : factWords(fact.kind, body, w)}
    </span>
  );
}

function Line({ entry, href }: { readonly entry: Entry; readonly href: string }) {
  const w = useWords();
  const days = useDays();
  const { names } = useWatched(useStore().firm);
  const { fact, day, body } = entry;
  const by = names.get(fact.by);
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
      <div className="photos">
        {photosOf(body).map((hash, index) => (
          <Thumbnail key={hash} hash={hash} words={w.field.station.photoOf(index + 1)} />
        ))}
      </div>
      <Corrections entry={entry} say={(said) => factWords(fact.kind, said, w)} />
      {fact.kind === 'station seen' && body !== null && (
        <Link href={href} className="link-button">
          {w.field.station.fix}
        </Link>
      )}
    </li>
  );
}

function photosOf(body: unknown): readonly string[] {
  if (typeof body !== 'object' || body === null || !('photos' in body) || !Array.isArray(body.photos))
    return [];
  return body.photos.filter((hash) => typeof hash === 'string');
}
