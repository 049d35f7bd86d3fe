import { useEffect, useRef, useState } from 'react';
import { Notice } from '../../shared/notice.tsx';
import { useWords } from '../../words/index.ts';
import { useStore, type YardDecideProps } from '../yard.tsx';
import { DECISIONS, type Decided, decidedKey, decisionOf, readDecided } from './decision.ts';

/** The trainee decides, and only then sees what the rules ask for; the first decision stands for the comparison. */
export function Decide({ asked, visit, station, children }: YardDecideProps) {
  const w = useWords();
  const p = w.field.practice;
  const store = useStore();
  const key = decidedKey(visit, station);
  const [said, setSaid] = useState<Decided | 'reading' | undefined>('reading');
  const head = useRef<HTMLHeadingElement>(null);
  useEffect(() => {
    let isCurrent = true;
    void store
      .readDraft(key)
      .catch(() => undefined)
      .then((kept) => {
        if (isCurrent) setSaid(readDecided(kept));
      });
    return () => {
      isCurrent = false;
    };
  }, [store, key]);
  useEffect(() => {
    if (said === undefined) head.current?.focus({ preventScroll: true });
  }, [said]);
  const { decision: wanted, by } = decisionOf(asked);
  if (said === 'reading') return null;
  if (said === undefined)
    return (
      <section className="sheet" aria-labelledby="ask-decide">
        <h2 id="ask-decide" ref={head} tabIndex={-1}>
          {p.decide}
        </h2>
        <p className="quiet">{p.decideLead}</p>
        <div className="ask-answers decide-answers">
          {DECISIONS.map((decided) => (
            <button
              key={decided}
              type="button"
              className="answer-button"
              onClick={() => {
                const one = { decided, wanted };
                setSaid(one);
                void store.saveDraft(key, one).catch(() => {});
              }}
            >
              {p.decisions[decided]}
            </button>
          ))}
        </div>
      </section>
    );
  const isSame = said.decided === wanted;
  return (
    <>
      <Notice
        title={isSame ? `✓ ${p.decidedRight}` : `✗ ${p.decidedOther(p.decisions[wanted])}`}
        tone={isSame ? 'plain' : 'open'}
      >
        <p>{p.decided(p.decisions[said.decided])}</p>
        {by !== undefined && <p>{w.reason(by.table, by.row, by.reason)}</p>}
      </Notice>
      {children}
    </>
  );
}
