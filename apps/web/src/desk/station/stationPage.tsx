import type { StationModel, StationState } from '@sillwatch/trade';
import { Link } from 'wouter';
import { ProblemError } from '../../api/client.ts';
import { useFacts, useProperty, useTrade } from '../../api/queries.ts';
import type { Me, PropertyAnswer } from '../../api/types.ts';
import { Sign } from '../../marks/signs.tsx';
import { markOf, StationMark } from '../../marks/stationMark.tsx';
import { Loading, Notice, Trouble } from '../../shared/notice.tsx';
import { Page } from '../../shared/page.tsx';
import { useDays } from '../../words/days.ts';
import { useWords } from '../../words/index.ts';
import { NextDue } from '../property/stationList.tsx';
import { NowPanel } from './nowPanel.tsx';
import { sentencesOf } from './sentences.ts';
import { Timeline } from './timeline.tsx';

interface Props {
  readonly property: string;
  readonly station: string;
  readonly me: Me;
}

export function StationPage({ property, station, me }: Props) {
  const w = useWords();
  const answer = useProperty(property);
  if (answer.isPending) return <Loading />;
  const state = answer.data?.stations.find((candidate) => candidate.station === station);
  if (answer.isError && !isNotFound(answer.error))
    return (
      <Page title={w.property.station}>
        <Trouble error={answer.error} retry={() => void answer.refetch()} />
      </Page>
    );
  if (answer.data === undefined || state === undefined)
    return (
      <Page title={w.station.gone}>
        <p>{w.station.goneRemedy}</p>
        <Link href={`/properties/${property}`} className="button">
          {w.station.toProperty}
        </Link>
      </Page>
    );
  return <StationSheet answer={answer.data} state={state} me={me} />;
}

function isNotFound(error: Error): boolean {
  return error instanceof ProblemError && error.problem.status === 404;
}

interface SheetProps {
  readonly answer: PropertyAnswer;
  readonly state: StationState;
  readonly me: Me;
}

function StationSheet({ answer, state, me }: SheetProps) {
  const w = useWords();
  const days = useDays();
  const facts = useFacts(state.property);
  const trade = useTrade();
  const model = trade.data?.models.get(state.model);
  const profile = answer.profile === null ? undefined : trade.data?.profiles.get(answer.profile.id);
  const kind = markOf(state);
  const held = answer.held.some(({ station }) => station === state.station);
  return (
    <Page
      title={w.station.title(state.number)}
      eyebrow={
        <Link href={`/properties/${state.property}`} className="back">
          <Sign name="back" size={18} />
          {answer.body?.name ?? w.property.unnamed}
        </Link>
      }
    >
      <div className={`station-state-panel state-${kind.replace(' ', '-')}`}>
        <StationMark kind={kind} size={52} />
        <div>
          {sentencesOf(state, w, days.plain).map((sentence, index) => (
            <p key={sentence} className={index === 0 ? 'lead' : ''}>
              {sentence}
            </p>
          ))}
        </div>
      </div>
      {answer.profile?.invented === true && <p className="demo">{w.app.inventedProfile}</p>}
      {state.disturbedWhileFeeding && <Notice title={w.station.disturbed} tone="late" />}
      {state.doubtfulClocks.length > 0 && (
        <Notice title={w.property.doubtful(state.doubtfulClocks.length)} tone="open" />
      )}
      <div className="columns columns-station">
        <div className="column">
          {state.inService && (
            <section className="sheet now" aria-labelledby="now-title">
              <h2 id="now-title">{w.now.title}</h2>
              {trade.isPending && <Loading />}
              {trade.isError && <Trouble error={trade.error} retry={() => void trade.refetch()} />}
              {trade.isSuccess && model === undefined && (
                <Notice title={w.now.noModel(state.model)} tone="late" />
              )}
              {trade.isSuccess && profile === undefined && <Notice title={w.now.noProfile} tone="late" />}
              {model !== undefined && profile !== undefined && (
                <NowPanel state={state} model={model} profile={profile} answer={answer} me={me} />
              )}
            </section>
          )}
        </div>
        <div className="column column-side">
          <section className="sheet" aria-labelledby="about-title">
            <h2 id="about-title" className="hidden-words">
              {w.property.station}
            </h2>
            <dl className="facts facts-narrow">
              <div>
                <dt>{w.property.nextDue}</dt>
                <dd>
                  <NextDue
                    items={answer.items.filter(({ station }) => station === state.station)}
                    held={held}
                    today={answer.asOf}
                  />
                </dd>
              </div>
              <div>
                <dt>{w.property.lastOpened}</dt>
                <dd>{state.lastOpenedOn === null ? w.property.never : days.plain(state.lastOpenedOn)}</dd>
              </div>
              <div>
                <dt>{w.property.lastYearly}</dt>
                <dd>{state.lastYearlyOn === null ? w.property.never : days.plain(state.lastYearlyOn)}</dd>
              </div>
              <div>
                <dt>{w.station.holds}</dt>
                <dd>{holds(state, model, w)}</dd>
              </div>
              <div>
                <dt>{w.station.model}</dt>
                <dd>{w.models[model?.name ?? ''] ?? model?.name ?? state.model}</dd>
              </div>
              <div>
                <dt>{w.station.tag}</dt>
                <dd>{state.tag ?? w.app.none}</dd>
              </div>
              <div>
                <dt>{w.station.installed}</dt>
                <dd>
                  {days.plain(state.installedOn)}
                  {state.auxiliary && `, ${w.station.auxiliary}`}
                </dd>
              </div>
            </dl>
            <Neighbours stations={answer.stations} state={state} />
          </section>
          <section className="sheet" aria-labelledby="history-title">
            <h2 id="history-title">{w.station.history}</h2>
            {facts.isPending && <Loading />}
            {facts.isError && <Trouble error={facts.error} retry={() => void facts.refetch()} />}
            {facts.isSuccess && <Timeline facts={facts.data.facts} station={state.station} />}
          </section>
        </div>
      </div>
    </Page>
  );
}

function holds(state: StationState, model: StationModel | undefined, w: ReturnType<typeof useWords>): string {
  return state.slots
    .map(({ slot, insert }) => {
      const said = model?.slots.find(({ id }) => id === slot)?.label ?? slot;
      const label = w.slots[said] ?? said;
      if (insert === null) return `${label}: ${w.station.empty}`;
      return label.includes(w.inserts[insert]) ? label : `${label}: ${w.inserts[insert]}`;
    })
    .join('; ');
}

function Neighbours({
  stations,
  state,
}: {
  readonly stations: readonly StationState[];
  readonly state: StationState;
}) {
  const w = useWords();
  const ring = stations
    .filter(({ structure, inService }) => structure === state.structure && inService)
    .toSorted((a, b) => a.number - b.number);
  const index = ring.findIndex(({ station }) => station === state.station);
  const before = ring[(index - 1 + ring.length) % ring.length];
  const after = ring[(index + 1) % ring.length];
  if (index < 0 || ring.length < 2 || before === undefined || after === undefined) return null;
  return (
    <nav className="neighbours" aria-label={w.station.neighbours}>
      <Link href={`/properties/${before.property}/stations/${before.station}`} className="button">
        <Sign name="back" size={18} />
        {w.station.title(before.number)}
      </Link>
      <Link href={`/properties/${after.property}/stations/${after.station}`} className="button">
        {w.station.title(after.number)}
        <Sign name="onward" size={18} />
      </Link>
    </nav>
  );
}
