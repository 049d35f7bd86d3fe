import type { Finding } from '@sillwatch/trade';
import { Link } from 'wouter';
import { Notice } from '../../shared/notice.tsx';
import { useWords, type Words } from '../../words/index.ts';
import { Screen } from '../parts/frame.tsx';
import { NotHere } from '../parts/notHere.tsx';
import { useVisit } from '../serve/useVisit.ts';
import { useWatched } from '../store/useWatched.ts';
import { useFieldProperty, useStore } from '../yard.tsx';
import { PRACTICE_PROPERTY } from './buildYard.ts';
import { type Compared, comparePractice } from './compare.ts';
import type { SceneKey } from './scenes.ts';

interface Props {
  readonly sceneByStation: ReadonlyMap<string, SceneKey>;
  readonly onAgain: () => void;
}

/** Afterwards: each record beside the rule and its reason. */
export function ComparePage({ sceneByStation, onAgain }: Props) {
  const w = useWords();
  const store = useStore();
  const firm = useWatched(store.firm);
  const property = useFieldProperty(PRACTICE_PROPERTY);
  const visit = useVisit(property, PRACTICE_PROPERTY);
  if (property === undefined || visit === undefined) return <NotHere back={`/p/${PRACTICE_PROPERTY}`} />;
  const compared = comparePractice(property, visit.visit, firm.models, sceneByStation);
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
      {left > 0 && <p className="quiet">{w.field.practice.left(left)}</p>}
      {compared
        .toSorted((a, b) => Number(a.isRight) - Number(b.isRight))
        .map((one) => (
          <One key={one.station} compared={one} />
        ))}
    </Screen>
  );
}

function One({ compared }: { readonly compared: Compared }) {
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
