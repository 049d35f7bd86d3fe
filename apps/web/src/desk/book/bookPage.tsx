import type { BookAnswer, Funnel, PropertyList, Sentence } from '@sillwatch/rounds';
import { getDay } from '@sillwatch/trade';
import type { ReactNode } from 'react';
import { Link } from 'wouter';
import { useBranches, usePeople } from '../../api/queries.ts';
import { DataTable } from '../../shared/dataTable.tsx';
import { useDays } from '../../words/days.ts';
import { useWords } from '../../words/index.ts';
import { BarPlot } from './barPlot.tsx';
import { FiguresFrame, RowsLeft } from './frame.tsx';
import { FunnelPlot } from './funnelPlot.tsx';
import type { CutLists } from './queries.ts';

/** Is the book of work healthy: each figure with its sentence, its plot, its table and its list. */
export function BookPage() {
  const w = useWords();
  return (
    <FiguresFrame<BookAnswer> name="book" title={w.desk.book.title}>
      {(book) => <Book book={book} />}
    </FiguresFrame>
  );
}

type CutBook = BookAnswer & CutLists;

function Book({ book }: { readonly book: CutBook }) {
  const w = useWords();
  const people = usePeople();
  const branches = useBranches();
  const b = w.desk.book;
  const days = useDays();
  const isOneBranch = new Set(book.workload.months.map(({ branch }) => branch)).size === 1;
  const monthWords = (month: string, branch: string) => {
    const name = days.month(getDay(`${month}-01`));
    return isOneBranch
      ? { name: `${name} ${month.slice(0, 4)}`, short: name }
      : { name: `${name} ${month.slice(0, 4)}, ${branch}`, short: name };
  };
  const nameOf = (key: string): string => people.data?.get(key) ?? key;
  const branchName = (key: string): string =>
    branches.data?.branches.find(({ branch }) => branch === key)?.name ?? key;
  return (
    <>
      <p className="summary">{b.summary(book.properties, book.stations, book.late.count)}</p>
      <div className="columns">
        <div className="column">
          <ListFigure title={b.late} list={book.late} names={book.names} />
          <Figure title={b.looksKept} says={book.windowsKept.looks.says}>
            <BarPlot
              label={b.looksKept}
              unit="%"
              bars={book.windowsKept.quarters.flatMap(({ name, share, kept, done }) =>
                share === null
                  ? []
                  : [
                      {
                        name,
                        value: 100 * share.estimate,
                        between: [100 * share.lower, 100 * share.upper] as const,
                        note: b.of(kept, done),
                      },
                    ],
              )}
              most={100}
            />
          </Figure>
          <Figure title={b.yearlyKept} says={book.windowsKept.yearlyServices.says} />
          <ListFigure title={b.unseen} list={book.unseenTwice} names={book.names} />
          <ListFigure title={b.carried} list={book.carriedOver} names={book.names} />
          <FunnelFigure title={b.missedByBranch} funnel={book.branches.windowsMissed} nameOf={branchName} />
          <FunnelFigure title={b.notOpenedByBranch} funnel={book.branches.notOpened} nameOf={branchName} />
        </div>
        <div className="column">
          {book.hits !== null && (
            <>
              <Figure title={b.hits} says={book.hits.change.says}>
                <BarPlot
                  label={b.hits}
                  unit=""
                  bars={book.hits.quarters.map(({ period, hits, hitRate, stationQuarters }) => ({
                    name: period.name,
                    value: 100 * (hitRate?.estimate ?? 0),
                    ...(hitRate === null
                      ? {}
                      : { between: [100 * hitRate.lower, 100 * hitRate.upper] as const }),
                    note: b.hitsIn(hits, stationQuarters),
                  }))}
                />
              </Figure>
              <ListFigure title={b.openHits} list={book.hits.open} names={book.names} />
            </>
          )}
          <Figure title={b.workload} says={book.workload.says}>
            <BarPlot
              label={b.workload}
              unit="h"
              bars={book.workload.months.map(({ month, branch, minutes, interval, visits }) => ({
                ...monthWords(month, branchName(branch)),
                value: minutes / 60,
                between: [interval.lower / 60, interval.upper / 60] as const,
                note: b.visits(visits),
              }))}
            />
          </Figure>
          <ListFigure title={b.renewals} list={book.renewals} names={book.names} />
          <FunnelFigure title={b.missedByPerson} funnel={book.technicians.windowsMissed} nameOf={nameOf} />
          <FunnelFigure title={b.notOpenedByPerson} funnel={book.technicians.notOpened} nameOf={nameOf} />
        </div>
      </div>
      <Material book={book} />
      <RowsLeft rows={book.rowsLeftOut} />
      {book.withoutProfile.length > 0 && (
        <p className="owed-late">{b.withoutProfile(book.withoutProfile.length)}</p>
      )}
    </>
  );
}

interface FigureProps {
  readonly title: string;
  readonly says: Sentence;
  readonly children?: ReactNode;
}

export function Figure({ title, says, children }: FigureProps) {
  const w = useWords();
  return (
    <section className="sheet">
      <h2>{title}</h2>
      <p>{w.desk.book.say(says)}</p>
      {children}
    </section>
  );
}

interface ListProps {
  readonly title: string;
  readonly list: PropertyList;
  readonly names: CutLists['names'];
}

function ListFigure({ title, list, names }: ListProps) {
  const w = useWords();
  const days = useDays();
  return (
    <Figure title={title} says={list.says}>
      {list.items.length > 0 && (
        <details>
          <summary>{w.desk.book.list(list.items.length)}</summary>
          <ul className="office-list">
            {list.items.map(({ property, count, day }) => (
              <li key={property}>
                <Link href={`/properties/${property}`}>{names[property] ?? property}</Link>
                {`: ${w.format.number(count)}${day === null ? '' : `, ${days.ofText(day)}`}`}
              </li>
            ))}
          </ul>
        </details>
      )}
    </Figure>
  );
}

interface FunnelProps {
  readonly title: string;
  readonly funnel: Funnel;
  readonly nameOf: (key: string) => string;
}

function FunnelFigure({ title, funnel, nameOf }: FunnelProps) {
  const w = useWords();
  return (
    <Figure title={title} says={funnel.says}>
      <p className="quiet small">{w.desk.book.funnelHow}</p>
      <FunnelPlot label={title} funnel={funnel} nameOf={nameOf} />
    </Figure>
  );
}

function Material({ book }: { readonly book: CutBook }) {
  const w = useWords();
  const b = w.desk.book;
  return (
    <section className="sheet">
      <h2>{b.material}</h2>
      <p className="quiet small">{b.materialHow}</p>
      <DataTable
        label={b.material}
        heads={b.materialHeads}
        rows={book.timeAndMaterial.slice(0, 20).map((row) => ({
          key: row.property,
          cells: [
            <Link key="link" href={`/properties/${row.property}`}>
              {book.names[row.property] ?? row.property}
            </Link>,
            row.visits,
            Math.round(row.minutes),
            Object.values(row.parts).reduce((sum, count) => sum + count, 0),
            Math.round(row.baitGrams),
          ],
        }))}
      />
    </section>
  );
}
