import type { Finding } from '@sillwatch/trade';
import { useEffect, useState } from 'react';
import { Link } from 'wouter';
import { Notice } from '../../shared/notice.tsx';
import { useWords, type Words } from '../../words/index.ts';
import { Screen } from '../parts/frame.tsx';
import { NotHere } from '../parts/notHere.tsx';
import { useVisit } from '../serve/useVisit.ts';
import type { FieldProperty } from '../store/port.ts';
import { useWatched } from '../store/useWatched.ts';
import { useFieldProperty, useStore } from '../yard.tsx';
import { PRACTICE_PROPERTY } from './buildYard.ts';
import { type Compared, comparePractice } from './compare.ts';
import { type Decided, decidedKey, readDecided } from './decision.ts';
import type { SceneKey } from './scenes.ts';

interface Props {
  readonly sceneByStation: ReadonlyMap<string, SceneKey>;
  readonly onAgain: () => void;
}

/** Afterwards: each record beside the rule and its reason. */
export function ComparePage({ sceneByStation, onAgain }: Props) {
  const property = useFieldProperty(PRACTICE_PROPERTY);
  const visit = useVisit(property, PRACTICE_PROPERTY);
  if (property === undefined || visit === undefined) return <NotHere back={`/p/${PRACTICE_PROPERTY}`} />;
  return (
    <Comparison property={property} visit={visit.visit} sceneByStation={sceneByStation} onAgain={onAgain} />
  );
}

interface ComparisonProps extends Props {
  readonly property: FieldProperty;
  readonly visit: string;
}

function Comparison({ property, visit, sceneByStation, onAgain }: ComparisonProps) {
  const w = useWords();
  const firm = useWatched(useStore().firm);
  const decisions = useDecisions(visit, sceneByStation);
  const compared = comparePractice(property, visit, firm.models, sceneByStation);
  const decidedWell = [...decisions.values()].filter(({ decided, wanted }) => decided === wanted).length;
  const right = compared.filter(({ isRight }) => isRight).length;
  const left = sceneByStation.size - compared.length;
  return (
    <Screen
      title={w.field.practice.compare}
      back={`/p/${PRACTICE_PROPERTY}`}
      actions={
        <button type="button" className="button button-main thumb" onClick={onAgain}>
          {w.field.practice.again}
        </button>
      }
    >
      <p className="lead">{w.field.practice.compareLead}</p>
      {compared.length === 0 ? (
        <Notice title={w.field.practice.compareNone} />
      ) : (
        <p className="yard-progress">
          <strong>{w.field.practice.score(right, compared.length)}</strong>
        </p>
      )}
      {decisions.size > 0 && <p>{w.field.practice.decidedScore(decidedWell, decisions.size)}</p>}
      {left > 0 && <p className="quiet">{w.field.practice.left(left)}</p>}
      {compared
        .toSorted((a, b) => Number(a.isRight) - Number(b.isRight))
        .map((one) => (
          <One key={one.station} compared={one} decided={decisions.get(one.station)} />
        ))}
    </Screen>
  );
}

/** What the trainee decided first at each station of this visit. */
function useDecisions(visit: string, sceneByStation: Props['sceneByStation']): ReadonlyMap<string, Decided> {
  const store = useStore();
  const [decisions, setDecisions] = useState<ReadonlyMap<string, Decided>>(new Map());
  useEffect(() => {
    let isCurrent = true;
    void Promise.all(
      [...sceneByStation.keys()].map(
        async (station) => [station, readDecided(await store.readDraft(decidedKey(visit, station)))] as const,
      ),
    ).then((all) => {
      if (isCurrent)
        setDecisions(
          new Map(all.flatMap(([station, one]) => (one === undefined ? [] : [[station, one] as const]))),
        );
    });
    return () => {
      isCurrent = false;
    };
  }, [store, visit, sceneByStation]);
  return decisions;
}

interface OneProps {
  readonly compared: Compared;
  readonly decided: Decided | undefined;
}

function One({ compared, decided }: OneProps) {
  const w = useWords();
  const p = w.field.practice;
  const { number, scene, truth, recorded, differs, asked, missing, besides, fired, isRight, station } =
    compared;
  return (
    <section className="sheet compared" aria-labelledby={`compared-${number}`}>
      <h2 id={`compared-${number}`}>
        <Link href={`/p/${PRACTICE_PROPERTY}/s/${station}`}>{w.field.station.title(number)}</Link>
      </h2>
      <p className={isRight ? 'compared-right' : 'compared-wrong'}>
        {isRight ? `✓ ${p.right}` : `✗ ${p.wrong}`}
        {differs.length > 0 && `: ${differs.map((part) => p.differs[part]).join(', ')}`}
      </p>
      <p className="quiet">{p.scenes[scene]}</p>
      <dl className="facts">
        {decided !== undefined && (
          <div>
            <dt>{p.youDecided}</dt>
            <dd>
              {p.decisions[decided.decided]}
              {decided.decided !== decided.wanted && `. ${p.decidedOther(p.decisions[decided.wanted])}`}
            </dd>
          </div>
        )}
        <div>
          <dt>{p.youSaid}</dt>
          <dd>{findingWords(recorded, w)}</dd>
        </div>
        {differs.length > 0 && (
          <div>
            <dt>{p.wasThere}</dt>
            <dd>{findingWords(truth, w)}</dd>
          </div>
        )}
        {missing.length > 0 && (
          <div>
            <dt>{p.youDid}</dt>
            <dd>{missing.map((id) => w.steps[id]).join('; ')}</dd>
          </div>
        )}
        {besides.length > 0 && (
          <div>
            <dt>{p.youAdded}</dt>
            <dd>{besides.map((id) => w.steps[id]).join('; ')}</dd>
          </div>
        )}
      </dl>
      <h3>{p.ruleDo}</h3>
      <ol className="steps">
        {asked.map((step) => (
          <li key={`${step.id} ${step.slot ?? ''}`} className="step">
            <div className="step-words">
              <p className="step-do">{w.steps[step.id]}</p>
              <p className="quiet small">{w.reason(step.table, step.row, step.reason)}</p>
            </div>
          </li>
        ))}
      </ol>
      <details className="rest">
        <summary>{p.reason}</summary>
        <ul className="yard-cautions">
          {fired.map(({ table, row, reads }) => (
            <li key={table}>{w.reason(table, row, reads)}</li>
          ))}
        </ul>
      </details>
    </section>
  );
}

function findingWords(finding: Finding, w: Words): string {
  if (finding.reach !== 'opened') return `${w.reaches[finding.reach]}: ${finding.why}`;
  return [
    w.field.station.termiteChoice[finding.termites],
    ...(finding.baitLeft === 'no bait' ? [] : [`${w.now.baitLeft}: ${w.baitLeft[finding.baitLeft]}`]),
    ...(finding.monitor === 'sound' || finding.monitor === 'no monitor' ? [] : [w.monitors[finding.monitor]]),
    ...(finding.housing === 'sound' ? [] : [w.housings[finding.housing]]),
    ...(finding.occupants === 'none' ? [] : [w.occupants[finding.occupants]]),
  ].join(', ');
}
