import { civilFromDay, type Day, type DueWindow, timelinessOn, type WorkKind } from '@sillwatch/trade';
import { useDays } from '../../words/days.ts';
import { useWords } from '../../words/index.ts';
import { type Bar, barOf, monthsOn, placeOn } from './axis.ts';

const isFirst = (day: Day): boolean => civilFromDay(day).dayOfMonth === 1;

/** The head of the common axis: months, and today. */
export function AxisHead({ today }: { readonly today: Day }) {
  const w = useWords();
  const days = useDays();
  return (
    <div className="axis-head small" aria-hidden="true">
      <svg width="100%" height="48" aria-hidden="true">
        {monthsOn(today, isFirst).map((day) => (
          <g key={day}>
            <line x1={`${placeOn(day, today)}%`} x2={`${placeOn(day, today)}%`} y1="40" y2="48" />
            <text x={`${placeOn(day, today)}%`} y="36" className="axis-month">
              {days.month(day)}
            </text>
          </g>
        ))}
        <line
          className="axis-today"
          x1={`${placeOn(today, today)}%`}
          x2={`${placeOn(today, today)}%`}
          y1="20"
          y2="48"
        />
      </svg>
      <span className="axis-now">{w.desk.dueBoard.today}</span>
    </div>
  );
}

const HEIGHT = 22;
const COLOURS = {
  'not yet': 'var(--coming)',
  open: 'var(--open)',
  'past target': 'var(--open)',
  late: 'var(--late)',
} as const;

interface LaneProps {
  readonly window: DueWindow;
  readonly work: WorkKind;
  readonly today: Day;
}

/** One piece of work on the common axis: its window, the day to aim for, and today. */
export function Lane({ window, work, today }: LaneProps) {
  const w = useWords();
  const days = useDays();
  const bar = barOf(window, today);
  const colour = COLOURS[timelinessOn(window, today)];
  const now = `${placeOn(today, today)}%`;
  return (
    <svg
      className="lane"
      width="100%"
      height={HEIGHT}
      role="img"
      aria-label={w.window.spoken(
        days.plain(window.earliest),
        days.plain(window.target),
        days.plain(window.latest),
        days.plain(today),
      )}
    >
      {monthsOn(today, isFirst).map((day) => (
        <line
          key={day}
          className="lane-month"
          x1={`${placeOn(day, today)}%`}
          x2={`${placeOn(day, today)}%`}
          y1="0"
          y2={HEIGHT}
        />
      ))}
      <BarShape bar={bar} work={work} colour={colour} />
      <line className="axis-today" x1={now} x2={now} y1="0" y2={HEIGHT} />
    </svg>
  );
}

/** First checks are drawn with a broken edge, carried-over services with a double one: told apart without colour. */
function BarShape({
  bar,
  work,
  colour,
}: {
  readonly bar: Bar;
  readonly work: WorkKind;
  readonly colour: string;
}) {
  const width = `${bar.to - bar.from}%`;
  const isFirstCheck = work === 'first check';
  return (
    <>
      {!bar.isOutside && (
        <rect
          x={`${bar.from}%`}
          y="5"
          width={width}
          height="12"
          rx="2"
          fill={colour}
          fillOpacity={isFirstCheck ? 0 : 0.26}
          stroke={colour}
          strokeWidth="2"
          {...(isFirstCheck ? { strokeDasharray: '5 3' } : {})}
        />
      )}
      {!bar.isOutside && work === 'carried-over service' && (
        <line x1={`${bar.from}%`} x2={`${bar.to}%`} y1="11" y2="11" stroke={colour} strokeWidth="2" />
      )}
      {bar.target !== null && (
        <line x1={`${bar.target}%`} x2={`${bar.target}%`} y1="5" y2="17" stroke={colour} strokeWidth="3" />
      )}
      {(bar.cut === 'before' || bar.cut === 'both') && (
        <svg x="0" y="5" width="9" height="12" overflow="visible" aria-hidden="true">
          <path d="M8 0v12L0 6Z" fill={colour} />
        </svg>
      )}
      {(bar.cut === 'after' || bar.cut === 'both') && (
        <svg x="100%" y="5" width="9" height="12" overflow="visible" aria-hidden="true">
          <path d="M-8 0v12l8-6Z" fill={colour} />
        </svg>
      )}
    </>
  );
}

/** What the drawing of a lane means. */
export function AxisLegend() {
  const w = useWords();
  const { legend } = w.desk.dueBoard;
  const entries = [
    { words: legend.window, work: 'check', target: null },
    { words: legend.target, work: 'check', target: 50 },
    { words: legend.first, work: 'first check', target: null },
    { words: legend.carried, work: 'carried-over service', target: null },
  ] as const;
  return (
    <ul className="axis-legend small">
      {entries.map(({ words, work, target }) => (
        <li key={words}>
          <svg width="44" height={HEIGHT} aria-hidden="true">
            <BarShape
              bar={{ from: 4, to: 96, target, cut: 'none', isOutside: false }}
              work={work}
              colour="var(--ink-soft)"
            />
          </svg>
          {words}
        </li>
      ))}
    </ul>
  );
}
