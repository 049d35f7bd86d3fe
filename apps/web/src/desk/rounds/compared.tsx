import { getDay } from '@sillwatch/trade';
import type { BranchPlanAnswer, PlanAnswer, PlanTotals, VisitPlace } from '../../api/plans.ts';
import { TableRoom } from '../../shared/tableRoom.tsx';
import { useDays } from '../../words/days.ts';
import { useWords } from '../../words/index.ts';
import type { NamesByProperty } from './names.ts';
import { timeOf } from './times.ts';

interface Props {
  readonly comparison: NonNullable<PlanAnswer['comparison']>;
  readonly plan: BranchPlanAnswer;
  readonly names: NamesByProperty;
}

const ROWS = [
  'rounds',
  'visits',
  'driveMetres',
  'hours',
  'overtimeMinutes',
  'lateWorks',
  'otherPerson',
] as const;

/** The plan beside the last one and beside a documented way of planning by hand; and what moved. */
export function Compared({ comparison, plan, names }: Props) {
  const w = useWords();
  const days = useDays();
  const { byHand, last, moves } = comparison;
  const columns = [
    [w.desk.plan.thisPlan, comparison.plan] as const,
    ...(last === null ? [] : [[w.desk.plan.lastPlan, last] as const]),
    [w.desk.plan.byHand, byHand] as const,
  ];
  const placeWords = (place: VisitPlace | null): string =>
    place === null
      ? w.desk.plan.nowhere
      : `${days.short(getDay(place.day))} ${timeOf(place.startsAt)}, ${plan.people.find(({ person }) => person === place.person)?.name ?? place.person}`;
  return (
    <section className="sheet">
      <h2>{w.desk.plan.compared}</h2>
      <p className="quiet small">{w.desk.plan.byHandHow}</p>
      <TableRoom label={w.desk.plan.compared}>
        <table>
          <thead>
            <tr>
              <th scope="col">{w.desk.plan.what}</th>
              {columns.map(([name]) => (
                <th key={name} scope="col">
                  {name}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {ROWS.map((row) => (
              <tr key={row}>
                <th scope="row">{w.desk.plan.rows[row]}</th>
                {columns.map(([name, totals]) => (
                  <td key={name}>{cell(row, totals, w.format)}</td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </TableRoom>
      {moves !== null && moves.moved.length > 0 && (
        <details>
          <summary>{w.desk.plan.moved(moves.moved.length, moves.kept)}</summary>
          <ul className="office-list">
            {moves.moved.map(({ visit, property, before, after }) => (
              <li key={visit}>
                {names.get(property)?.name ?? property}: {placeWords(before)} → {placeWords(after)}
              </li>
            ))}
          </ul>
        </details>
      )}
    </section>
  );
}

type Format = ReturnType<typeof useWords>['format'];

const METRES_PER_MILE = 1609.344;

function cell(row: (typeof ROWS)[number], totals: PlanTotals, format: Format): string {
  switch (row) {
    case 'driveMetres':
      return format.number(Math.round(totals.driveMetres / METRES_PER_MILE));
    case 'hours':
      return format.number(Math.round((totals.driveMinutes + totals.workMinutes + totals.waitMinutes) / 60));
    case 'overtimeMinutes':
      return format.number(Math.round(totals.overtimeMinutes / 60));
    case 'rounds':
    case 'visits':
    case 'lateWorks':
    case 'otherPerson':
      return format.number(totals[row]);
  }
}
