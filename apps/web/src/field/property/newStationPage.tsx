import { TWO_PART } from '@sillwatch/trade';
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
import { LegalForm } from '../serve/legalForm.tsx';
import type { FieldProperty } from '../store/port.ts';
import { useWatched } from '../store/useWatched.ts';
import { useFieldProperty, useStore } from '../yard.tsx';
import { modelName } from './changePage.tsx';
import { YardPlan } from './yardPlan.tsx';

/** A station that is set today, on the diagram or to be measured later. */
export function NewStationPage({ property: id }: { readonly property: string }) {
  const w = useWords();
  const property = useFieldProperty(id);
  if (property === undefined) return <NotHere back="/" />;
  return (
    <Screen title={w.field.fresh.title} back={`/p/${id}`}>
      <Notice title={w.field.fresh.lead} tone="open" />
      {property.state.structures.length === 0 ? (
        <Notice title={w.field.fresh.noStructure} />
      ) : (
        <NewStation property={property} />
      )}
    </Screen>
  );
}

function NewStation({ property }: { readonly property: FieldProperty }) {
  const w = useWords();
  const store = useStore();
  const me = useWatched(store.me);
  const firm = useWatched(store.firm);
  const [, go] = useLocation();
  const { state, profile } = property;
  const models = Object.values(firm.models);
  const [structure, setStructure] = useState(state.structures[0]?.structure ?? '');
  const ring = state.stations.filter((one) => one.structure === structure && one.inService);
  const free = Math.max(0, ...ring.map(({ number }) => number)) + 1;
  const [number, setNumber] = useState<string>();
  const [modelId, setModel] = useState(mostUsed(state.stations.map(({ model }) => model)) ?? TWO_PART.id);
  const [tag, setTag] = useState('');
  const [auxiliary, setAuxiliary] = useState<'yes' | 'no'>('no');
  const [position, setPosition] = useState<readonly [number, number] | null>(null);
  const [typed, setLegal] = useState<Legal>();
  const [tried, setTried] = useState(false);
  const [error, setError] = useState<unknown>();
  const chosen = Number(number ?? free);
  const isTaken = !Number.isInteger(chosen) || chosen < 1 || ring.some((one) => one.number === chosen);
  const { inserts, grams } = firstInserts(
    models.find(({ id }) => id === modelId),
    profile,
  );
  const legal =
    typed ??
    (profile === undefined
      ? undefined
      : firstLegal(
          {
            profile,
            grams,
            station: chosen,
            structure: state.structures.find((one) => one.structure === structure)?.name ?? '',
            street: state.body?.address.street ?? '',
            me,
          },
          w,
        ));
  const save = async () => {
    setTried(true);
    if (isTaken || (grams > 0 && (legal === undefined || !isComplete(legal, w)))) return;
    try {
      await store.record('station installed', state.property, store.newId(), {
        structure,
        number: chosen,
        tag: tag.trim() === '' ? null : tag.trim(),
        model: modelId,
        position,
        auxiliary: auxiliary === 'yes',
        visit: await store.visitAt(state.property),
        inserts,
        application: grams > 0 && legal !== undefined ? toApplication(legal) : null,
      });
      go(`/p/${state.property}`);
    } catch (failure) {
      setError(failure);
    }
  };
  return (
    <>
      <section className="sheet">
        <h2>{w.field.fresh.where}</h2>
        <p className="quiet">{w.field.fresh.whereLead}</p>
        <YardPlan state={state} onPlace={setPosition} placed={position} />
        <p role="status">{position === null ? w.field.fresh.notPlaced : w.field.fresh.placed}</p>
      </section>
      {state.structures.length > 1 && (
        <Choice
          legend={w.field.fresh.structure}
          options={state.structures.map((one) => one.structure)}
          value={structure}
          onChoose={setStructure}
          label={(option) => state.structures.find((one) => one.structure === option)?.name ?? option}
        />
      )}
      <Field
        label={w.field.fresh.number}
        inputMode="numeric"
        value={number ?? String(free)}
        error={tried && isTaken ? w.field.fresh.numberTaken : undefined}
        onChange={(event) => setNumber(event.target.value.replaceAll(/\D/g, ''))}
      />
      <Choice
        legend={w.field.fresh.model}
        options={models.map(({ id }) => id)}
        value={modelId}
        onChoose={setModel}
        label={(option) => modelName(models, option, w)}
      />
      <p>{w.field.fresh.inserts(inserts.map(({ insert }) => w.inserts[insert]).join(', '))}</p>
      <Choice
        legend={w.field.fresh.auxiliary}
        options={['yes', 'no'] as const}
        value={auxiliary}
        onChoose={setAuxiliary}
        label={(option) => w.field.yesNo[option]}
        compact
      />
      <Field label={w.field.change.tagLabel} value={tag} onChange={(event) => setTag(event.target.value)} />
      {grams > 0 && legal !== undefined && <LegalForm legal={legal} tried={tried} onChange={setLegal} />}
      <Failure error={error} />
      <button type="button" className="button button-main thumb" onClick={() => void save()}>
        {w.field.fresh.save}
      </button>
    </>
  );
}

function mostUsed(models: readonly string[]): string | undefined {
  const counts = Map.groupBy(models, (model) => model);
  return [...counts].sort((a, b) => b[1].length - a[1].length)[0]?.[0];
}
