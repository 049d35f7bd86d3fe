import type { BranchPlan, PlanComparison, PlanTotals, VisitPlace } from '@sillwatch/rounds';
import { getDay } from '@sillwatch/trade';
import { DataTable } from '../../shared/dataTable.tsx';
import { useDays } from '../../words/days.ts';
import { useWords } from '../../words/index.ts';
import type { NamesByProperty } from './names.ts';
import { personName } from './outcome.tsx';
import { timeOf } from './times.ts';

interface Props {
  readonly comparison: PlanComparison;
  readonly plan: BranchPlan;
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
      : `${days.short(getDay(place.day))} ${timeOf(place.startsAt)}, ${personName(plan, place.person)}`;
  return (
    <section className="sheet">
      <h2>{w.desk.plan.compared}</h2>
      <p className="quiet small">{w.desk.plan.byHandHow}</p>
      {comparison.plan.driveMetres > byHand.driveMetres && (
        <p>
          {w.desk.plan.moreMiles({
            metres: comparison.plan.driveMetres - byHand.driveMetres,
            hours: hoursOf(byHand) - hoursOf(comparison.plan),
            rounds: byHand.rounds - comparison.plan.rounds,
            late: byHand.lateWorks - comparison.plan.lateWorks,
          })}
        </p>
      )}
      <DataTable
        label={w.desk.plan.compared}
        heads={[w.desk.plan.what, ...columns.map(([name]) => name)]}
        rows={ROWS.map((row) => ({
          key: row,
          cells: [w.desk.plan.rows[row], ...columns.map(([, totals]) => cell(row, totals, w.format))],
        }))}
      />
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

/** Whole hours, as they stand in the table, so that the sentence says no other difference. */
function hoursOf({ driveMinutes, workMinutes, waitMinutes }: PlanTotals): number {
  return Math.round((driveMinutes + workMinutes + waitMinutes) / 60);
}

type Format = ReturnType<typeof useWords>['format'];

const METRES_PER_MILE = 1609.344;

function cell(row: (typeof ROWS)[number], totals: PlanTotals, format: Format): string {
  switch (row) {
    case 'driveMetres':
      return format.number(Math.round(totals.driveMetres / METRES_PER_MILE));
    case 'hours':
      return format.number(hoursOf(totals));
    case 'overtimeMinutes':
      return format.number(Math.round(totals.overtimeMinutes / 60));
    case 'rounds':
    case 'visits':
    case 'lateWorks':
    case 'otherPerson':
      return format.number(totals[row]);
  }
}
