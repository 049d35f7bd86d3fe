import type { AnyFact, StationState } from '@sillwatch/trade';
import './entries.css';
import { useMemo, useState } from 'react';
import { Link } from 'wouter';
import { useFacts, usePeople, useProperty } from '../../api/queries.ts';
import type { Me, PropertyAnswer } from '../../api/types.ts';
import { Sign } from '../../marks/signs.tsx';
import { Corrections } from '../../shared/corrections.tsx';
import { factWords } from '../../shared/factWords.ts';
import { useHeldFocus } from '../../shared/heldFocus.ts';
import { Loading, Trouble } from '../../shared/notice.tsx';
import { Page } from '../../shared/page.tsx';
import { Select } from '../../shared/select.tsx';
import { useDays } from '../../words/days.ts';
import { useWords, type Words } from '../../words/index.ts';
import { type Entry, historyOf, textOf } from '../property/history.ts';
import { CorrectionForm } from './correctionForm.tsx';
import { ALL, type Filter, filterEntries, OF_PROPERTY } from './filter.ts';

const ROWS = 50;

/** All that was recorded about a property, newest first, with corrections beside what they correct. */
export default function EntriesPage({ id, me }: { readonly id: string; readonly me: Me }) {
  const w = useWords();
  const words = w.desk.entries;
  const property = useProperty(id);
  const facts = useFacts(id);
  const people = usePeople();
  const [filter, setFilter] = useState<Filter>({ station: ALL, kind: ALL });
  const [rows, setRows] = useState(ROWS);
  const entries = useMemo(() => historyOf(facts.data?.facts ?? []), [facts.data]);
  const failed = property.isError ? property : facts.isError ? facts : undefined;
  if (failed?.isError === true)
    return (
      <Page title={words.title}>
        <Trouble error={failed.error} retry={() => void failed.refetch()} />
      </Page>
    );
  if (property.data === undefined || facts.data === undefined) return <Loading />;
  const { stations, body } = property.data;
  const shown = filterEntries(entries, filter);
  const kinds = [...new Set(entries.map(({ fact }) => fact.kind))].toSorted();
  const choose = (next: Filter) => {
    setFilter(next);
    setRows(ROWS);
  };
  return (
    <Page
      title={words.title}
      eyebrow={
        <Link href={`/properties/${id}`} className="back">
          <Sign name="back" size={18} />
          {body?.name ?? w.property.unnamed}
        </Link>
      }
    >
      <p className="quiet">{words.lead}</p>
      <fieldset className="record-row pick">
        <legend className="hidden-words">{words.filter}</legend>
        <Select
          label={words.station}
          value={filter.station}
          options={[
            [ALL, words.everywhere],
            [OF_PROPERTY, words.ofProperty],
            ...stations.map(({ station, number }) => [station, words.stationNumber(number)] as const),
          ]}
          onPick={(station) => choose({ ...filter, station })}
        />
        <Select
          label={words.kind}
          value={filter.kind}
          options={[[ALL, words.allKinds], ...kinds.map((kind) => [kind, kindWords(kind, w)] as const)]}
          onPick={(kind) => choose({ ...filter, kind })}
        />
      </fieldset>
      <section className="sheet" aria-label={words.title}>
        <p role="status" className="quiet">
          {shown.length === 0 ? words.none : words.count(shown.length)}
        </p>
        <ol className="timeline">
          {shown.slice(0, rows).map((entry) => (
            <EntryRow
              key={entry.fact.id}
              entry={entry}
              me={me}
              property={property.data}
              facts={facts.data.facts}
              by={people.data?.get(entry.fact.by)}
            />
          ))}
        </ol>
        {shown.length > rows && (
          <button type="button" className="button" onClick={() => setRows(rows + ROWS)}>
            {words.more}
          </button>
        )}
      </section>
    </Page>
  );
}

interface RowProps {
  readonly entry: Entry;
  readonly me: Me;
  readonly property: PropertyAnswer;
  readonly facts: readonly AnyFact[];
  readonly by: string | undefined;
}

function EntryRow({ entry, me, property, facts, by }: RowProps) {
  const w = useWords();
  const words = w.desk.entries;
  const days = useDays();
  const [isOpen, setOpen] = useState(false);
  const { fact, body } = entry;
  const { stations } = property;
  const held = useHeldFocus<HTMLDivElement>(isOpen);
  const day = entry.day === null ? w.app.notKnown : days.plain(entry.day);
  const what = [stationWords(fact.station, stations, w), kindWords(fact.kind, w)].filter(Boolean).join(', ');
  const maySay = (me.role === 'lead' || me.role === 'owner') && body !== null;
  return (
    <li className="entry">
      {/* The pressed button goes with what it opens or closes: keys go on from here. */}
      {maySay && !isOpen && (
        <div ref={held} tabIndex={-1} className="entry-correct">
          <button
            type="button"
            className="plain-button small"
            aria-label={words.correctOne(what, day)}
            onClick={() => setOpen(true)}
          >
            {words.correct}
          </button>
        </div>
      )}
      <p className="entry-day">
        {day}, {fact.station === null ? kindWords(fact.kind, w) : stationWords(fact.station, stations, w)}
        {by !== undefined && <span className="entry-by small"> {w.station.by(by)}</span>}
      </p>
      <p className={body === null ? 'entry-words entry-withdrawn' : 'entry-words'}>
        {body === null ? w.station.withdrawn : saidBy(fact.kind, body, w)}
      </p>
      {textOf(body, 'note') !== '' && <p className="entry-note">“{textOf(body, 'note')}”</p>}
      <Corrections entry={entry} say={(said) => saidBy(fact.kind, said, w)} />
      {maySay && isOpen && (
        <div ref={held} tabIndex={-1}>
          <CorrectionForm
            me={me}
            property={property}
            facts={facts}
            entry={entry}
            onDone={() => setOpen(false)}
          />
        </div>
      )}
    </li>
  );
}

/** Kinds that say something about a station have sentences; of the others their name is enough. */
function saidBy(kind: string, body: unknown, w: Words): string {
  return kind.startsWith('station ') || kind === 'note added' ? factWords(kind, body, w) : kindWords(kind, w);
}

function kindWords(kind: string, w: Words): string {
  return w.desk.entries.kinds[kind] ?? w.history.unknown(kind);
}

function stationWords(station: string | null, stations: readonly StationState[], w: Words): string {
  if (station === null) return '';
  const found = stations.find((one) => one.station === station);
  return found === undefined ? w.desk.entries.stationUnknown : w.desk.entries.stationNumber(found.number);
}
