import type { TimeToEvent } from '@sillwatch/rounds';
import { useWords } from '../../words/index.ts';
import { PLOT_LEFT, Plot, usePlotRoom } from './plot.tsx';

interface Props {
  readonly label: string;
  readonly times: TimeToEvent;
}

const HEIGHT = 220;
/** Below the lowest line of the scale. */
const BOTTOM = 44;

/** Share to whom it has not come yet, against days (Kaplan and Meier), with the band inside which nineteen in twenty such bands hold it. */
export function CurvePlot({ label, times: { curve } }: Props) {
  const w = useWords();
  const room = usePlotRoom();
  if (curve === null) return null;
  const { steps } = curve;
  const last = Math.max(...steps.map(({ time }) => time), 1);
  const x = (days: number): number => PLOT_LEFT + (days / last) * (room.width - PLOT_LEFT - 12);
  const y = (share: number): number => 10 + (1 - share) * (HEIGHT - BOTTOM - 10);
  const stairs = (pick: (step: (typeof steps)[number]) => number): string => {
    let path = `M${x(0)} ${y(1)}`;
    for (const step of steps) path += `H${x(step.time)}V${y(pick(step))}`;
    return path;
  };
  const per = (share: number): string => `${w.format.number(Math.round(100 * share))} %`;
  return (
    <Plot
      room={room}
      height={HEIGHT}
      scale={[0, 0.5, 1].map((share) => ({ y: y(share), text: per(share) }))}
      table={{
        label,
        heads: w.desk.book.curveHeads,
        rows: curve.after.map(({ days, left, interval }) => ({
          key: days,
          cells: [
            w.desk.book.day(days),
            per(left),
            interval === null ? '' : `${per(interval.lower)}–${per(interval.upper)}`,
          ],
        })),
      }}
    >
      {[0, last / 2, last].map((days) => (
        <text key={days} x={x(days)} y={HEIGHT - 14} textAnchor={days === last ? 'end' : 'middle'}>
          {w.desk.book.day(Math.round(days))}
        </text>
      ))}
      <path className="plot-limit" d={stairs(({ interval, survival }) => interval?.lower ?? survival)} />
      <path className="plot-limit" d={stairs(({ interval, survival }) => interval?.upper ?? survival)} />
      <path className="plot-curve" d={stairs(({ survival }) => survival)} />
    </Plot>
  );
}
