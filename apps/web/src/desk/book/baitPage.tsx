import type { BaitAnswer } from '@sillwatch/rounds';
import { Link } from 'wouter';
import { useOffice } from '../../api/office.ts';
import { useBranches, usePeople } from '../../api/queries.ts';
import { DataTable } from '../../shared/dataTable.tsx';
import { useWords } from '../../words/index.ts';
import { BarPlot } from './barPlot.tsx';
import { Figure } from './bookPage.tsx';
import { FiguresFrame, RowsLeft } from './frame.tsx';
import type { CutLists } from './queries.ts';

/** Where the bait went: by quarter and product, by property, and held against counted stock. */
export function BaitPage() {
  const w = useWords();
  return (
    <FiguresFrame<BaitAnswer> name="bait" title={w.desk.book.baitTitle}>
      {(bait) => (
        <>
          <p className="quiet">{w.desk.book.baitLead}</p>
          <Totals bait={bait} />
          <Reconciled bait={bait} />
          <ByProperty bait={bait} />
          <RowsLeft rows={bait.rowsLeftOut} />
        </>
      )}
    </FiguresFrame>
  );
}

type Cut = BaitAnswer & CutLists;

function Totals({ bait: { says, totals } }: { readonly bait: Cut }) {
  const w = useWords();
  const grams = (value: number | null): string =>
    value === null ? w.desk.book.noLabel : w.format.trim(value);
  return (
    <Figure title={w.desk.book.baitGrams} says={says}>
      <BarPlot
        label={w.desk.book.baitGrams}
        unit={w.desk.book.gramsUnit}
        bars={totals.map((one) => ({
          name: totals.some((other) => other.period === one.period && other.product !== one.product)
            ? `${one.period} ${one.product}`
            : one.period,
          value: one.grams,
          note: w.desk.book.applications(one.applications),
        }))}
      />
      {totals.length > 0 && (
        <DataTable
          label={w.desk.book.baitGrams}
          heads={w.desk.book.totalHeads}
          rows={totals.map((one) => ({
            key: `${one.period} ${one.epaRegistrationNumber} ${one.product}`,
            cells: [
              one.period,
              one.product,
              one.epaRegistrationNumber,
              one.applications,
              grams(one.grams),
              grams(one.activeGrams),
            ],
          }))}
        />
      )}
    </Figure>
  );
}

function Reconciled({ bait: { reconciled, notCounted } }: { readonly bait: Cut }) {
  const w = useWords();
  const office = useOffice();
  const people = usePeople();
  const branches = useBranches();
  const placeName = (place: string): string =>
    branches.data?.branches.find(({ branch }) => branch === place)?.name ?? people.data?.get(place) ?? place;
  const partName = (part: string): string =>
    w.parts[part] ?? office.data?.parts.find((one) => one.part === part)?.name ?? part;
  const b = w.desk.book;
  return (
    <section className="sheet">
      <h2>{b.reconciled}</h2>
      <p>{reconciled.length === 0 ? b.reconciledNone : b.reconciledHow}</p>
      {reconciled.length > 0 && (
        <DataTable
          label={b.reconciled}
          heads={b.reconciledHeads}
          rows={reconciled.map((one) => ({
            key: `${one.place} ${one.part}`,
            cells: [
              `${placeName(one.place)}, ${partName(one.part)}`,
              `${one.from} – ${one.to}`,
              one.countedFirst,
              one.received,
              one.moved,
              one.recorded,
              one.countedLast,
              one.unaccounted === 0 ? '0' : b.unaccounted(one.unaccounted, one.unaccountedGrams),
            ],
          }))}
        />
      )}
      {notCounted.length > 0 && (
        <details>
          <summary>{b.notCounted(notCounted.length)}</summary>
          <dl className="facts facts-narrow">
            {[...Map.groupBy(notCounted, ({ place }) => place)].map(([place, lines]) => (
              <div key={place}>
                <dt>{placeName(place)}</dt>
                <dd>{lines.map(({ part }) => partName(part)).join(', ')}</dd>
              </div>
            ))}
          </dl>
        </details>
      )}
    </section>
  );
}

function ByProperty({ bait: { used, names } }: { readonly bait: Cut }) {
  const w = useWords();
  if (used.length === 0) return null;
  const grams = (value: number | null): string =>
    value === null ? w.desk.book.noLabel : w.format.trim(value);
  return (
    <section className="sheet">
      <h2>{w.desk.book.baitByProperty}</h2>
      <DataTable
        label={w.desk.book.baitByProperty}
        heads={w.desk.book.byPropertyHeads}
        rows={used.map((one) => ({
          key: `${one.property} ${one.period} ${one.epaRegistrationNumber} ${one.product}`,
          cells: [
            <Link key="link" href={`/properties/${one.property}`}>
              {names[one.property] ?? one.property}
            </Link>,
            one.period,
            one.product,
            one.applications,
            grams(one.grams),
            grams(one.activeGrams),
          ],
        }))}
      />
    </section>
  );
}
