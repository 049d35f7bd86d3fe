import { useWords } from '../../words/index.ts';
import { PLOT_LEFT, PLOT_WIDTH, Plot } from './plot.tsx';

export interface PlotBar {
  readonly name: string;
  readonly value: number;
  readonly lower: number;
  readonly upper: number;
  readonly note: string;
}

interface Props {
  readonly label: string;
  readonly unit: string;
  readonly bars: readonly PlotBar[];
  /** Top of the scale; absent = the largest upper end. */
  readonly most?: number;
}

const HEIGHT = 190;
const BOTTOM = 26;
const TOP = 12;

/** Bars with their intervals; the exact figures on hover, on focus of the table below, and to readers. */
export function BarPlot({ label, unit, bars, most }: Props) {
  const w = useWords();
  if (bars.length === 0) return null;
  const top = Math.max(most ?? 0, ...bars.map(({ upper, value }) => Math.max(upper, value)), 1e-9);
  const step = (PLOT_WIDTH - PLOT_LEFT) / bars.length;
  const y = (value: number): number => TOP + (1 - value / top) * (HEIGHT - TOP - BOTTOM);
  const text = (value: number): string => w.format.trim(value);
  return (
    <Plot
      height={HEIGHT}
      scale={[0, top / 2, top].map((value) => ({ y: y(value), text: text(value) }))}
      table={{
        label,
        heads: [
          w.desk.book.when,
          unit === '' ? w.desk.book.inHundred : unit,
          w.desk.book.between,
          w.desk.book.from,
        ],
        rows: bars.map(({ name, value, lower, upper, note }) => ({
          key: name,
          cells: [name, text(value), `${text(lower)}–${text(upper)}`, note],
        })),
      }}
    >
      {bars.map(({ name, value, lower, upper, note }, index) => {
        const middle = PLOT_LEFT + (index + 0.5) * step;
        return (
          <g key={name}>
            <title>{`${name}: ${text(value)} ${unit} (${text(lower)}–${text(upper)}), ${note}`}</title>
            <rect
              className="plot-bar"
              x={middle - step * 0.3}
              width={step * 0.6}
              y={y(value)}
              height={y(0) - y(value)}
            />
            <line className="plot-span" x1={middle} x2={middle} y1={y(Math.min(upper, top))} y2={y(lower)} />
            {bars.length <= 14 && (
              <text x={middle} y={HEIGHT - 8} textAnchor="middle">
                {shorten(name)}
              </text>
            )}
          </g>
        );
      })}
    </Plot>
  );
}

/** `2026 Q3` -> `Q3 26`, `2026-12 branch-upland` -> `12`. */
function shorten(name: string): string {
  const month = /^\d{4}-(\d{2})/.exec(name);
  if (month !== null) return month[1] ?? name;
  const quarter = /^(\d{4})\D*(\d)$/.exec(name);
  return quarter === null ? name.slice(0, 6) : `${quarter[2]}/${(quarter[1] ?? '').slice(2)}`;
}
