import { MINUTE_CLASSES, type MinutesAnswer } from '@sillwatch/rounds';
import { Link } from 'wouter';
import { usePeople } from '../../api/queries.ts';
import { DataTable } from '../../shared/dataTable.tsx';
import { useWords } from '../../words/index.ts';
import { Figure } from './bookPage.tsx';
import { FiguresFrame, RowsLeft } from './frame.tsx';
import type { CutLists } from './queries.ts';

const MOST_ODD = 40;
const MOST_FACTORS = 40;

/** How long work takes, as learned from records: what the planner reckons with, and which records look wrong. */
export function MinutesPage() {
  const w = useWords();
  return (
    <FiguresFrame<MinutesAnswer> name="minutes" title={w.desk.book.minutesTitle}>
      {(minutes) => (
        <>
          <p className="quiet">{w.desk.book.minutesLead}</p>
          <Classes minutes={minutes} />
          <Factors minutes={minutes} />
          <Odd minutes={minutes} />
          <RowsLeft rows={minutes.rowsLeftOut} />
        </>
      )}
    </FiguresFrame>
  );
}

type Cut = MinutesAnswer & CutLists;

function Classes({ minutes: { says, perStation, perVisit } }: { readonly minutes: Cut }) {
  const w = useWords();
  const b = w.desk.book;
  return (
    <Figure title={b.minutesByWork} says={says}>
      <DataTable
        label={b.minutesByWork}
        heads={b.minutesHeads}
        rows={[
          ...MINUTE_CLASSES.map((name) => ({
            key: name,
            cells: [
              b.minuteClass[name],
              w.format.trim(perStation[name].mean),
              w.format.number(perStation[name].records),
            ],
          })),
          {
            key: 'visit',
            cells: [b.visitShare, w.format.trim(perVisit.mean), w.format.number(perVisit.records)],
          },
        ]}
      />
    </Figure>
  );
}

/** Drawn towards 1 as far as the own record is short. */
function Factors({ minutes: { byProperty, byTechnician, names } }: { readonly minutes: Cut }) {
  const w = useWords();
  const people = usePeople();
  const b = w.desk.book;
  const times = (factor: number): string => b.times(Math.round(factor * 100) / 100);
  const technicians = Object.entries(byTechnician).filter(([, one]) => differs(one));
  const properties = byProperty.filter(differs);
  if (properties.length === 0 && technicians.length === 0)
    return (
      <section className="sheet">
        <h2>{b.factors}</h2>
        <p>{b.factorsNone}</p>
      </section>
    );
  return (
    <section className="sheet">
      <h2>{b.factors}</h2>
      <p>{b.factorsHow}</p>
      <DataTable
        label={b.factors}
        heads={b.factorHeads}
        rows={[
          ...technicians.map(([person, { factor, credibility, visits }]) => ({
            key: `person ${person}`,
            cells: [
              people.data?.get(person) ?? person,
              times(factor),
              `${Math.round(100 * credibility)} %`,
              w.format.number(visits),
            ],
          })),
          ...properties.slice(0, MOST_FACTORS).map(({ property, factor, credibility, visits }) => ({
            key: property,
            cells: [
              <Link key="link" href={`/properties/${property}`}>
                {names[property] ?? property}
              </Link>,
              times(factor),
              `${Math.round(100 * credibility)} %`,
              w.format.number(visits),
            ],
          })),
        ]}
      />
    </section>
  );
}

/** Where records tell nothing apart a factor is 1. */
function differs({ factor }: { readonly factor: number }): boolean {
  return Math.abs(factor - 1) >= 0.005;
}

function Odd({ minutes: { odd, names } }: { readonly minutes: Cut }) {
  const w = useWords();
  const b = w.desk.book;
  return (
    <section className="sheet">
      <h2>{b.odd}</h2>
      <p>{odd.length === 0 ? b.oddNone : b.oddHow}</p>
      {odd.length > 0 && (
        <DataTable
          label={b.odd}
          heads={b.oddHeads}
          rows={odd.slice(0, MOST_ODD).map(({ property, visit, station, minutes, usual }) => ({
            key: `${property} ${visit} ${station}`,
            cells: [
              <Link key="link" href={`/properties/${property}/entries`}>
                {names[property] ?? property}
              </Link>,
              station === null ? b.wholeVisit : b.oneStation,
              w.format.trim(minutes),
              w.format.trim(usual),
            ],
          }))}
        />
      )}
    </section>
  );
}
