import { useWords } from '../../words/index.ts';
import { PLOT_LEFT, Plot, usePlotRoom } from './plot.tsx';

export interface PlotBar {
  readonly name: string;
  /** Under the bar, where the name is too long for it; said once under neighbours that share it. */
  readonly short?: string;
  readonly value: number;
  /** Where chance plays in; absent = counted, so there is nothing to be unsure of. */
  readonly between?: readonly [lower: number, upper: number];
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
/** Of an average letter with room to the next word, CSS pixels. */
const LETTER = 9;

/** Bars, with their intervals where they are estimates; the exact figures on hover, on focus of the table below, and to readers. */
export function BarPlot({ label, unit, bars, most }: Props) {
  const w = useWords();
  const room = usePlotRoom();
  if (bars.length === 0) return null;
  const top = Math.max(
    most ?? 0,
    ...bars.map(({ between, value }) => Math.max(between?.[1] ?? 0, value)),
    1e-9,
  );
  const isCounted = bars.every(({ between }) => between === undefined);
  const spanText = (between: PlotBar['between']): string =>
    between === undefined ? '' : between.map((end) => w.format.trim(end)).join('–');
  const step = (room.width - PLOT_LEFT) / bars.length;
  const groups = groupsOf(bars);
  const widest = Math.max(...groups.map(({ short }) => short.length)) * LETTER;
  const every = Math.ceil(widest / ((step * bars.length) / groups.length));
  const y = (value: number): number => TOP + (1 - value / top) * (HEIGHT - TOP - BOTTOM);
  const text = (value: number): string => w.format.trim(value);
  return (
    <Plot
      room={room}
      height={HEIGHT}
      scale={[0, top / 2, top].map((value) => ({ y: y(value), text: text(value) }))}
      table={{
        label,
        heads: [
          w.desk.book.when,
          unit === '' ? w.desk.book.inHundred : unit,
          ...(isCounted ? [] : [w.desk.book.between]),
          w.desk.book.from,
        ],
        rows: bars.map(({ name, value, between, note }) => ({
          key: name,
          cells: [name, text(value), ...(isCounted ? [] : [spanText(between)]), note],
        })),
      }}
    >
      {bars.map(({ name, value, between, note }, index) => {
        const middle = PLOT_LEFT + (index + 0.5) * step;
        return (
          <g key={name}>
            <title>{`${name}: ${text(value)} ${unit}${between === undefined ? '' : ` (${spanText(between)})`}, ${note}`}</title>
            <rect
              className="plot-bar"
              x={middle - step * 0.3}
              width={step * 0.6}
              y={y(value)}
              height={y(0) - y(value)}
            />
            {between !== undefined && (
              <line
                className="plot-span"
                x1={middle}
                x2={middle}
                y1={y(Math.min(between[1], top))}
                y2={y(between[0])}
              />
            )}
          </g>
        );
      })}
      {groups
        .filter((_, at) => at % every === 0)
        .map(({ short, from, to }) => (
          <text key={from} x={PLOT_LEFT + ((from + to + 1) / 2) * step} y={HEIGHT - 8} textAnchor="middle">
            {short}
          </text>
        ))}
    </Plot>
  );
}

/** Neighbours with the same word under them, by the places of the first and the last. */
function groupsOf(
  bars: readonly PlotBar[],
): readonly { readonly short: string; readonly from: number; readonly to: number }[] {
  const groups: { short: string; from: number; to: number }[] = [];
  for (const [at, bar] of bars.entries()) {
    const short = bar.short ?? shorten(bar.name);
    const last = groups.at(-1);
    if (last?.short === short) last.to = at;
    else groups.push({ short, from: at, to: at });
  }
  return groups;
}

/** `2026 Q3` -> `3/26`. */
function shorten(name: string): string {
  const quarter = /^(\d{4})\D*(\d)$/.exec(name);
  return quarter === null ? name.slice(0, 6) : `${quarter[2]}/${(quarter[1] ?? '').slice(2)}`;
}
