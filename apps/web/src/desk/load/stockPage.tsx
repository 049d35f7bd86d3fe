import { type ReactNode, useState } from 'react';
import { useBranches } from '../../api/queries.ts';
import type { Me } from '../../api/types.ts';
import { Loading, Notice, Trouble } from '../../shared/notice.tsx';
import { Page } from '../../shared/page.tsx';
import { ReckonedAge } from '../../shared/reckonedAge.tsx';
import { Select } from '../../shared/select.tsx';
import { useDays } from '../../words/days.ts';
import { useWords } from '../../words/index.ts';
import { NoBranch } from '../noBranch.tsx';
import { Orders } from './orders.tsx';
import { type StockAnswer, useStock } from './queries.ts';
import { Rows, RowTable } from './rows.tsx';
import { StockForm } from './stockForm.tsx';

interface Props {
  readonly me: Me;
  readonly links: ReactNode;
}

/** What a branch and its trucks hold, what to order and why. */
export function StockPage({ me, links }: Props) {
  const w = useWords();
  const branches = useBranches();
  const [picked, setPicked] = useState('');
  const [chance, setChance] = useState('5');
  const known = (branches.data?.branches ?? []).filter(
    (one) => me.branch === null || one.branch === me.branch,
  );
  const branch = picked === '' ? (known[0]?.branch ?? '') : picked;
  const isBare = branches.isSuccess && known.length === 0;
  const stock = useStock({ branch, chance });
  return (
    <Page title={w.desk.load.stockTitle}>
      {links}
      <p className="quiet">{w.desk.load.stockLead}</p>
      <div className="form form-columns">
        <Select
          label={w.due.branch}
          value={branch}
          options={known.map((one) => [one.branch, one.name] as const)}
          onPick={setPicked}
        />
        <Select
          label={w.desk.load.chance}
          value={chance}
          options={Object.entries(w.desk.load.chances)}
          onPick={setChance}
        />
      </div>
      {isBare && <NoBranch />}
      {!isBare && stock.isPending && <Loading />}
      {!isBare && stock.isError && <Trouble error={stock.error} retry={() => void stock.refetch()} />}
      <ReckonedAge head={stock.data} />
      {stock.data?.answer != null && (
        <Shelf key={branch} me={me} stock={stock.data.answer} today={stock.data.asOf} />
      )}
    </Page>
  );
}

interface ShelfProps {
  readonly me: Me;
  readonly stock: StockAnswer;
  /** where the branch is */
  readonly today: string;
}

function Shelf({ me, stock: told, today }: ShelfProps) {
  const w = useWords();
  const days = useDays();
  const inWords = <T extends { readonly part: string; readonly name: string }>(one: T): T => ({
    ...one,
    name: w.parts[one.part] ?? one.name,
  });
  const stock = {
    ...told,
    parts: told.parts.map(inWords),
    withoutLeadTime: told.withoutLeadTime.map(inWords),
  };
  const { whole, few, percent } = w.desk.load;
  const nameOf = (place: string) => stock.places.find((one) => one.place === place)?.name ?? place;
  const parts = [...stock.parts, ...stock.withoutLeadTime].map(({ part, name }) => ({ part, name }));
  const partName = (part: string) => parts.find((one) => one.part === part)?.name ?? part;
  const toOrder = stock.parts.filter(({ orderNow }) => orderNow > 0);
  const enough = stock.parts.filter(({ orderNow }) => orderNow === 0);
  const rowsOf = (some: typeof stock.parts) =>
    some.map((one) => [
      whole(one.orderNow),
      one.name,
      whole(one.onHand),
      whole(one.onOrder),
      whole(one.reorderPoint),
      whole(one.orderUpTo),
      whole(one.leadDays),
      few(one.expectedOverLead),
      percent(one.riskNow),
    ]);
  const remarks = stock.parts.flatMap(({ part, name, expiring, expired, neverCounted }) => [
    ...(expiring === null
      ? []
      : [
          <li key={`${part} soon`}>
            {w.desk.load.expires(name, expiring.count, days.ofText(expiring.firstOn))}
          </li>,
        ]),
    ...(expired === 0 ? [] : [<li key={`${part} over`}>{w.desk.load.expired(name, expired)}</li>]),
    ...(neverCounted.length === 0
      ? []
      : [
          <li key={`${part} never`} className="quiet">
            {w.desk.load.never(name, neverCounted.map(nameOf).join(', '))}
          </li>,
        ]),
  ]);
  return (
    <>
      <p className="summary" role="status">
        {w.desk.load.orderSays(toOrder.length)}
      </p>
      {stock.withoutLeadTime.length > 0 && (
        <Notice
          title={w.desk.load.noLead(stock.withoutLeadTime.map(({ name }) => name).join(', '))}
          tone="open"
        />
      )}
      {toOrder.length > 0 && (
        <Rows title={w.desk.load.order} heads={w.desk.load.orderHeads} rows={rowsOf(toOrder)} />
      )}
      {enough.length > 0 && (
        <details className="sheet load-rows">
          <summary>{w.desk.load.enough(enough.length)}</summary>
          <RowTable
            label={w.desk.load.enough(enough.length)}
            heads={w.desk.load.orderHeads}
            rows={rowsOf(enough)}
          />
        </details>
      )}
      {remarks.length > 0 && <ul className="office-list">{remarks}</ul>}
      <Orders me={me} stock={stock} today={today} />
      <StockForm me={me} places={stock.places} parts={parts} />
      {stock.lines.length === 0 ? (
        <p className="lead">{w.desk.load.empty}</p>
      ) : (
        <Rows
          title={w.desk.load.shelves}
          heads={w.desk.load.shelfHeads}
          rows={stock.lines.map((line) => [
            nameOf(line.place),
            partName(line.part),
            line.lot ?? '',
            whole(line.count),
            line.usableUntil === null ? '' : days.ofText(line.usableUntil),
            line.countedOn === null ? w.desk.load.notCounted : days.ofText(line.countedOn),
          ])}
        />
      )}
    </>
  );
}
