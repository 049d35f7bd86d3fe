import type { AnyFact, Finding } from '@sillwatch/trade';
import { useState } from 'react';
import { usePeople } from '../../api/queries.ts';
import { useDays } from '../../words/days.ts';
import { useWords, type Words } from '../../words/index.ts';
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
  const { fact, day, body, corrections } = entry;
  return (
    <li className="entry">
      <p className="entry-day">
        {day === null ? w.app.notKnown : days.plain(day)}
        {by !== undefined && <span className="entry-by small"> {w.station.by(by)}</span>}
      </p>
      <p className={body === null ? 'entry-words entry-withdrawn' : 'entry-words'}>
        {body === null ? w.station.withdrawn : words(fact.kind, body, w)}
      </p>
      {textOf(body, 'note') !== '' && <p className="entry-note">“{textOf(body, 'note')}”</p>}
      {corrections.map(({ fact: correction, why }) => (
        <p key={correction.id} className="entry-correction small">
          <strong>{w.station.corrected}</strong> {w.station.because(why)}.
        </p>
      ))}
      {corrections.length > 0 && (
        <p className="entry-correction small quiet">
          {w.station.was}: {words(fact.kind, fact.body, w)}
        </p>
      )}
    </li>
  );
}

function words(kind: string, body: unknown, w: Words): string {
  if (typeof body !== 'object' || body === null) return w.station.withdrawn;
  const h = w.history;
  switch (kind) {
    case 'station installed':
      return h.installed;
    case 'station seen':
      return seenWords(body, w);
    case 'station moved':
      return h.moved(textOf(body, 'why'));
    case 'station tagged':
      return h.tagged(textOf(body, 'tag'));
    case 'station replaced':
      return h.replaced(textOf(body, 'why'));
    case 'station removed':
      return h.removed(textOf(body, 'why'));
    case 'note added':
      return textOf(body, 'text');
    default:
      return h.unknown(kind);
  }
}

function seenWords(body: object, w: Words): string {
  const task = textOf(body, 'task') === 'yearly service' ? w.tasks['yearly service'] : w.tasks.check;
  if (!('finding' in body) || !isFinding(body.finding)) return task;
  const { finding } = body;
  if (finding.reach !== 'opened') return `${task}: ${w.reaches[finding.reach]}. ${finding.why}`;
  const done = 'work' in body ? workWords(body.work, w) : [];
  const seen = [
    w.history.termites[finding.termites],
    ...(finding.baitLeft === 'no bait' ? [] : [w.history.bait(w.baitLeft[finding.baitLeft])]),
    ...(finding.monitor === 'sound' || finding.monitor === 'no monitor'
      ? []
      : [w.history.monitor(w.monitors[finding.monitor])]),
    ...(finding.housing === 'sound' ? [] : [w.housings[finding.housing].toLocaleLowerCase()]),
    ...(finding.occupants === 'none' ? [] : [w.occupants[finding.occupants].toLocaleLowerCase()]),
  ];
  return `${task}: ${[...seen, ...done].join(', ')}.`;
}

function workWords(work: unknown, w: Words): readonly string[] {
  if (typeof work !== 'object' || work === null) return [];
  return [
    ...('yearlyServiceDone' in work && work.yearlyServiceDone === true ? [w.history.serviced] : []),
    ...('fitted' in work && Array.isArray(work.fitted) && work.fitted.some(isBait) ? [w.history.baitIn] : []),
  ];
}

function isBait(fitted: unknown): boolean {
  return typeof fitted === 'object' && fitted !== null && 'insert' in fitted && fitted.insert === 'bait';
}

function isFinding(value: unknown): value is Finding {
  return typeof value === 'object' && value !== null && 'reach' in value;
}
