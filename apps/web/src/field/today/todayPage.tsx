import { findDay } from '@sillwatch/trade';
import { memo, useEffect, useMemo, useState } from 'react';
import { Link } from 'wouter';
import { Choice } from '../../shared/choice.tsx';
import { Loading, Notice } from '../../shared/notice.tsx';
import { useDays } from '../../words/days.ts';
import { useWords } from '../../words/index.ts';
import { Screen } from '../parts/frame.tsx';
import { RecordedLine } from '../parts/recorded.tsx';
import { viewVisit } from '../serve/visit.ts';
import type { FieldDay, FieldProperty } from '../store/port.ts';
import { useWatched } from '../store/useWatched.ts';
import { useStore } from '../yard.tsx';
import { addCounts, sureNeeds, toolsFor } from './needs.ts';
import { geoLink, type Stop, stopsOf } from './places.ts';
import { RoundMap } from './roundMap.tsx';

/** Of a day without a round: what one person can do of it. */
const FIRST_STOPS = 10;

/** The list stands first; folding a day's properties takes a slow phone longer than drawing it. */
const QUIET_MS = 60;

/** The day: where to go in which order, and what to load before. */
export function TodayPage({ day: wanted }: { readonly day: string | undefined }) {
  const w = useWords();
  const store = useStore();
  const days = useWatched(store.days);
  const day = days.find((one) => one.day === wanted) ?? days[0];
  if (day === undefined)
    return (
      <Screen title={w.field.today.title}>
        <NothingHeld />
      </Screen>
    );
  return <DayPage key={day.day} day={day} days={days} />;
}

function DayPage({ day, days }: { readonly day: FieldDay; readonly days: readonly FieldDay[] }) {
  const w = useWords();
  const words = useDays();
  const store = useStore();
  const rows = useWatched(store.properties);
  const [view, setView] = useState<'list' | 'map'>('list');
  const stops = useMemo(() => stopsOf(day, rows), [day, rows]);
  const [wantsAll, setAll] = useState(false);
  // A round is shown whole; a list of all that is due somewhere is not a day's work.
  const isAll = wantsAll || day.round !== null;
  const isToday = day.day === days[0]?.day;
  const date = findDay(day.day);
  const title = isToday ? w.field.today.title : date === undefined ? day.day : words.full(date);
  return (
    <Screen title={title}>
      <RecordedLine />
      {isToday && date !== undefined && <p className="quiet">{words.full(date)}</p>}
      <nav className="days" aria-label={w.field.today.days}>
        {days.map((one, index) => (
          <Link
            key={one.day}
            href={index === 0 ? '/' : `/day/${one.day}`}
            className="day"
            {...(one.day === day.day ? { 'aria-current': 'date' as const } : {})}
          >
            <DayName day={one.day} />
            <strong>{w.format.number(one.round?.visits.length ?? one.due.length)}</strong>
          </Link>
        ))}
      </nav>
      {day.round !== null ? (
        <p>
          {w.field.today.starts(
            w.format.time(new Date(day.round.startsAt)),
            w.format.time(new Date(day.round.endsAt)),
          )}
        </p>
      ) : (
        stops.length > 0 && <p className="quiet">{w.field.today.noRound}</p>
      )}
      {stops.length === 0 ? (
        rows.length === 0 ? (
          <NothingHeld />
        ) : (
          <p className="nothing lead">{w.field.today.free}</p>
        )
      ) : (
        <>
          <div className="legend-hidden">
            <Choice
              legend={`${w.field.today.list}, ${w.field.today.map}`}
              options={['list', 'map'] as const}
              value={view}
              onChoose={setView}
              label={(option) => w.field.today[option]}
              compact
            />
          </div>
          {view === 'map' && <RoundMap stops={stops} />}
          <ol className="stops">
            {stops.slice(0, isAll ? undefined : FIRST_STOPS).map((stop, index) => (
              <StopRow key={stop.property} stop={stop} number={index + 1} />
            ))}
          </ol>
          {!isAll && stops.length > FIRST_STOPS && (
            <button type="button" className="button" onClick={() => setAll(true)}>
              {w.due.showAll(stops.length)}
            </button>
          )}
          <Load stops={isAll ? stops : stops.slice(0, FIRST_STOPS)} />
        </>
      )}
    </Screen>
  );
}

const DayName = memo(function DayName({ day }: { readonly day: string }) {
  const { locale } = useWords();
  const date = findDay(day);
  const parts = useMemo(
    () =>
      (['weekday', 'day'] as const).map(
        (part) =>
          new Intl.DateTimeFormat(locale, {
            timeZone: 'UTC',
            ...(part === 'day' ? { day: 'numeric' } : { weekday: 'short' }),
          }),
      ),
    [locale],
  );
  if (date === undefined) return <span>{day}</span>;
  const [weekday, number] = parts.map((part) => part.format(date * 86_400_000));
  return (
    <span className="day-name">
      <span>{weekday}</span> <span>{number}</span>
    </span>
  );
});

function NothingHeld() {
  const w = useWords();
  const store = useStore();
  return (
    <Notice title={w.field.today.nothingHeld}>
      <p>{w.field.today.nothingHeldRemedy}</p>
      <button type="button" className="button" onClick={() => void store.syncNow()}>
        {w.field.sync.now}
      </button>
    </Notice>
  );
}

