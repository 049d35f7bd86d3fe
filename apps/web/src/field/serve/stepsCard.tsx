import type { Step } from '@sillwatch/trade';
import { useEffect, useRef, useState } from 'react';
import { StationMark } from '../../marks/stationMark.tsx';
import { Notice } from '../../shared/notice.tsx';
import { useWords } from '../../words/index.ts';
import { canBeLeft } from './done.ts';
import type { Entry, Verdict } from './entry.ts';

interface Props {
  readonly verdict: Verdict;
  readonly entry: Entry;
  readonly onChange: (entry: Entry) => void;
  readonly partName: (part: string) => string;
}

/** What the rules ask for at this station now, each step with its reason, and what to mind before it. */
export function StepsCard({ verdict: { asked }, entry, onChange, partName }: Props) {
  const w = useWords();
  const [isChoosing, setChoosing] = useState(entry.left.length > 0);
  const head = useRef<HTMLHeadingElement>(null);
  useEffect(() => {
    window.scrollTo(0, 0);
    head.current?.focus({ preventScroll: true });
  }, []);
  const isOpened = entry.answers.reach === 'opened';
  const canChoose = asked.steps.some(canBeLeft);
  const toggle = (id: Step['id']) =>
    onChange({
      ...entry,
      parts: null,
      left: entry.left.includes(id) ? entry.left.filter((one) => one !== id) : [...entry.left, id],
    });
  return (
    <>
      {asked.countsAsFeeding && (
        <Notice title={asked.baitGrams > 0 ? w.now.onlyAddBait : w.now.leaveAlone} tone="feeding">
          {asked.carriedOver && <p>{w.now.carried}</p>}
        </Notice>
      )}
      {asked.cautions.length > 0 && (
        <Notice title={w.now.cautions} tone="open">
          <ul className="yard-cautions">
            {asked.cautions.map((caution) => (
              <li key={caution}>{w.cautions[caution]}</li>
            ))}
          </ul>
        </Notice>
      )}
      <section className="sheet" aria-labelledby="steps-title">
        <h2 id="steps-title" ref={head} tabIndex={-1}>
          {asked.countsAsFeeding && asked.baitGrams === 0
            ? w.field.station.stepsLook
            : w.field.station.stepsTitle}
        </h2>
        <ol className="steps">
          {asked.steps.map((step) => (
            <li key={`${step.id} ${step.slot ?? ''}`} className="step">
              <div className="step-words">
                {isChoosing && canBeLeft(step) ? (
                  <label className="step-check">
                    <input
                      type="checkbox"
                      checked={!entry.left.includes(step.id)}
                      onChange={() => toggle(step.id)}
                    />
                    <span className="step-do">{w.steps[step.id]}</span>
                  </label>
                ) : (
                  <p className="step-do">{w.steps[step.id]}</p>
                )}
                {Object.keys(step.parts).length > 0 && (
                  <p className="quiet small">
                    {Object.entries(step.parts)
                      .map(([part, count]) => `${count} × ${partName(part)}`)
                      .join(', ')}
                  </p>
                )}
              </div>
              <details className="why">
                <summary>
                  {w.now.whyButton}
                  <span className="hidden-words"> {w.steps[step.id]}</span>
                </summary>
                <p>{w.reason(step.table, step.row, step.reason)}</p>
              </details>
            </li>
          ))}
        </ol>
        {isOpened && canChoose && !isChoosing && (
          <button type="button" className="button" onClick={() => setChoosing(true)}>
            {w.field.station.notAll}
          </button>
        )}
        {isChoosing && <p className="quiet">{w.field.station.notAllLead}</p>}
      </section>
      <section className="sheet" aria-labelledby="next-title">
        <h2 id="next-title">{w.field.station.next}</h2>
        {asked.carriedOver && (
          <p className="carried">
            <StationMark kind="carried over" size={24} silent />
            <span>
              <strong>{w.field.station.carried}.</strong> {w.field.station.carriedLead}
            </span>
          </p>
        )}
        {asked.yearlyServiceDone && entry.left.length === 0 && <p>{w.now.done}</p>}
        {asked.countsAsHit && !asked.countsAsFeeding && <p>{w.now.counts}</p>}
        {asked.auxiliaryStations > 0 && <p>{w.now.auxiliary(asked.auxiliaryStations)}</p>}
        {asked.replacementAsked && <p>{w.now.replacement}</p>}
        <p>{w.next[asked.next]}</p>
      </section>
    </>
  );
}
