import type { StationState } from '@sillwatch/trade';
import { Link } from 'wouter';
import { markOf, StationMark } from '../../marks/stationMark.tsx';
import { Notice } from '../../shared/notice.tsx';
import { useWords, type Words } from '../../words/index.ts';
import { Screen } from '../parts/frame.tsx';
import { NotHere } from '../parts/notHere.tsx';
import { RecordedLine } from '../parts/recorded.tsx';
import { useDraft } from '../serve/useDraft.ts';
import { useVisit, type VisitHere } from '../serve/useVisit.ts';
import { nextOnWay } from '../serve/walk.ts';
import type { FieldProperty } from '../store/port.ts';
import { useFieldProperty, useYard } from '../yard.tsx';
import { Before } from './before.tsx';
import { YardPlan } from './yardPlan.tsx';

/** When the technician said that the gloves are on: the visit counts from then. */
export interface Begun {
  /** RFC 3339; empty = not yet */
  readonly at: string;
}

export function begunKey(visit: string): string {
  return `begun ${visit}`;
}

/** One property: what to mind, where the stations are, which comes next, what is done. */
export function PropertyPage({ property: id }: { readonly property: string }) {
  const property = useFieldProperty(id);
  const visit = useVisit(property, id);
  if (property === undefined || visit === undefined) return <NotHere back="/" />;
  return <Property key={visit.visit} property={property} visit={visit} />;
}

function Property({ property, visit }: { readonly property: FieldProperty; readonly visit: VisitHere }) {
  const w = useWords();
  const [begun, setBegun] = useDraft<Begun>(begunKey(visit.visit), () => ({ at: '' }));
  const { isPractice } = useYard();
  const { state, profile } = property;
  const { body } = state;
  const title = body?.name ?? w.property.unnamed;
  const base = `/p/${state.property}`;
  const lastSeen = [...visit.seen.keys()].at(-1);
  const next = nextOnWay(visit.way.order, new Set(visit.left), lastSeen);
  const nextNumber = state.stations.find(({ station }) => station === next)?.number;
  const done = visit.owed.length - visit.left.length;
  if (begun === undefined) return null;
  const isBegun = begun.at !== '' || visit.seen.size > 0;
  return (
    <Screen
      title={title}
      back="/"
      actions={
        profile === undefined ? undefined : !isBegun ? (
          <button
            type="button"
            className="button button-main thumb"
            onClick={() => setBegun({ at: new Date().toISOString() })}
          >
            {w.field.property.understood}
          </button>
        ) : (
          <>
            <Link href={`${base}/scan`} className="button">
              {w.field.property.scan}
            </Link>
            {next === undefined || nextNumber === undefined ? (
              <Link href={`${base}/leave`} className="button button-main thumb">
                {w.field.property.leave}
              </Link>
            ) : (
              <Link href={`${base}/s/${next}`} className="button button-main thumb">
                {w.field.property.next(nextNumber)}
              </Link>
            )}
          </>
        )
      }
    >
      <RecordedLine />
      {body !== null && (
        <p className="yard-address">
          {body.address.street}, {body.address.town}
        </p>
      )}
      {profile === undefined && <Notice title={w.field.property.noProfile} tone="late" />}
      {property.fetchedAt === null && !isPractice && <Notice title={w.field.property.ownOnly} />}
      <Before property={property} isBegun={isBegun} />
      <p className="yard-progress">
        <strong>
          {visit.task === 'yearly service' ? w.field.property.taskYearly : w.field.property.taskCheck}
        </strong>{' '}
        {visit.owed.length === 0
          ? w.field.property.nothingOwed
          : visit.left.length === 0
            ? w.field.property.allDone
            : w.field.property.progress(done, visit.owed.length)}
      </p>
      {visit.owed.length > 0 && (
        <progress max={visit.owed.length} value={done} aria-label={w.field.property.stations} />
      )}
      <section className="sheet" aria-labelledby="plan-title">
        <h2 id="plan-title">{w.field.property.diagram}</h2>
        <YardPlan
          state={state}
          walk={visit.way.points}
          done={new Set(visit.seen.keys())}
          next={next}
          linkOf={(station) => `${base}/s/${station}`}
        />
        {visit.way.lengthMetres > 0 && (
          <p className="quiet small">{w.field.property.walk(w.format.length(visit.way.lengthMetres))}</p>
        )}
        <Link href={`${base}/new`} className="button">
          {w.field.property.newStation}
        </Link>
      </section>
      <Lists property={property} visit={visit} base={base} next={next} />
      {next !== undefined && (
        <Link href={`${base}/leave`} className="button">
          {w.field.property.leave}
        </Link>
      )}
    </Screen>
  );
}

interface ListsProps {
  readonly property: FieldProperty;
  readonly visit: VisitHere;
  readonly base: string;
  readonly next: string | undefined;
}

function Lists({ property, visit, base, next }: ListsProps) {
  const w = useWords();
  const stations = new Map(property.state.stations.map((state) => [state.station, state]));
  const find = (ids: Iterable<string>): readonly StationState[] =>
    [...ids].flatMap((id) => {
      const state = stations.get(id);
      return state === undefined ? [] : [state];
    });
  const left = new Set(visit.left);
  const inOrder = find(visit.way.order);
  const groups = [
    { title: w.field.property.owedHere, list: inOrder.filter(({ station }) => left.has(station)) },
    { title: w.field.property.doneHere, list: find(visit.seen.keys()).toReversed() },
    {
      title: w.field.property.others,
      list: property.state.stations.filter(
        ({ station, inService }) => inService && !visit.owed.includes(station),
      ),
    },
  ].filter(({ list }) => list.length > 0);
  const held = new Set((property.due?.held ?? []).map(({ station }) => station));
  return groups.map(({ title, list }, index) => (
    <section key={title} aria-labelledby={`list-${index}`} className="yard-list">
      <h2 id={`list-${index}`}>{title}</h2>
      <ul>
        {list.map((state) => (
          <li key={state.station}>
            <Link
              href={`${base}/s/${state.station}`}
              className="station-row"
              {...(state.station === next ? { 'aria-current': 'step' as const } : {})}
            >
              <StationMark kind={markOf(state)} size={28} silent />
              <span className="station-row-number">{state.number}</span>
              <span className="station-row-words">{rowWords(state, property, visit, held, w)}</span>
            </Link>
          </li>
        ))}
      </ul>
    </section>
  ));
}

function rowWords(
  state: StationState,
  property: FieldProperty,
  visit: VisitHere,
  held: ReadonlySet<string>,
  w: Words,
): string {
  const look = visit.seen.get(state.station);
  if (look !== undefined) {
    const { finding } = look.body;
    return finding.reach === 'opened'
      ? w.field.station.termiteChoice[finding.termites]
      : w.reaches[finding.reach];
  }
  const works = (property.due?.items ?? [])
    .filter((item) => item.station === state.station && item.earliest <= property.today)
    .map((item) => w.works1[item.work]);
  return [
    held.has(state.station) ? w.field.property.heldOne : w.marks.station[markOf(state)],
    ...works,
    ...(visit.way.offWalk.has(state.station) ? [w.field.property.offWalk] : []),
    ...(state.auxiliary ? [w.property.auxiliary] : []),
  ].join(', ');
}
