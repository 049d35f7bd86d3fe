import { useState } from 'react';
import { recordOfFirm } from '../../api/office.ts';
import type { Me } from '../../api/types.ts';
import { Choice } from '../../shared/choice.tsx';
import { Select } from '../../shared/select.tsx';
import { Refusal, useSubmit } from '../../shared/submit.tsx';
import { useWords } from '../../words/index.ts';
import { CountField, LotField, UsableUntilField } from './stockFields.tsx';

const ACTS = ['counted', 'received', 'moved'] as const;
type Act = (typeof ACTS)[number];

interface Props {
  readonly me: Me;
  readonly places: readonly { readonly place: string; readonly name: string }[];
  readonly parts: readonly { readonly part: string; readonly name: string }[];
}

/** A count, a receipt or a move, each kept as a fact. */
export function StockForm({ me, places, parts }: Props) {
  const w = useWords();
  const [act, setAct] = useState<Act>('counted');
  const [place, setPlace] = useState(places[0]?.place ?? '');
  const [target, setTarget] = useState(places[1]?.place ?? '');
  const [part, setPart] = useState(parts[0]?.part ?? '');
  const [count, setCount] = useState('');
  const [lot, setLot] = useState('');
  const [usableUntil, setUsableUntil] = useState('');
  const save = useSubmit(
    () => {
      const said = { part, count: Number(count), lot: lot.trim() === '' ? null : lot.trim() };
      if (act === 'moved') return recordOfFirm(me, 'stock moved', { ...said, from: place, to: target });
      const body = { ...said, place, usableUntil: usableUntil === '' ? null : usableUntil };
      return recordOfFirm(me, act === 'counted' ? 'stock counted' : 'stock received', body);
    },
    () => setCount(''),
  );
  const placeOptions = places.map((one) => [one.place, one.name] as const);
  return (
    <section className="sheet">
      <h2>{w.desk.load.change}</h2>
      <form
        className="form form-columns"
        aria-label={w.desk.load.change}
        onSubmit={(event) => {
          event.preventDefault();
          save.mutate(undefined);
        }}
      >
        <Choice
          legend={w.desk.load.change}
          options={ACTS}
          value={act}
          onChoose={setAct}
          label={(one) => w.desk.load.acts[one]}
          compact
        />
        <Select label={w.desk.load.place} value={place} options={placeOptions} onPick={setPlace} />
        {act === 'moved' && (
          <Select label={w.desk.load.target} value={target} options={placeOptions} onPick={setTarget} />
        )}
        <Select
          label={w.desk.load.part}
          value={part}
          options={parts.map((one) => [one.part, one.name] as const)}
          onPick={setPart}
        />
        <CountField value={count} onText={setCount} min={act === 'counted' ? 0 : 1} />
        <LotField value={lot} onText={setLot} />
        {act !== 'moved' && <UsableUntilField value={usableUntil} onText={setUsableUntil} />}
        <Refusal error={save.error} />
        <div className="buttons">
          <button type="submit" className="button" disabled={save.isPending}>
            {w.desk.load.record}
          </button>
          {save.isSuccess && <span role="status">{w.desk.load.recorded}</span>}
        </div>
      </form>
    </section>
  );
}