function StopRow({ stop, number }: { readonly stop: Stop; readonly number: number }) {
  const w = useWords();
  const days = useDays();
  const { row, planned } = stop;
  const latest = row?.latest == null ? undefined : findDay(row.latest);
  const isDone = useIsDone(stop);
  return (
    <li className={isDone ? 'stop stop-done' : 'stop'}>
      <Link href={`/p/${stop.property}`} className="stop-link">
        <span className="stop-number" aria-hidden="true">
          {isDone ? '✓' : number}
        </span>
        <span className="stop-words">
          <strong className="stop-name">{row?.name ?? w.field.today.notHere}</strong>
          {row !== undefined && (
            <span className="block">
              {row.street}, {row.town}
            </span>
          )}
          {isDone && <span className="block">{w.field.today.done}</span>}
          {planned !== undefined && (
            <span className="block">
              {w.field.today.arrive(
                w.format.time(new Date(planned.startsAt)),
                w.format.time(new Date(planned.endsAt)),
              )}
              {planned.driveMinutes > 0 &&
                ` · ${w.field.today.drive(
                  w.field.count.minutes(Math.round(planned.driveMinutes)),
                  w.format.distance(planned.driveMetres),
                )}`}
            </span>
          )}
          {row !== undefined && (
            <span className="block">
              {row.owed > 0 ? w.field.count.owed(row.owed) : w.field.count.stations(row.stations)}
              {row.works.length > 0 && `: ${row.works.map(({ work }) => w.works1[work]).join(', ')}`}
              {latest !== undefined && ` · ${w.field.today.window(days.short(latest))}`}
              {row.late > 0 && <span className="stop-late"> · {w.field.count.late(row.late)}</span>}
            </span>
          )}
          {row !== undefined && row.hazards !== '' && (
            <span className="block yard-hazards">{row.hazards}</span>
          )}
          {row !== undefined && row.accessNotes !== '' && (
            <span className="block quiet">{row.accessNotes}</span>
          )}
        </span>
      </Link>
      {row?.position != null && (
        <a
          className="button stop-go"
          href={geoLink(row.position, row.name)}
          aria-label={w.field.today.navigateTo(row.name)}
        >
          {w.field.today.navigate}
        </a>
      )}
    </li>
  );
}

/** Whether the planned visit was closed; a property is folded for it, and the list is on the screen before. */
function useIsDone({ property: id, planned }: Stop): boolean {
  const store = useStore();
  const [isDone, setDone] = useState(false);
  const visit = planned?.visit;
  useEffect(
    () =>
      whenQuiet(() => {
        if (visit === undefined) return undefined;
        const watched = store.property(id);
        const read = () => {
          const property = watched.get();
          setDone(property !== undefined && viewVisit(property, visit).isClosed);
        };
        read();
        return watched.subscribe(read);
      }),
    [store, id, visit],
  );
  return isDone;
}

/** What the day surely needs, worked out on the phone. */
function Load({ stops }: { readonly stops: readonly Stop[] }) {
  const w = useWords();
  const properties = useProperties(stops);
  return (
    <details className="sheet load">
      <summary>
        <h2>{w.field.today.load}</h2>
      </summary>
      <p className="quiet">{w.field.today.loadLead}</p>
      {properties === undefined ? <Loading /> : <Needs properties={properties} />}
    </details>
  );
}

function Needs({ properties }: { readonly properties: readonly FieldProperty[] }) {
  const w = useWords();
  const store = useStore();
  const firm = useWatched(store.firm);
  const needs = useMemo(
    () => addCounts(properties.map((property) => sureNeeds(property, firm.models))),
    [properties, firm.models],
  );
  const parts = Object.entries(needs);
  return (
    <>
      {parts.length === 0 ? (
        <p>{w.field.today.loadNone}</p>
      ) : (
        <ul className="load-list">
          {parts.map(([part, count]) => (
            <li key={part}>
              <strong>{w.format.number(count)}</strong> × {w.parts[part] ?? firm.partNames[part] ?? part}
            </li>
          ))}
        </ul>
      )}
      <h3>{w.field.today.tools}</h3>
      <ul className="load-list">
        {toolsFor(properties).map((tool) => (
          <li key={tool}>{w.field.tools[tool]}</li>
        ))}
      </ul>
    </>
  );
}

/** undefined = not worked out yet: "nothing is needed" would be said of a day that nobody has looked at. */
function useProperties(stops: readonly Stop[]): readonly FieldProperty[] | undefined {
  const store = useStore();
  const [properties, setProperties] = useState<readonly FieldProperty[]>();
  const key = stops.map(({ property }) => property).join(' ');
  useEffect(
    () =>
      whenQuiet(() => {
        const watched = key === '' ? [] : key.split(' ').map((property) => store.property(property));
        const read = () =>
          setProperties(
            watched.flatMap((one) => {
              const value = one.get();
              return value === undefined ? [] : [value];
            }),
          );
        const ends = watched.map((one) => one.subscribe(read));
        read();
        return () => {
          for (const end of ends) end();
        };
      }),
    [store, key],
  );
  return properties;
}

/** Begins when the list has been drawn, and gives the way to end it. */
function whenQuiet(begin: () => (() => void) | undefined): () => void {
  let end: (() => void) | undefined;
  const timer = setTimeout(() => {
    end = begin();
  }, QUIET_MS);
  return () => {
    clearTimeout(timer);
    end?.();
  };
}
