import { stepsFor } from '@sillwatch/trade';
import { useMemo, useState } from 'react';
import { useLocation } from 'wouter';
import { factsOfStation, historyOf, momentAgain } from '../../desk/property/history.ts';
import { useDays } from '../../words/days.ts';
import { useWords } from '../../words/index.ts';
import { Failure } from '../parts/failure.tsx';
import { Screen } from '../parts/frame.tsx';
import { NotHere } from '../parts/notHere.tsx';
import { Why } from '../parts/why.tsx';
import { useWatched } from '../store/useWatched.ts';
import { useFieldProperty, useStore } from '../yard.tsx';
import { type Entry, entryOf } from './entry.ts';
import { Serve } from './serve.tsx';
import { stateBefore } from './visit.ts';

interface Props {
  readonly property: string;
  readonly station: string;
  readonly fact: string;
}

/** A record made today or last month, put right: the same questions, the rules asked of the station as it stood then. */
export function FixPage({ property: id, station, fact }: Props) {
  const w = useWords();
  const days = useDays();
  const [, go] = useLocation();
  const store = useStore();
  const firm = useWatched(store.firm);
  const property = useFieldProperty(id);
  const back = `/p/${id}/s/${station}`;
  const profile = property?.profile;
  const before = useMemo(
    () =>
      property === undefined || profile === undefined
        ? undefined
        : stateBefore(property.facts, fact, profile),
    [property, profile, fact],
  );
  const model = before === undefined ? undefined : firm.models[before.state.model];
  const said = useMemo(
    () => historyOf(factsOfStation(property?.facts ?? [], station)).find((entry) => entry.fact.id === fact),
    [property, station, fact],
  );
  const [changed, setEntry] = useState<Entry>();
  const [why, setWhy] = useState('');
  const [error, setError] = useState<unknown>();
  if (property === undefined) return <NotHere back="/" />;
  if (before === undefined || model === undefined || profile === undefined)
    return (
      <Screen title={w.field.fix.gone} back={back}>
        <p>{w.field.fix.goneRemedy}</p>
      </Screen>
    );
  const { look, state } = before;
  const asked = stepsFor({ state, model, profile, task: look.body.task, finding: look.body.finding });
  const day = said?.day ?? null;
  const at = said === undefined ? null : momentAgain(said);
  const entry = changed ?? entryOf(look.body, state, asked);
  const withdraw = async () => {
    if (why.trim() === '') return;
    try {
      await store.undo(fact, why.trim());
      go(back);
    } catch (failure) {
      setError(failure);
    }
  };
  return (
    <Screen title={w.field.fix.title(state.number)} back={back}>
      <p className="lead">{w.field.fix.lead(day === null ? w.app.notKnown : days.plain(day))}</p>
      <Why question={w.field.fix.why} usual={w.field.fix.whys} value={why} onChange={setWhy} />
      <Serve
        property={{ ...property, profile }}
        state={state}
        model={model}
        visit={look.body.visit}
        entry={entry}
        onChange={setEntry}
        recordWords={w.field.station.recordCorrection}
        missing={why.trim() === '' ? w.field.fix.needWhy : undefined}
        save={(body) => store.correct(fact, why.trim(), body, at)}
        onSaved={() => go(back)}
      />
      <Failure error={error} />
      <button type="button" className="button" disabled={why.trim() === ''} onClick={() => void withdraw()}>
        {w.field.fix.withdraw}
      </button>
    </Screen>
  );
}
