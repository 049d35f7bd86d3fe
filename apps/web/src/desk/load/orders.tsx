import type { OpenOrder } from '@sillwatch/rounds';
import { findDay } from '@sillwatch/trade';
import { addDays, dayToText } from '@sillwatch/trade/units';
import { useState } from 'react';
import { recordOfFirm } from '../../api/office.ts';
import type { Me } from '../../api/types.ts';
import { Field } from '../../shared/field.tsx';
import { Select } from '../../shared/select.tsx';
import { Refusal, useSubmit } from '../../shared/submit.tsx';
import { useDays } from '../../words/days.ts';
import { useWords } from '../../words/index.ts';
import { OrderForm } from './orderForm.tsx';
import type { StockAnswer } from './queries.ts';
import { CountField, ExpectedField, ReferenceField } from './stockFields.tsx';

interface Props {
  readonly me: Me;
  readonly stock: StockAnswer;
  readonly today: string;
}

/** What is on order and has not come; the office records new orders and what became of the old ones. */
export function Orders({ me, stock, today }: Props) {
  const w = useWords();
  const nameOf = (part: string) => stock.parts.find((one) => one.part === part)?.name ?? part;
  const mayOrder = me.role === 'lead' || me.role === 'owner';
  return (
    <section className="sheet">
      <h2>{w.desk.load.onOrder}</h2>
      {stock.orders.length === 0 && <p className="quiet">{w.desk.load.onOrderNone}</p>}
      <ul className="office-list">
        {stock.orders.map((order) => (
          <li key={order.order}>
            <OrderLine order={order} name={nameOf(order.part)} />
            {mayOrder && (
              <details className="order-change">
                <summary>{w.desk.load.orderOpen(nameOf(order.part))}</summary>
                <OrderForm
                  key={`${order.open} ${order.expectedOn}`}
                  me={me}
                  order={order}
                  places={stock.places}
                />
              </details>
            )}
          </li>
        ))}
      </ul>
      {mayOrder && stock.parts.length > 0 && <NewOrder me={me} stock={stock} today={today} />}
    </section>
  );
}

function OrderLine({ order, name }: { readonly order: OpenOrder; readonly name: string }) {
  const w = useWords();
  const days = useDays();
  return (
    <>
      <p>
        <strong>{w.desk.load.orderSaid(order.open, order.count, name, days.ofText(order.expectedOn))}</strong>
        {order.isLate && <span className="order-late">{w.desk.load.orderLate}</span>}
      </p>
      <p className="quiet small">{w.desk.load.orderedOn(days.ofText(order.orderedOn), order.reference)}</p>
      {order.isLate && <p className="small">{w.desk.load.lateSays}</p>}
    </>
  );
}

/** Starts from what is to be ordered and from the days that the part takes to come. */
function NewOrder({ me, stock, today }: Props) {
  const w = useWords();
  const [first] = stock.parts.filter(({ orderNow }) => orderNow > 0);
  const [part, setPart] = useState(first?.part ?? stock.parts[0]?.part ?? '');
  const known = stock.parts.find((one) => one.part === part);
  const [count, setCount] = useState<string>();
  const [orderedOn, setOrderedOn] = useState(today);
  const [expectedOn, setExpectedOn] = useState<string>();
  const [reference, setReference] = useState('');
  const suggested = known === undefined || known.orderNow === 0 ? '' : String(known.orderNow);
  const shownCount = count ?? suggested;
  const shownExpected = expectedOn ?? dayAfter(orderedOn, known?.leadDays ?? 0);
  const save = useSubmit(
    () =>
      recordOfFirm(me, 'parts ordered', {
        order: crypto.randomUUID(),
        place: stock.places[0]?.place ?? '',
        part,
        count: Number(shownCount),
        orderedOn,
        expectedOn: shownExpected,
        reference: reference.trim(),
      }),
    () => {
      setCount(undefined);
      setExpectedOn(undefined);
      setReference('');
    },
  );
  return (
    <form
      className="form form-columns"
      aria-label={w.desk.load.newOrder}
      onSubmit={(event) => {
        event.preventDefault();
        save.mutate(undefined);
      }}
    >
      <h3>{w.desk.load.newOrder}</h3>
      <p className="quiet small">{w.desk.load.newOrderLead}</p>
      <Select
        label={w.desk.load.part}
        value={part}
        options={stock.parts.map((one) => [one.part, one.name] as const)}
        onPick={(picked) => {
          setPart(picked);
          setCount(undefined);
          setExpectedOn(undefined);
        }}
      />
      <CountField value={shownCount} onText={setCount} />
      <Field
        label={w.desk.load.ordered}
        type="date"
        required
        value={orderedOn}
        onChange={(event) => setOrderedOn(event.target.value)}
      />
      <ExpectedField value={shownExpected} onText={setExpectedOn} orderedOn={orderedOn} />
      <ReferenceField value={reference} onText={setReference} />
      <Refusal error={save.error} />
      <div className="buttons">
        <button type="submit" className="button" disabled={save.isPending}>
          {w.desk.load.newOrder}
        </button>
        {save.isSuccess && <span role="status">{w.desk.load.recorded}</span>}
      </div>
    </form>
  );
}

function dayAfter(day: string, days: number): string {
  const found = findDay(day);
  return found === undefined ? '' : dayToText(addDays(found, days));
}
