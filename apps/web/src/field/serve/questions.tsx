import { HOUSING_CONDITIONS, OCCUPANTS, type StationState } from '@sillwatch/trade';
import { type ReactNode, useEffect, useRef } from 'react';
import {
  type Answers,
  baitOptions,
  firstAnswers,
  monitorOptions,
  termiteOptions,
} from '../../desk/station/answers.ts';
import { Choice } from '../../shared/choice.tsx';
import { useWords } from '../../words/index.ts';
import { canBeSound, type Entry, nextQuestion } from './entry.ts';

interface Props {
  readonly state: StationState;
  readonly entry: Entry;
  readonly onChange: (entry: Entry) => void;
}

/** One question at a time, its answers as large as a thumb in a glove; what was answered can be changed. */
export function Questions({ state, entry, onChange }: Props) {
  const w = useWords();
  const question = nextQuestion(entry);
  const answer = (part: Partial<Answers>) =>
    onChange({ ...entry, answers: { ...entry.answers, ...part }, left: [], parts: null });
  switch (question) {
    case 'steps':
      return null;
    case 'why not':
      return <WhyNot entry={entry} onChange={onChange} />;
    case 'termites':
      return (
        <Ask question={w.field.station.termites} name="termites">
          <div className="ask-answers">
            {termiteOptions(state).map((option) => (
              <Answer
                key={option}
                words={w.field.station.termiteChoice[option]}
                hint={w.termitesHint[option]}
                onPress={() => answer({ termites: option })}
              />
            ))}
          </div>
          <div className="ask-cannot">
            {(['not found', 'blocked'] as const).map((reach) => (
              <button
                key={reach}
                type="button"
                className="button"
                onClick={() => onChange({ ...entry, answers: { ...entry.answers, reach, why: '' } })}
              >
                {w.field.station.reaches[reach]}
              </button>
            ))}
          </div>
        </Ask>
      );
    case 'bait left':
      return (
        <Ask question={w.now.baitLeft} name="bait">
          <div className="ask-answers ask-row">
            {baitOptions(state).map((option) => (
              <Answer key={option} words={w.baitLeft[option]} onPress={() => answer({ baitLeft: option })} />
            ))}
          </div>
        </Ask>
      );
    case 'rest':
      return <Rest state={state} entry={entry} onChange={onChange} answer={answer} />;
  }
}

function Rest({
  state,
  entry,
  onChange,
  answer,
}: Props & { readonly answer: (part: Partial<Answers>) => void }) {
  const w = useWords();
  const monitors = monitorOptions(state);
  const isSound = canBeSound(state);
  const title = monitors.length > 0 ? w.field.station.rest : w.field.station.restLook;
  const answered = { isRestAnswered: true, isRestOpen: false };
  if (!entry.isRestOpen && isSound)
    return (
      <Ask question={title} name="rest">
        <div className="ask-answers">
          <Answer
            words={w.field.station.restSound}
            onPress={() => {
              const { monitor, housing, occupants } = firstAnswers(state);
              onChange({ ...entry, ...answered, answers: { ...entry.answers, monitor, housing, occupants } });
            }}
          />
          <Answer words={w.field.station.restNot} onPress={() => onChange({ ...entry, isRestOpen: true })} />
        </div>
      </Ask>
    );
  return (
    <Ask question={title} name="rest-open">
      {monitors.length > 0 && (
        <Choice
          legend={w.now.monitor}
          options={monitors}
          value={entry.answers.monitor}
          onChoose={(monitor) => answer({ monitor })}
          label={(option) => w.monitors[option]}
          compact
        />
      )}
      <Choice
        legend={w.now.housing}
        options={HOUSING_CONDITIONS}
        value={entry.answers.housing}
        onChoose={(housing) => answer({ housing })}
        label={(option) => w.housings[option]}
        compact
      />
      <Choice
        legend={w.now.occupants}
        options={OCCUPANTS}
        value={entry.answers.occupants}
        onChoose={(occupants) => answer({ occupants })}
        label={(option) => w.occupants[option]}
        compact
      />
      <button
        type="button"
        className="button button-main thumb"
        onClick={() => onChange({ ...entry, ...answered })}
      >
        {w.field.station.restDone}
      </button>
    </Ask>
  );
}

function WhyNot({ entry, onChange }: Omit<Props, 'state'>) {
  const w = useWords();
  const own = useRef<HTMLTextAreaElement>(null);
  const { answers } = entry;
  const say = (why: string) => onChange({ ...entry, answers: { ...answers, why } });
  return (
    <Ask question={w.field.station.why} name="why">
      <div className="ask-answers ask-chips">
        {w.field.station.whys.map((why) => (
          <Answer key={why} words={why} onPress={() => say(why)} />
        ))}
      </div>
      <div className="field">
        <label htmlFor="why-own">{w.field.station.whyOwn}</label>
        <div className="field-with">
          <textarea id="why-own" rows={2} ref={own} />
          <button type="button" className="button" onClick={() => say(own.current?.value ?? '')}>
            {w.field.station.restDone}
          </button>
        </div>
      </div>
      <button
        type="button"
        className="button"
        onClick={() => onChange({ ...entry, answers: { ...answers, reach: 'opened', why: '' } })}
      >
        {w.field.station.can}
      </button>
    </Ask>
  );
}

interface AskProps {
  readonly question: string;
  readonly name: string;
  readonly children: ReactNode;
}

/** Takes the focus when it comes, so that keys and readers go on from the question and not from a button that has gone. */
function Ask({ question, name, children }: AskProps) {
  const head = useRef<HTMLHeadingElement>(null);
  const isFirst = useRef(true);
  useEffect(() => {
    if (isFirst.current && name === 'termites') {
      isFirst.current = false;
      return;
    }
    isFirst.current = false;
    head.current?.focus({ preventScroll: true });
  }, [name]);
  return (
    <section className="ask" aria-labelledby={`ask-${name}`}>
      <h2 id={`ask-${name}`} ref={head} tabIndex={-1}>
        {question}
      </h2>
      {children}
    </section>
  );
}

interface AnswerProps {
  readonly words: string;
  readonly hint?: string;
  readonly onPress: () => void;
}

function Answer({ words, hint, onPress }: AnswerProps) {
  return (
    <button type="button" className="answer-button" onClick={onPress}>
      <span>{words}</span>
      {hint !== undefined && hint !== '' && <span className="answer-hint">{hint}</span>}
    </button>
  );
}
