import type { StationModel, StationState } from '@sillwatch/trade';
import { useState } from 'react';
import { useLocation } from 'wouter';
import { Choice } from '../../shared/choice.tsx';
import { Field } from '../../shared/field.tsx';
import { firstInserts } from '../../shared/inserts.ts';
import { firstLegal, isComplete, type Legal, toApplication } from '../../shared/legal.ts';
import { Notice } from '../../shared/notice.tsx';
import { useWords } from '../../words/index.ts';
import { Failure } from '../parts/failure.tsx';
import { Screen } from '../parts/frame.tsx';
import { NotHere } from '../parts/notHere.tsx';
import { Why } from '../parts/why.tsx';
import { LegalForm } from '../serve/legalForm.tsx';
import type { FieldProperty } from '../store/port.ts';
import { useWatched } from '../store/useWatched.ts';
import { useFieldProperty, useStore } from '../yard.tsx';
import { YardPlan } from './yardPlan.tsx';

const CHANGES = ['moved', 'tag', 'replaced', 'removed'] as const;
type Change = (typeof CHANGES)[number];

/** A station that was moved, tagged, lost and replaced, or taken out. */
export function ChangePage({
  property: id,
  station,
}: {
  readonly property: string;
  readonly station: string;
}) {
  const w = useWords();
  const property = useFieldProperty(id);
  const firm = useWatched(useStore().firm);
  const state = property?.state.stations.find((one) => one.station === station);
  if (property === undefined || state === undefined) return <NotHere back={`/p/${id}`} />;
  return (
    <Screen title={w.field.change.title(state.number)} back={`/p/${id}/s/${station}`}>
      <Changes property={property} state={state} models={Object.values(firm.models)} />
    </Screen>
  );
}

interface Props {
  readonly property: FieldProperty;
  readonly state: StationState;
  readonly models: readonly StationModel[];
}

function Changes({ property, state, models }: Props) {
  const w = useWords();
  const store = useStore();
  const me = useWatched(store.me);
  const [, go] = useLocation();
  const [change, setChange] = useState<Change | null>(null);
  const [why, setWhy] = useState('');
  const [tag, setTag] = useState(state.tag ?? '');
  const [position, setPosition] = useState<readonly [number, number] | null>(null);
  const [modelId, setModel] = useState(state.model);
  const [typed, setLegal] = useState<Legal>();
  const [tried, setTried] = useState(false);
  const [error, setError] = useState<unknown>();
  const model = models.find(({ id }) => id === modelId);
  const { inserts, grams } = firstInserts(model, property.profile);
  const needsLegal = change === 'replaced' && grams > 0;
  const legal =
    typed ??
    (property.profile === undefined
      ? undefined
      : firstLegal(
          {
            profile: property.profile,
            grams,
            station: state.number,
            structure:
              property.state.structures.find(({ structure }) => structure === state.structure)?.name ?? '',
            street: property.state.body?.address.street ?? '',
            me,
          },
          w,
        ));
  const isWhyMissing = change !== 'tag' && why.trim() === '';
  const save = async () => {
    setTried(true);
    if (change === null || isWhyMissing || (change === 'tag' && tag.trim() === '')) return;
    if (change === 'moved' && position === null) return;
    if (needsLegal && (legal === undefined || !isComplete(legal, w))) return;
    const { property: at, station } = state;
    try {
      switch (change) {
        case 'moved':
          if (position !== null)
            await store.record('station moved', at, station, { position, why: why.trim() });
          break;
        case 'tag':
          await store.record('station tagged', at, station, { tag: tag.trim() });
          break;
        case 'replaced':
          await store.record('station replaced', at, station, {
            model: modelId,
            why: why.trim(),
            inserts,
            application: needsLegal && legal !== undefined ? toApplication(legal) : null,
          });
          break;
        case 'removed':
          await store.record('station removed', at, station, { why: why.trim() });
          break;
      }
      go(`/p/${at}`);
    } catch (failure) {
      setError(failure);
    }
  };
  const isDrawn = property.state.stations.some((one) => one.position !== null);
  return (
    <>
      <div className="ask-answers">
        {CHANGES.map((one) => (
          <button
            key={one}
            type="button"
            className="answer-button"
            aria-pressed={change === one}
            onClick={() => {
              setChange(one);
              setWhy('');
              setTried(false);
            }}
          >
            {w.field.change[one]}
          </button>
        ))}
      </div>
      {(change === 'replaced' || change === 'removed') && (
        <Notice title={w.cautions['locate buried utilities']} tone="open" />
      )}
      {change === 'moved' &&
        (isDrawn ? (
          <section className="sheet">
            <p className="lead">{w.field.change.movedLead}</p>
            <YardPlan state={property.state} onPlace={setPosition} placed={position} />
            <p role="status">{position === null ? '' : w.field.fresh.placed}</p>
          </section>
        ) : (
          <Notice title={w.field.change.nowhere} />
        ))}
      {change === 'tag' && (
        <Field label={w.field.change.tagLabel} value={tag} onChange={(event) => setTag(event.target.value)} />
      )}
      {change === 'replaced' && (
        <>
          <p className="quiet">{w.field.change.replacedLead}</p>
          <Choice
            legend={w.field.fresh.model}
            options={models.map(({ id }) => id)}
            value={modelId}
            onChoose={setModel}
            label={(option) => modelName(models, option, w)}
          />
          <p>{w.field.fresh.inserts(inserts.map(({ insert }) => w.inserts[insert]).join(', '))}</p>
          {needsLegal && legal !== undefined && <LegalForm legal={legal} tried={tried} onChange={setLegal} />}
        </>
      )}
      {change !== null && change !== 'tag' && (
        <Why
          question={w.field.change.why}
          usual={w.field.change.whys[change]}
          value={why}
          onChange={setWhy}
          error={tried && isWhyMissing ? w.field.fix.needWhy : undefined}
        />
      )}
      <Failure error={error} />
      {change !== null && (
        <button
          type="button"
          className="button button-main thumb"
          disabled={change === 'moved' && position === null}
          onClick={() => void save()}
        >
          {w.field.change.save}
        </button>
      )}
    </>
  );
}

export function modelName(
  models: readonly StationModel[],
  id: string,
  w: ReturnType<typeof useWords>,
): string {
  const name = models.find((model) => model.id === id)?.name ?? id;
  return w.models[name] ?? name;
}
