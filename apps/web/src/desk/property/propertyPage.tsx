import type { AnyFact, StationState } from '@sillwatch/trade';
import { findDay } from '@sillwatch/trade';
import { Link } from 'wouter';
import { ProblemError } from '../../api/client.ts';
import { useFacts, useProperty } from '../../api/queries.ts';
import type { PropertyAnswer } from '../../api/types.ts';
import { Sign } from '../../marks/signs.tsx';
import { markOf, STATION_MARKS, StationMark } from '../../marks/stationMark.tsx';
import { TimeMark } from '../../marks/timeMark.tsx';
import { Loading, Trouble } from '../../shared/notice.tsx';
import { Page } from '../../shared/page.tsx';
import { useOwnLanguage } from '../../shared/paperLanguage.tsx';
import { WindowBar } from '../../shared/windowBar.tsx';
import { useDays } from '../../words/days.ts';
import { useWords } from '../../words/index.ts';
import { whenWords } from '../when.ts';
import { Applications } from './applications.tsx';
import { linesOf } from './owed.ts';
import { PropertyPlan } from './plan.tsx';
import { StationList } from './stationList.tsx';
import { Visits } from './visits.tsx';

interface Props {
  readonly id: string;
}

/** The colour role of work by how its window stands. */
const TONES = { late: 'late', 'past target': 'open', open: 'open', 'not yet': 'coming' } as const;

export function PropertyPage({ id }: Props) {
  const w = useWords();
  const property = useProperty(id);
  const facts = useFacts(id);
  if (property.isPending) return <Loading />;
  if (property.isError) {
    if (property.error instanceof ProblemError && property.error.problem.status === 404)
      return (
        <Page title={w.property.gone}>
          <p>{w.property.goneRemedy}</p>
          <Link href="/properties" className="button">
            {w.properties.title}
          </Link>
        </Page>
      );
    return (
      <Page title={w.properties.title}>
        <Trouble error={property.error} retry={() => void property.refetch()} />
      </Page>
    );
  }
  return <PropertySheet answer={property.data} facts={facts.data?.facts ?? []} />;
}

interface SheetProps {
  readonly answer: PropertyAnswer;
  readonly facts: readonly AnyFact[];
}

function PropertySheet({ answer, facts }: SheetProps) {
  const w = useWords();
  const { profile, asOf, body, stations } = answer;
  const standing = stations.filter(({ inService }) => inService);
  const removed = stations.filter(({ inService }) => !inService);
  const numbersByStation = new Map(stations.map(({ station, number }) => [station, number]));
  return (
    <Page
      title={body?.name ?? w.property.unnamed}
      eyebrow={
        <Link href="/" className="back">
          <Sign name="back" size={18} />
          {w.nav.due}
        </Link>
      }
    >
      {body !== null && (
        <p className="lead quiet">
          {body.address.street}, {body.address.town}, {body.address.state} {body.address.postcode}
        </p>
      )}
      {profile?.invented === true && <p className="demo">{w.app.inventedProfile}</p>}
      <div className="property-top">
        <Owed answer={answer} />
        <div className="column property-side">
          <BeforeYouGoIn answer={answer} />
          <Tally stations={stations} />
        </div>
        <section className="sheet" aria-labelledby="plan-title">
          <div className="sheet-head">
            <h2 id="plan-title">{w.property.plan}</h2>
            <div className="buttons">
              <Link href={`/properties/${answer.property}/drawing`} className="button">
                {w.desk.drawing.open}
              </Link>
              <Link href={`/properties/${answer.property}/time`} className="button">
                {w.desk.time.open}
              </Link>
            </div>
          </div>
          <PropertyPlan
            property={answer.property}
            structures={answer.structures}
            site={answer.site}
            stations={stations}
          />
        </section>
      </div>
      {answer.structures.map((structure) => {
        const here = standing.filter((station) => station.structure === structure.structure);
        return (
          <section className="sheet" key={structure.structure} aria-labelledby={`s-${structure.structure}`}>
            <div className="sheet-head">
              <h2 id={`s-${structure.structure}`}>{structure.name}</h2>
              <p className="quiet">
                {w.foundations[structure.foundation]}, {w.due.stations(here.length)}
              </p>
            </div>
            <StationList stations={here} items={answer.items} held={answer.held} today={asOf} />
          </section>
        );
      })}
      {removed.length > 0 && (
        <details className="sheet">
          <summary>{w.property.removedOne(removed.length)}</summary>
          <StationList stations={removed} items={[]} held={[]} today={asOf} />
        </details>
      )}
      <div className="columns">
        <section className="sheet" aria-labelledby="visits-title">
          <div className="sheet-head">
            <h2 id="visits-title">{w.property.visits}</h2>
            <Link href={`/properties/${answer.property}/entries`} className="button">
              {w.desk.entries.title}
            </Link>
          </div>
          <Visits visits={answer.visits} property={answer.property} />
        </section>
        <Papers answer={answer} />
      </div>
      <section className="sheet" aria-labelledby="applications-title">
        <h2 id="applications-title">{w.property.applications}</h2>
        <Applications facts={facts} numbersByStation={numbersByStation} />
      </section>
      {answer.passedOver > 0 && <p className="quiet small">{w.property.passedOver(answer.passedOver)}</p>}
    </Page>
  );
}

