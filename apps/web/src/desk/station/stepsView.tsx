import type { Finding, LabelProfile, StationModel, StationState, Step, Steps, Task } from '@sillwatch/trade';
import type { Me, PropertyAnswer } from '../../api/types.ts';
import { StationMark } from '../../marks/stationMark.tsx';
import { Notice } from '../../shared/notice.tsx';
import { useWords, type Words } from '../../words/index.ts';
import { RecordForm } from './recordForm.tsx';

export interface StepsViewProps {
  readonly state: StationState;
  readonly model: StationModel;
  readonly profile: LabelProfile;
  readonly answer: PropertyAnswer;
  readonly me: Me;
  readonly task: Task;
  readonly finding: Finding;
  readonly steps: Steps;
  readonly onRecorded: () => void;
}

export function StepsView(props: StepsViewProps) {
  const w = useWords();
  const { steps } = props;
  return (
    <>
      {steps.countsAsFeeding && (
        <Notice title={steps.baitGrams > 0 ? w.now.onlyAddBait : w.now.leaveAlone} tone="feeding" />
      )}
      <h3>{w.now.steps}</h3>
      <ol className="steps">
        {steps.steps.map((step) => (
          <StepView key={`${step.id} ${step.slot ?? ''}`} step={step} fired={steps.fired} />
        ))}
      </ol>
      <Cautions steps={steps} />
      <Outcome steps={steps} />
      <RecordForm key={JSON.stringify([props.task, props.finding])} {...props} />
    </>
  );
}

function StepView({ step, fired }: { readonly step: Step; readonly fired: Steps['fired'] }) {
  const w = useWords();
  const parts = partsText(step.parts, w);
  const reads =
    fired.find(({ table, row }) => table === step.table && row === step.row)?.reads ?? step.reason;
  return (
    <li className="step">
      <div className="step-words">
        <p className="step-do">{w.steps[step.id]}</p>
        {parts !== '' && <p className="quiet small">{parts}</p>}
      </div>
      <details className="why">
        <summary>
          {w.now.whyButton}
          <span className="hidden-words"> {w.steps[step.id]}</span>
        </summary>
        <p>{w.reason(step.table, step.row, reads)}</p>
        <p className="quiet small">{w.now.table(step.table, step.row)}</p>
      </details>
    </li>
  );
}

function partsText(parts: Readonly<Record<string, number>>, w: Words): string {
  return Object.entries(parts)
    .map(([part, count]) => `${count} × ${w.parts[part] ?? part}`)
    .join(', ');
}

function Cautions({ steps }: { readonly steps: Steps }) {
  const w = useWords();
  if (steps.cautions.length === 0) return null;
  return (
    <div className="cautions">
      <h3>{w.now.cautions}</h3>
      <ul>
        {steps.cautions.map((caution) => (
          <li key={caution}>{w.cautions[caution]}</li>
        ))}
      </ul>
    </div>
  );
}

function Outcome({ steps }: { readonly steps: Steps }) {
  const w = useWords();
  const parts = partsText(steps.partsUsed, w);
  return (
    <dl className="facts outcome">
      {(parts !== '' || steps.baitGrams > 0) && (
        <div>
          <dt>{w.now.parts}</dt>
          <dd>
            {parts}
            {steps.baitGrams > 0 && (
              <span className="block">{w.now.baitPuts(w.property.grams(steps.baitGrams))}</span>
            )}
          </dd>
        </div>
      )}
      {steps.tell.length > 0 && (
        <div>
          <dt>{w.now.tell}</dt>
          <dd>
            {steps.tell.map((key) => (
              <span className="block" key={key}>
                {w.tell[key]}
              </span>
            ))}
          </dd>
        </div>
      )}
      <div>
        <dt>{w.now.next}</dt>
        <dd>
          {steps.carriedOver && (
            <span className="block carried">
              <StationMark kind="carried over" size={22} silent />
              {w.now.carried}
            </span>
          )}
          {steps.yearlyServiceDone && <span className="block">{w.now.done}</span>}
          {steps.countsAsHit && !steps.countsAsFeeding && <span className="block">{w.now.counts}</span>}
          {steps.auxiliaryStations > 0 && (
            <span className="block">{w.now.auxiliary(steps.auxiliaryStations)}</span>
          )}
          {steps.replacementAsked && <span className="block">{w.now.replacement}</span>}
          <span className="block">{w.next[steps.next]}</span>
        </dd>
      </div>
    </dl>
  );
}
