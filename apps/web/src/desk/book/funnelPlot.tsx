import type { Funnel } from '@sillwatch/rounds';
import { useWords } from '../../words/index.ts';
import { PLOT_LEFT, Plot, usePlotRoom } from './plot.tsx';

interface Props {
  readonly label: string;
  readonly funnel: Funnel;
  readonly nameOf: (key: string) => string;
}

const HEIGHT = 240;
/** Below the lowest line of the scale. */
const BOTTOM = 44;

/** Shares against how much there is to go by, with the limits inside which chance alone puts them. */
export function FunnelPlot({ label, funnel: { points, lines, target }, nameOf }: Props) {
  const w = useWords();
  const room = usePlotRoom();
  const said = points.filter(({ standing }) => standing !== 'too little to say');
  // The sentence above says that there is too little to say.
  if (target === null || said.length < 2) return null;
  const mostTrials = Math.max(...points.map(({ trials }) => trials), ...lines.map(({ trials }) => trials), 1);
  const mostShare = Math.min(
    1,
    Math.max(...points.map(({ events, trials }) => events / Math.max(1, trials)), target * 2, 0.01) * 1.15,
  );
  const x = (trials: number): number => PLOT_LEFT + (trials / mostTrials) * (room.width - PLOT_LEFT - 16);
  const y = (share: number): number => 12 + (1 - Math.min(1, share / mostShare)) * (HEIGHT - BOTTOM - 12);
  const path = (pick: (line: Funnel['lines'][number]) => number): string =>
    lines.map((line, index) => `${index === 0 ? 'M' : 'L'}${x(line.trials)} ${y(pick(line))}`).join('');
  const per = (share: number): string => `${w.format.trim(100 * share)} %`;
  return (
    <Plot
      room={room}
      height={HEIGHT}
      scale={[0, mostShare / 2, mostShare].map((share) => ({ y: y(share), text: per(share) }))}
      table={{
        label,
        heads: w.desk.book.funnelHeads,
        rows: points.map(({ key, events, trials, share, inside95, standing }) => ({
          key,
          cells: [
            nameOf(key),
            w.desk.book.of(events, trials),
            per(share.estimate),
            `${per(inside95.lower)}–${per(inside95.upper)}`,
            w.desk.book.standings[standing],
          ],
        })),
      }}
    >
      <line className="plot-target" x1={PLOT_LEFT} x2={room.width} y1={y(target)} y2={y(target)} />
      <path className="plot-limit" d={path(({ inside95 }) => inside95.lower)} />
      <path className="plot-limit" d={path(({ inside95 }) => inside95.upper)} />
      <path className="plot-limit plot-far" d={path(({ inside998 }) => inside998.lower)} />
      <path className="plot-limit plot-far" d={path(({ inside998 }) => inside998.upper)} />
      {points.map(({ key, events, trials, standing }) => (
        <g key={key} transform={`translate(${x(trials)} ${y(events / Math.max(1, trials))})`}>
          <title>{`${nameOf(key)}: ${w.desk.book.of(events, trials)}`}</title>
          {standing === 'as the rest' || standing === 'too little to say' ? (
            <circle className="plot-point" r="6" />
          ) : (
            <path className="plot-outside" d="M0-8 8 0 0 8-8 0Z" />
          )}
        </g>
      ))}
    </Plot>
  );
}
