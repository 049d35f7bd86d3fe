import { type StationModel, type StationState, TASKS } from '@sillwatch/trade';
import { useState } from 'react';
import { Link, useLocation } from 'wouter';
import { sentencesOf } from '../../desk/station/sentences.ts';
import { markOf, StationMark } from '../../marks/stationMark.tsx';
import { Choice } from '../../shared/choice.tsx';
import { Notice } from '../../shared/notice.tsx';
import { useDays } from '../../words/days.ts';
import { useWords } from '../../words/index.ts';
import { Screen } from '../parts/frame.tsx';
import { NotHere } from '../parts/notHere.tsx';
import { noteRecorded, RecordedLine } from '../parts/recorded.tsx';
import type { FieldProperty } from '../store/port.ts';
import { useWatched } from '../store/useWatched.ts';
import { useFieldProperty, useYard } from '../yard.tsx';
import { firstEntry, nextQuestion } from './entry.ts';
import { History } from './history.tsx';
import { Serve } from './serve.tsx';
import { useDraft } from './useDraft.ts';
import { useVisit, type VisitHere } from './useVisit.ts';
import { taskAt } from './visit.ts';
import { nextOnWay } from './walk.ts';

interface Props {
  readonly property: string;
  readonly station: string;
}

/** One station: what it was like, what is seen now, what to do, the record. */
export function StationPage({ property: id, station }: Props) {
  const w = useWords();
  const { store } = useYard();
  const property = useFieldProperty(id);
  const firm = useWatched(store.firm);
  const visit = useVisit(property, id);
  const state = property?.state.stations.find((one) => one.station === station);
  const model = state === undefined ? undefined : firm.models[state.model];
  const back = `/p/${id}`;
  if (property === undefined || visit === undefined) return <NotHere back="/" />;
  if (state === undefined)
    return (
      <Screen title={w.station.gone} back={back}>
        <p>{w.station.goneRemedy}</p>
      </Screen>
    );
  const { profile } = property;
  if (profile === undefined || model === undefined)
    return (
      <Screen title={w.station.title(state.number)} back={back}>
        <Notice
          title={profile === undefined ? w.field.property.noProfile : w.now.noModel(state.model)}
          tone="late"
        />
      </Screen>
    );
  return (
    <Station
      key={`${visit.visit} ${station}`}
      property={{ ...property, profile }}
      state={state}
      model={model}
      visit={visit}
      back={back}
    />
  );
}

interface StationProps {
  readonly property: FieldProperty & { readonly profile: NonNullable<FieldProperty['profile']> };
  readonly state: StationState;
  readonly model: StationModel;
  readonly visit: VisitHere;
  readonly back: string;
}

function Station({ property, state, model, visit, back }: StationProps) {
  const w = useWords();
  const [, go] = useLocation();
  const { store, isPractice } = useYard();
  const { station } = state;
  const key = `look ${visit.visit} ${station}`;
  const task = taskAt(station, property.due, property.today, visit.task);
  const [entry, setEntry] = useDraft(key, () => firstEntry(state, task));
  const [again, setAgain] = useState(false);
  const seen = visit.seen.get(station);
  const done = visit.owed.length - visit.left.length;
  const heading = (
    <span className="station-heading">
      <StationMark kind={markOf(state)} size={34} />
      <span>{w.field.station.title(state.number)}</span>{' '}
      <span className="station-at quiet">{w.field.station.of(done, visit.owed.length)}</span>
    </span>
  );
  if (entry === undefined) return null;
  const isServed = seen !== undefined && !again;
  // Once the rules have spoken, what they ask for stands first.
  const isDeciding = !isServed && state.inService && nextQuestion(entry) === 'steps';
  return (
    <Screen title={w.station.title(state.number)} heading={heading} back={back}>
      {!isDeciding && <RecordedLine />}
      {(!isDeciding || isPractice) && <Scene station={station} />}
      {!isDeciding && (
        <>
          <StateLine property={property} state={state} />
          <History property={property} station={station} back={back} />
        </>
      )}
      {!state.inService ? (
        <Notice title={w.field.station.removed} />
      ) : isServed ? (
        <Notice title={w.field.station.seenToday}>
          <div className="yard-buttons">
            <Link href={`${back}/s/${station}/fix/${seen.fact.id}`} className="button">
              {w.field.station.fix}
            </Link>
            <button type="button" className="button" onClick={() => setAgain(true)}>
              {w.field.station.seenAgain}
            </button>
          </div>
        </Notice>
      ) : (
        <>
          <TaskLine
            task={entry.task}
            onChoose={(next) => setEntry({ ...entry, task: next, left: [], parts: null })}
          />
          {entry.answers.termites === null && entry.answers.reach === 'opened' && (
            <WhatToLookFor state={state} />
          )}
          <Serve
            property={property}
            state={state}
            model={model}
            visit={visit.visit}
            entry={entry}
            isFirst
            onChange={setEntry}
            recordWords={
              entry.answers.reach === 'opened' ? w.field.station.record : w.field.station.recordUnopened
            }
            save={(body) => store.record('station seen', state.property, station, body, { draft: key })}
            onSaved={(fact) => {
              noteRecorded({ factId: fact.id, number: state.number, property: state.property });
              const left = new Set(visit.left.filter((one) => one !== station));
              const next = nextOnWay(visit.way.order, left, station);
              go(next === undefined ? back : `${back}/s/${next}`);
            }}
          />
        </>
      )}
    </Screen>
  );
}

