import type { TimeToEvent } from '@sillwatch/rounds';
import { TableRoom } from '../../shared/tableRoom.tsx';
import { useWords } from '../../words/index.ts';

interface Props {
  readonly label: string;
  readonly times: TimeToEvent;
}

const WIDTH = 620;
const HEIGHT = 220;
const EDGE = 44;

/** Share to whom it has not come yet, against days (Kaplan and Meier), with the band inside which nineteen in twenty such bands hold it. */
export function CurvePlot({ label, times: { curve } }: Props) {
  const w = useWords();
  if (curve === null) return null;
  const { steps } = curve;
  const last = Math.max(...steps.map(({ time }) => time), 1);
  const x = (days: number): number => EDGE + (days / last) * (WIDTH - EDGE - 12);
  const y = (share: number): number => 10 + (1 - share) * (HEIGHT - EDGE - 10);
  const stairs = (pick: (step: (typeof steps)[number]) => number): string => {
    let path = `M${x(0)} ${y(1)}`;
    for (const step of steps) path += `H${x(step.time)}V${y(pick(step))}`;
    return path;
  };
  const per = (share: number): string => `${w.format.number(Math.round(100 * share))} %`;
  return (
    <>
      <svg
        className="plot"
        viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
        role="img"
        aria-label={w.desk.book.plot(label)}
      >
        {[0, 0.5, 1].map((share) => (
          <g key={share}>
            <line className="plot-grid" x1={EDGE} x2={WIDTH} y1={y(share)} y2={y(share)} />
            <text x={EDGE - 6} y={y(share) + 5} textAnchor="end">
              {per(share)}
            </text>
          </g>
        ))}
        {[0, last / 2, last].map((days) => (
          <text key={days} x={x(days)} y={HEIGHT - 14} textAnchor={days === last ? 'end' : 'middle'}>
            {w.desk.book.day(Math.round(days))}
          </text>
        ))}
        <path className="plot-limit" d={stairs(({ interval, survival }) => interval?.lower ?? survival)} />
        <path className="plot-limit" d={stairs(({ interval, survival }) => interval?.upper ?? survival)} />
        <path className="plot-curve" d={stairs(({ survival }) => survival)} />
      </svg>
      <details>
        <summary>{w.desk.time.table}</summary>
        <TableRoom label={label}>
          <table>
            <thead>
              <tr>
                {w.desk.book.curveHeads.map((head) => (
                  <th key={head} scope="col">
                    {head}
                  </th>
                ))}
              </tr>
            </thead>
            <tbody>
              {curve.after.map(({ days, left, interval }) => (
                <tr key={days}>
                  <th scope="row">{w.desk.book.day(days)}</th>
                  <td>{per(left)}</td>
                  <td>{interval === null ? '' : `${per(interval.lower)}–${per(interval.upper)}`}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </TableRoom>
      </details>
    </>
  );
}
