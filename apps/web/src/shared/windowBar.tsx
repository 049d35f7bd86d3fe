import type { Day } from '@sillwatch/trade';
import { useDays } from '../words/days.ts';
import { useWords } from '../words/index.ts';

interface Props {
  readonly earliest: Day;
  readonly target: Day;
  readonly latest: Day;
  readonly today: Day;
}

const WIDTH = 200;
const LEFT = 28;
const RIGHT = WIDTH - 28;

/**
 * The due window as a bar: its ends, the day to aim for, and a line for today.
 * Today may stand at most as far outside as the drawing has room: then an arrow says that it is farther still.
 */
export function WindowBar({ earliest, target, latest, today }: Props) {
  const w = useWords();
  const days = useDays();
  const span = Math.max(1, latest - earliest);
  const at = (day: Day) => LEFT + ((day - earliest) / span) * (RIGHT - LEFT);
  const raw = at(today);
  const x = Math.min(WIDTH - 11, Math.max(11, raw));
  const beyond = raw !== x;
  const late = today > latest;
  const notYet = today < earliest;
  const colour = late ? 'var(--late)' : notYet ? 'var(--coming)' : 'var(--open)';
  return (
    <figure className="window">
      <svg
        viewBox={`0 0 ${WIDTH} 28`}
        role="img"
        aria-label={w.window.spoken(
          days.plain(earliest),
          days.plain(target),
          days.plain(latest),
          days.plain(today),
        )}
      >
        <line
          x1="4"
          x2={WIDTH - 4}
          y1="17"
          y2="17"
          stroke="var(--line-strong)"
          strokeWidth="1.5"
          strokeDasharray="1 4"
        />
        <rect
          x={LEFT}
          y="11"
          width={RIGHT - LEFT}
          height="12"
          rx="2"
          fill="var(--sheet)"
          stroke={colour}
          strokeWidth="2"
        />
        {today > earliest && (
          <rect
            x={LEFT}
            y="11"
            width={Math.min(RIGHT, raw) - LEFT}
            height="12"
            rx="2"
            fill={colour}
            opacity={late ? 1 : 0.28}
          />
        )}
        <path d={`M${at(target)} 11v12`} stroke={late ? 'var(--sheet)' : colour} strokeWidth="2" />
        <path d={`M${x} 5v20`} stroke="var(--ink)" strokeWidth="2.5" />
        {beyond ? (
          <path d={raw > x ? `M${x} 0.5l9 5-9 5Z` : `M${x} 0.5l-9 5 9 5Z`} fill="var(--ink)" />
        ) : (
          <circle cx={x} cy="5" r="3.5" fill="var(--ink)" />
        )}
      </svg>
      <figcaption className="window-days small" aria-hidden="true">
        <span>{days.short(earliest)}</span>
        <span>{days.short(latest)}</span>
      </figcaption>
    </figure>
  );
}
