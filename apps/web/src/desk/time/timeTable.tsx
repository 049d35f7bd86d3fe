import { TableRoom } from '../../shared/tableRoom.tsx';
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
    <details>
      <summary>{w.desk.time.table}</summary>
      <TableRoom label={w.desk.time.table}>
        <table>
          <thead>
            <tr>
              <th scope="col">{w.desk.time.day}</th>
              {shown.map((said) => (
                <th key={said} scope="col">
                  {w.desk.time.said[said]}
                </th>
              ))}
              <th scope="col">{w.desk.time.seen}</th>
              <th scope="col">{w.desk.time.yearly}</th>
            </tr>
          </thead>
          <tbody>
            {ring.days.map((day) => {
              const looks = ring.looks.filter((look) => look.day === day);
              const list = (chosen: typeof looks): string =>
                chosen
                  .map(({ station }) => numbers.get(station) ?? 0)
                  .sort((a, b) => a - b)
                  .join(', ');
              return (
                <tr key={day}>
                  <th scope="row">{days.plain(day)}</th>
                  {shown.map((said) => (
                    <td key={said}>{list(looks.filter((look) => look.said === said))}</td>
                  ))}
                  <td>{looks.filter(({ said }) => said !== 'missed').length}</td>
                  <td>{looks.filter(({ yearly }) => yearly).length}</td>
                </tr>
              );
            })}
          </tbody>
        </table>
      </TableRoom>
    </details>
  );
}