function Owed({ answer }: { readonly answer: PropertyAnswer }) {
  const w = useWords();
  const days = useDays();
  const lines = linesOf(answer.items, answer.asOf);
  const now = lines.filter(({ timeliness }) => timeliness !== 'not yet');
  const next = lines.find(({ timeliness }) => timeliness === 'not yet');
  return (
    <section className="sheet" aria-labelledby="owed-title">
      <h2 id="owed-title">{w.property.owed}</h2>
      {now.length === 0 && <p>{w.property.owedNothing}</p>}
      <ul className="owed-list">
        {now.map((line) => (
          <li
            key={`${line.timeliness} ${line.work}`}
            className={`owed owed-line owed-${TONES[line.timeliness]}`}
          >
            <TimeMark kind={line.timeliness} />
            <span>
              {w.due.at(w.works[line.work], line.stations)}
              <span className="owed-when small">
                {whenWords(line.tightest, line.timeliness, answer.asOf, w, days.plain)}
              </span>
            </span>
            <WindowBar
              earliest={line.tightest.earliest}
              target={line.tightest.target}
              latest={line.tightest.latest}
              today={answer.asOf}
            />
          </li>
        ))}
        {answer.held.length > 0 && (
          <li className="owed owed-held">
            <StationMark kind="carried over" size={22} />
            <span>
              {w.due.heldAt(answer.held.length)}
              <span className="owed-when small">{w.due.heldBecauseShort}</span>
            </span>
          </li>
        )}
      </ul>
      {next !== undefined && (
        <p className="quiet small">
          {w.property.nextOwed(
            w.due.at(w.works[next.work], next.stations),
            days.plain(next.tightest.earliest),
          )}
        </p>
      )}
    </section>
  );
}

/** How many stations stand how; also the key to the plan beside it. */
function Tally({ stations }: { readonly stations: readonly StationState[] }) {
  const w = useWords();
  const counts = STATION_MARKS.map((kind) => ({
    kind,
    count: stations.filter((state) =>
      kind === 'carried over' ? state.inService && state.carriedOverOn !== null : markOf(state) === kind,
    ).length,
  }));
  return (
    <section className="sheet" aria-labelledby="tally-title">
      <h2 id="tally-title">{w.property.tally}</h2>
      <ul className="tally">
        {counts
          .filter(({ count }) => count > 0)
          .map(({ kind, count }) => (
            <li key={kind}>
              <StationMark kind={kind} size={24} silent />
              <span className="tally-count">{count}</span>
              <span>{w.marks.station[kind]}</span>
            </li>
          ))}
      </ul>
    </section>
  );
}

