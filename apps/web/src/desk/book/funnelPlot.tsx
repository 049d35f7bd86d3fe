import type { Funnel } from '@sillwatch/rounds';
import { TableRoom } from '../../shared/tableRoom.tsx';
import { useWords } from '../../words/index.ts';

interface Props {
  readonly label: string;
  readonly funnel: Funnel;
  readonly nameOf: (key: string) => string;
}

const WIDTH = 620;
const HEIGHT = 240;
const EDGE = 44;

/** Shares against how much there is to go by, with the limits inside which chance alone puts them. */
export function FunnelPlot({ label, funnel: { points, lines, target }, nameOf }: Props) {
  const w = useWords();
  const said = points.filter(({ standing }) => standing !== 'too little to say');
  if (target === null || said.length === 0) return <p className="quiet">{w.desk.book.tooLittle}</p>;
  const mostTrials = Math.max(...points.map(({ trials }) => trials), ...lines.map(({ trials }) => trials), 1);
  const mostShare = Math.min(
    1,
    Math.max(...points.map(({ events, trials }) => events / Math.max(1, trials)), target * 2, 0.01) * 1.15,
  );
  const x = (trials: number): number => EDGE + (trials / mostTrials) * (WIDTH - EDGE - 16);
  const y = (share: number): number => 12 + (1 - Math.min(1, share / mostShare)) * (HEIGHT - EDGE - 12);
  const path = (pick: (line: Funnel['lines'][number]) => number): string =>
    lines.map((line, index) => `${index === 0 ? 'M' : 'L'}${x(line.trials)} ${y(pick(line))}`).join('');
  const per = (share: number): string => `${w.format.trim(100 * share)} %`;
  return (
    <>
      <svg
        className="plot"
        viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
        role="img"
        aria-label={w.desk.book.plot(label)}
      >
        {[0, mostShare / 2, mostShare].map((share) => (
          <g key={share}>
            <line className="plot-grid" x1={EDGE} x2={WIDTH} y1={y(share)} y2={y(share)} />
            <text x={EDGE - 6} y={y(share) + 5} textAnchor="end">
              {per(share)}
            </text>
          </g>
        ))}
        <line className="plot-target" x1={EDGE} x2={WIDTH} y1={y(target)} y2={y(target)} />
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
      </svg>
      <details>
        <summary>{w.desk.time.table}</summary>
        <TableRoom label={label}>
          <table>
            <thead>
              <tr>
                {w.desk.book.funnelHeads.map((head) => (
                  <th key={head} scope="col">
                    {head}
                  </th>
                ))}
              </tr>
            </thead>
            <tbody>
              {points.map(({ key, events, trials, share, inside95, standing }) => (
                <tr key={key}>
                  <th scope="row">{nameOf(key)}</th>
                  <td>{w.desk.book.of(events, trials)}</td>
                  <td>{per(share.estimate)}</td>
                  <td>
                    {per(inside95.lower)}–{per(inside95.upper)}
                  </td>
                  <td>{w.desk.book.standings[standing]}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </TableRoom>
      </details>
    </>
  );
}
