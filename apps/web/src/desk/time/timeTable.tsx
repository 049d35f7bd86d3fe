import { FoldedTable } from '../../shared/dataTable.tsx';
import { useDays } from '../../words/days.ts';
import { useWords } from '../../words/index.ts';
import type { RingInTime } from './ringInTime.ts';

/** The same as a table: one row a visit, what was found at which stations. */
export function TimeTable({ ring }: { readonly ring: RingInTime }) {
  const w = useWords();
  const days = useDays();
  const numbers = new Map(ring.columns.map(({ station, number }) => [station, number]));
  const shown = ['feeding', 'hit', 'signs', 'missed'] as const;
  return (
    <FoldedTable
      label={w.desk.time.table}
      heads={[
        w.desk.time.day,
        ...shown.map((said) => w.desk.time.said[said]),
        w.desk.time.seen,
        w.desk.time.yearly,
      ]}
      rows={ring.days.map((day) => {
        const looks = ring.looks.filter((look) => look.day === day);
        const list = (chosen: typeof looks): string =>
          chosen
            .map(({ station }) => numbers.get(station) ?? 0)
            .sort((a, b) => a - b)
            .join(', ');
        return {
          key: day,
          cells: [
            days.plain(day),
            ...shown.map((said) => list(looks.filter((look) => look.said === said))),
            looks.filter(({ said }) => said !== 'missed').length,
            looks.filter(({ yearly }) => yearly).length,
          ],
        };
      })}
    />
  );
}
