import type { RiskAnswer } from '@sillwatch/rounds';
import { useWords } from '../../words/index.ts';
import { PLOT_LEFT, Plot, usePlotRoom } from './plot.tsx';

interface Props {
  readonly label: string;
  readonly calibration: NonNullable<RiskAnswer['calibration']>;
}

const HEIGHT = 260;
const TOP = 12;
/** Below the lowest line of the scale. */
const BOTTOM = 40;

/** What was promised across, what came upwards: true chances lie on the line, give or take their intervals. */
export function CalibrationPlot({ label, calibration: { bands } }: Props) {
  const w = useWords();
  const room = usePlotRoom();
  const most = Math.max(...bands.map(({ promised, seen }) => Math.max(promised, seen.upper)), 1e-6) * 1.05;
  const x = (share: number): number => PLOT_LEFT + (share / most) * (room.width - PLOT_LEFT - 16);
  const y = (share: number): number => TOP + (1 - share / most) * (HEIGHT - TOP - BOTTOM);
  const per = (share: number): string => `${w.format.trim(100 * share)} %`;
  return (
    <Plot
      room={room}
      height={HEIGHT}
      scale={[0, most / 2, most].map((share) => ({ y: y(share), text: per(share) }))}
      table={{
        label,
        heads: w.desk.book.calibrationHeads,
        rows: bands.map(({ promised, happened, cases, seen }) => ({
          key: promised,
          cells: [
            per(promised),
            per(seen.estimate),
            `${per(seen.lower)}–${per(seen.upper)}`,
            w.desk.book.of(happened, cases),
          ],
        })),
      }}
    >
      <line className="plot-target" x1={x(0)} y1={y(0)} x2={x(most)} y2={y(most)} />
      {bands.map(({ promised, seen, happened, cases }) => (
        <g key={promised}>
          <title>{`${per(promised)}: ${w.desk.book.of(happened, cases)}`}</title>
          <line
            className="plot-span"
            x1={x(promised)}
            x2={x(promised)}
            y1={y(seen.lower)}
            y2={y(seen.upper)}
          />
          <circle className="plot-point" cx={x(promised)} cy={y(seen.estimate)} r="6" />
        </g>
      ))}
      {[most / 2, most].map((share) => (
        <text key={share} x={x(share)} y={HEIGHT - 14} textAnchor={share === most ? 'end' : 'middle'}>
          {per(share)}
        </text>
      ))}
    </Plot>
  );
}
