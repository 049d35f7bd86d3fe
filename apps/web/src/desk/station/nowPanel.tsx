import {
  HOUSING_CONDITIONS,
  type LabelProfile,
  OCCUPANTS,
  REACHES,
  type StationModel,
  type StationState,
  stepsFor,
  TASKS,
  type Task,
} from '@sillwatch/trade';
import { useState } from 'react';
import type { Me, PropertyAnswer } from '../../api/types.ts';
import { Choice } from '../../shared/choice.tsx';
import { Notice } from '../../shared/notice.tsx';
import { useWords } from '../../words/index.ts';
import {
  type Answers,
  baitOptions,
  findingOf,
  firstAnswers,
  monitorOptions,
  termiteOptions,
} from './answers.ts';
import { StepsView } from './stepsView.tsx';

interface Props {
  readonly state: StationState;
  readonly model: StationModel;
  readonly profile: LabelProfile;
  readonly answer: PropertyAnswer;
  readonly me: Me;
}

/** Task and finding in, ordered steps out: computed here, by the same rules that the server and the phone hold. */
export function NowPanel({ state, model, profile, answer, me }: Props) {
  const w = useWords();
  const [task, setTask] = useState<Task>('check');
  const [answers, setAnswers] = useState<Answers>(() => firstAnswers(state));
  const [isRecorded, setRecorded] = useState(false);
  const finding = findingOf(answers);
  const change = (part: Partial<Answers>) => setAnswers({ ...answers, ...part });
  if (isRecorded)
    return (
      <div role="status">
        <Notice title={w.record.done}>
          <p>{w.record.doneLead}</p>
          <button
            type="button"
            className="button"
            onClick={() => {
              setAnswers(firstAnswers(state));
              setRecorded(false);
            }}
          >
            {w.record.again}
          </button>
        </Notice>
      </div>
    );
  return (
    <>
      <div className="questions">
        <Choice
          legend={w.now.task}
          options={TASKS}
          value={task}
          onChoose={setTask}
          label={(option) => w.tasks[option]}
        />
        <Choice
          legend={w.now.reach}
          options={REACHES}
          value={answers.reach}
          onChoose={(reach) => change({ reach })}
          label={(option) => w.reaches[option]}
        />
        {answers.reach === 'opened' ? (
          <Opened state={state} answers={answers} change={change} />
        ) : (
          <WhyNot why={answers.why} onChange={(why) => change({ why })} />
        )}
      </div>
      <div className="answer" aria-live="polite">
        {finding === undefined ? (
          <p className="first">{w.now.first}</p>
        ) : (
          <StepsView
            state={state}
            model={model}
            profile={profile}
            answer={answer}
            me={me}
            task={task}
            finding={finding}
            onRecorded={() => setRecorded(true)}
            steps={stepsFor({ state, model, profile, task, finding })}
          />
        )}
      </div>
    </>
  );
}

interface OpenedProps {
  readonly state: StationState;
  readonly answers: Answers;
  readonly change: (part: Partial<Answers>) => void;
}

function Opened({ state, answers, change }: OpenedProps) {
  const w = useWords();
  const bait = baitOptions(state);
  const monitors = monitorOptions(state);
  const usual = firstAnswers(state);
  const rest = [
    ...(answers.monitor === usual.monitor ? [] : [w.monitors[answers.monitor]]),
    ...(answers.housing === 'sound' ? [] : [w.housings[answers.housing]]),
    ...(answers.occupants === 'none' ? [] : [w.occupants[answers.occupants]]),
  ];
  return (
    <>
      <Choice
        legend={w.now.termites}
        options={termiteOptions(state)}
        value={answers.termites}
        onChoose={(termites) => change({ termites })}
        label={(option) => w.termites[option]}
        hint={(option) => w.termitesHint[option]}
      />
      {bait.length > 0 && (
        <Choice
          legend={w.now.baitLeft}
          options={bait}
          value={answers.baitLeft}
          onChoose={(baitLeft) => change({ baitLeft })}
          label={(option) => w.baitLeft[option]}
          compact
        />
      )}
      <details className="rest">
        <summary>
          <span>{w.now.rest}</span>
          <span className="quiet">{rest.length === 0 ? w.now.restAsShould : rest.join(', ')}</span>
        </summary>
        {monitors.length > 0 && (
          <Choice
            legend={w.now.monitor}
            options={monitors}
            value={answers.monitor}
            onChoose={(monitor) => change({ monitor })}
            label={(option) => w.monitors[option]}
            compact
          />
        )}
        <Choice
          legend={w.now.housing}
          options={HOUSING_CONDITIONS}
          value={answers.housing}
          onChoose={(housing) => change({ housing })}
          label={(option) => w.housings[option]}
          compact
        />
        <Choice
          legend={w.now.occupants}
          options={OCCUPANTS}
          value={answers.occupants}
          onChoose={(occupants) => change({ occupants })}
          label={(option) => w.occupants[option]}
          compact
        />
      </details>
    </>
  );
}

function WhyNot({ why, onChange }: { readonly why: string; readonly onChange: (why: string) => void }) {
  const w = useWords();
  return (
    <div className="field">
      <label htmlFor="why-not">{w.now.why}</label>
      <p className="field-hint" id="why-not-hint">
        {w.now.whyHint}
      </p>
      <textarea
        id="why-not"
        aria-describedby="why-not-hint"
        rows={2}
        value={why}
        onChange={(event) => onChange(event.target.value)}
      />
    </div>
  );
}