/** How it stood: in one to three sentences, feeding plainer than all else. */
function StateLine({ property, state }: { readonly property: FieldProperty; readonly state: StationState }) {
  const w = useWords();
  const days = useDays();
  const held = property.due?.held.some(({ station }) => station === state.station) === true;
  if (state.inService && (held || state.phase === 'feeding'))
    return (
      <Notice title={held ? w.field.station.held : w.field.station.feedingBefore} tone="feeding">
        {state.feedingLastSeenOn !== null && <p>{days.plain(state.feedingLastSeenOn)}</p>}
      </Notice>
    );
  return (
    <p className="station-state">
      {sentencesOf(state, w, days.plain).join(' ')}
      {state.tag !== null && <span className="quiet"> {`${w.station.tag} ${state.tag}`}</span>}
    </p>
  );
}

function Scene({ station }: { readonly station: string }) {
  const w = useWords();
  const scene = useYard().sceneOf(station);
  if (scene === undefined) return null;
  return (
    <section className="scene" aria-labelledby="scene-title">
      <h2 id="scene-title">{w.field.practice.scene}</h2>
      <p>{w.field.practice.scenes[scene]}</p>
    </section>
  );
}

interface TaskProps {
  readonly task: (typeof TASKS)[number];
  readonly onChoose: (task: (typeof TASKS)[number]) => void;
}

function TaskLine({ task, onChoose }: TaskProps) {
  const w = useWords();
  const [isOpen, setOpen] = useState(false);
  if (isOpen)
    return (
      <Choice
        legend={w.now.task}
        options={TASKS}
        value={task}
        onChoose={(next) => {
          setOpen(false);
          onChoose(next);
        }}
        label={(option) => w.tasks[option]}
      />
    );
  return (
    <p className="task-line">
      <span>
        {w.field.station.task}: <strong>{w.tasks[task]}</strong>
      </span>
      <button type="button" className="link-button" onClick={() => setOpen(true)}>
        {w.field.station.changeTask}
        <span className="hidden-words"> {w.tasks[task]}</span>
      </button>
    </p>
  );
}

function WhatToLookFor({ state }: { readonly state: StationState }) {
  const w = useWords();
  const hasBait = state.slots.some(({ insert }) => insert === 'bait');
  const signs = (['base', 'mud', 'alive', 'galleries'] as const).map((key) => w.field.look[key]);
  return (
    <details className="rest">
      <summary>{w.field.look.title}</summary>
      <ul className="look-list">
        {[...signs, ...(hasBait ? [w.field.look.bait] : []), w.field.look.water, w.field.look.cap].map(
          (sign) => (
            <li key={sign}>{sign}</li>
          ),
        )}
      </ul>
    </details>
  );
}