function BeforeYouGoIn({ answer }: { readonly answer: PropertyAnswer }) {
  const w = useWords();
  const days = useDays();
  const { body } = answer;
  const renews = body?.agreement === null || body === null ? undefined : findDay(body.agreement.renewsOn);
  return (
    <section className="sheet" aria-labelledby="before-title">
      <h2 id="before-title">{w.property.before}</h2>
      <dl className="facts">
        <div>
          <dt>{w.property.access}</dt>
          <dd>{said(body?.accessNotes) ?? w.property.noAccess}</dd>
        </div>
        <div>
          <dt>{w.property.hazards}</dt>
          {said(body?.hazards) === undefined ? (
            <dd>{w.property.noHazards}</dd>
          ) : (
            <dd className="hazard">
              <Sign name="caution" />
              {body?.hazards}
            </dd>
          )}
        </div>
        <div>
          <dt>{w.property.customer}</dt>
          <dd>
            {body?.customer.name}
            {said(body?.customer.phone ?? undefined) !== undefined && (
              <>
                {', '}
                <a href={`tel:${body?.customer.phone}`}>{body?.customer.phone}</a>
              </>
            )}
          </dd>
        </div>
        <div>
          <dt>{w.property.agreement}</dt>
          <dd>
            {renews === undefined
              ? w.property.noAgreement
              : renews < answer.asOf
                ? w.property.renewalPassed(days.plain(renews))
                : w.property.renews(days.plain(renews))}
          </dd>
        </div>
        <div>
          <dt>{w.property.profile}</dt>
          <dd>{answer.profile?.name ?? w.app.none}</dd>
        </div>
      </dl>
    </section>
  );
}

function said(text: string | undefined): string | undefined {
  return text === undefined || text.trim() === '' ? undefined : text;
}

function Papers({ answer }: { readonly answer: PropertyAnswer }) {
  const w = useWords();
  const last = answer.visits.reduce<PropertyAnswer['visits'][number] | undefined>(
    (latest, visit) => (latest === undefined || visit.day >= latest.day ? visit : latest),
    undefined,
  );
  const id = encodeURIComponent(answer.property);
  return (
    <section className="sheet" aria-labelledby="papers-title">
      <div className="sheet-head">
        <h2 id="papers-title">{w.property.papers}</h2>
        <Link href={`/properties/${answer.property}/hand-out`} className="button">
          {w.desk.handOut.open}
        </Link>
      </div>
      <ul className="papers">
        {last !== undefined && (
          <Paper
            name={w.property.visitReport}
            path={`visits/${encodeURIComponent(last.visit)}`}
            query={`property=${id}`}
            formats={['html', 'pdf']}
          />
        )}
        <Paper name={w.property.stationList} path={`stations/${id}`} formats={['html', 'pdf', 'csv']} />
        <DiagramPaper id={id} />
        <Paper
          name={w.property.applicationRecord}
          path="applications"
          query={`property=${id}`}
          formats={['html', 'pdf', 'csv']}
        />
      </ul>
    </section>
  );
}

/** The diagram to scale, on letter paper or for a screen in the sun. */
function DiagramPaper({ id }: { readonly id: string }) {
  const w = useWords();
  const { name, print, contrast } = w.property.diagram;
  const lang = useOwnLanguage();
  const path = `/api/properties/${id}/diagram`;
  return (
    <li className="paper">
      <Sign name="paper" />
      <span>{name}</span>
      <span className="paper-formats">
        <a href={`${path}?paper=letter&lang=${lang}`} aria-label={w.property.paperAs(name, print)}>
          {print}
        </a>
        <a href={`${path}?format=pdf&lang=${lang}`} aria-label={w.property.paperAs(name, w.formats.pdf)}>
          {w.formats.pdf}
        </a>
        <a href={`${path}?contrast=high&lang=${lang}`} aria-label={w.property.paperAs(name, contrast)}>
          {contrast}
        </a>
      </span>
    </li>
  );
}

interface PaperProps {
  readonly name: string;
  /** below /api/reports/ */
  readonly path: string;
  readonly query?: string;
  readonly formats: readonly ('html' | 'pdf' | 'csv')[];
}

function Paper({ name, path, query, formats }: PaperProps) {
  const w = useWords();
  const lang = useOwnLanguage();
  return (
    <li className="paper">
      <Sign name="paper" />
      <span>{name}</span>
      <span className="paper-formats">
        {formats.map((format) => (
          <a
            key={format}
            href={`/api/reports/${path}?${query === undefined ? '' : `${query}&`}format=${format}&lang=${lang}`}
            aria-label={w.property.paperAs(name, w.formats[format])}
          >
            {w.formats[format]}
          </a>
        ))}
      </span>
    </li>
  );
}
