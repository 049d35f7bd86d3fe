import type { OpenOrder } from '@sillwatch/rounds';
import { useState } from 'react';
import { correctOfFirm, recordOfFirm, withdrawOfFirm } from '../../api/office.ts';
import type { Me } from '../../api/types.ts';
import { Choice } from '../../shared/choice.tsx';
import { Field } from '../../shared/field.tsx';
import { Select } from '../../shared/select.tsx';
import { Refusal, useSubmit } from '../../shared/submit.tsx';
import { useWords } from '../../words/index.ts';
import type { StockAnswer } from './queries.ts';
import { CountField, ExpectedField, LotField, ReferenceField, UsableUntilField } from './stockFields.tsx';

const ACTS = ['came', 'cancelled', 'corrected'] as const;
type Act = (typeof ACTS)[number];

interface Props {
  readonly me: Me;
  readonly order: OpenOrder;
  readonly places: StockAnswer['places'];
}

/** What became of an order: some or all of it came, the rest will not, or what was recorded of it is wrong. */
export function OrderForm({ me, order, places }: Props) {
  const w = useWords();
  const [act, setAct] = useState<Act>('came');
  const [came, setCame] = useState(String(order.open));
  const [place, setPlace] = useState(order.place);
  const [lot, setLot] = useState('');
  const [usableUntil, setUsableUntil] = useState('');
  const [count, setCount] = useState(String(order.count));
  const [expectedOn, setExpectedOn] = useState(order.expectedOn);
  const [reference, setReference] = useState(order.reference);
  const [never, setNever] = useState(false);
  const [why, setWhy] = useState('');
  const save = useSubmit(() => {
    switch (act) {
      case 'came':
        return recordOfFirm(me, 'stock received', {
          place,
          part: order.part,
          count: Number(came),
          lot: lot.trim() === '' ? null : lot.trim(),
          usableUntil: usableUntil === '' ? null : usableUntil,
          order: order.order,
        });
      case 'cancelled':
        return recordOfFirm(me, 'order cancelled', { order: order.order, why: why.trim() });
      case 'corrected': {
        if (never) return withdrawOfFirm(me, order.fact, why.trim());
        const { order: id, part, orderedOn } = order;
        const said = { order: id, place: order.place, part, orderedOn };
        const body = { ...said, count: Number(count), expectedOn, reference: reference.trim() };
        return correctOfFirm(me, order.fact, 'parts ordered', body, why.trim());
      }
    }
  });
  return (
    <form
      className="form form-columns"
      onSubmit={(event) => {
        event.preventDefault();
        save.mutate(undefined);
      }}
    >
      <Choice
        legend={w.desk.load.orderDo}
        options={ACTS}
        value={act}
        onChoose={setAct}
        label={(one) => w.desk.load.orderActs[one]}
        compact
      />
      {act === 'came' && (
        <>
          <CountField value={came} onText={setCame} />
          <Select
            label={w.desk.load.place}
            value={place}
            options={places.map((one) => [one.place, one.name] as const)}
            onPick={setPlace}
          />
          <LotField value={lot} onText={setLot} />
          <UsableUntilField value={usableUntil} onText={setUsableUntil} />
        </>
      )}
      {act === 'corrected' && !never && (
        <>
          <CountField value={count} onText={setCount} />
          <ExpectedField value={expectedOn} onText={setExpectedOn} orderedOn={order.orderedOn} />
          <ReferenceField value={reference} onText={setReference} />
        </>
      )}
      {act === 'corrected' && (
        <label className="check">
          <input type="checkbox" checked={never} onChange={(event) => setNever(event.target.checked)} />
          {w.desk.load.recordedWrong}
        </label>
      )}
      {act !== 'came' && (
        <Field
          label={w.desk.load.why}
          required
          value={why}
          onChange={(event) => setWhy(event.target.value)}
        />
      )}
      <Refusal error={save.error} />
      <div className="buttons">
        <button type="submit" className="button" disabled={save.isPending}>
          {w.desk.load.record}
        </button>
      </div>
    </form>
  );
}
