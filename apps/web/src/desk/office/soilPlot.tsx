import type { SoilCourse } from '@sillwatch/rounds';
import { dayFromCivil } from '@sillwatch/trade/units';
import { useDays } from '../../words/days.ts';
import { useWords } from '../../words/index.ts';
import { PLOT_LEFT, Plot, usePlotRoom } from '../book/plot.tsx';

interface Props {
  readonly label: string;
  readonly course: SoilCourse;
  readonly forageFromCelsius: number;
}

const HEIGHT = 240;
const TOP = 12;
/** Below the lowest line of the scale. */
const BOTTOM = 36;
const DAYS = 365;

/** Temperature through the year: at the surface thin, at depth thick, the days on which termites forage as a band. */
export function SoilPlot({ label, course, forageFromCelsius }: Props) {
  const w = useWords();
  const room = usePlotRoom();
  const days = useDays();
  const all = [...course.surfaceCelsius, forageFromCelsius];
  const low = Math.floor((Math.min(...all) - 1) / 5) * 5;
  const high = Math.ceil((Math.max(...all) + 1) / 5) * 5;
  const x = (day: number): number => PLOT_LEFT + (day / DAYS) * (room.width - PLOT_LEFT);
  const y = (celsius: number): number => TOP + (1 - (celsius - low) / (high - low)) * (HEIGHT - TOP - BOTTOM);
  const line = (values: readonly number[]): string =>
    values
      .map((value, day) => `${day === 0 ? 'M' : 'L'}${x(day).toFixed(1)} ${y(value).toFixed(1)}`)
      .join('');
  const monthName = (month: number): string => days.month(dayFromCivil(2001, month, 1));
  return (
    <Plot
      room={room}
      height={HEIGHT}
      scale={[low, (low + high) / 2, high].map((value) => ({
        y: y(value),
        text: w.desk.soil.degreesShort(value),
      }))}
      table={{
        label,
        heads: w.desk.soil.heads,
        rows: course.months.map(({ month, celsius, forages }) => ({
          key: month,
          cells: [monthName(month), w.desk.soil.degrees(celsius), forages ? w.desk.soil.yes : w.desk.soil.no],
        })),
      }}
    >
      {bands(course, forageFromCelsius).map(({ from, to }) => (
        <rect
          key={from}
          className="plot-season"
          x={x(from)}
          width={x(to) - x(from)}
          y={TOP}
          height={HEIGHT - TOP - BOTTOM}
        />
      ))}
      <line
        className="plot-target"
        x1={PLOT_LEFT}
        x2={room.width}
        y1={y(forageFromCelsius)}
        y2={y(forageFromCelsius)}
      />
      <path className="plot-limit" d={line(course.surfaceCelsius)} />
      <path className="plot-curve" d={line(course.celsius)} />
      {[1, 4, 7, 10].map((month) => (
        <text
          key={month}
          x={x(dayFromCivil(2001, month, 1) - dayFromCivil(2001, 1, 1))}
          y={HEIGHT - 12}
          textAnchor="start"
        >
          {monthName(month)}
        </text>
      ))}
    </Plot>
  );
}

/** One stretch, or two where the season goes over the turn of the year. */
function bands(
  { celsius }: SoilCourse,
  from: number,
): readonly { readonly from: number; readonly to: number }[] {
  const found: { from: number; to: number }[] = [];
  celsius.forEach((value, day) => {
    if (value < from) return;
    const last = found.at(-1);
    if (last?.to === day) last.to = day + 1;
    else found.push({ from: day, to: day + 1 });
  });
  return found;
}
