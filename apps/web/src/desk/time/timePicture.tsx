import { getDay } from '@sillwatch/trade';
import { type StationMarkKind, StationMarkShape } from '../../marks/stationMark.tsx';
import { useDays } from '../../words/days.ts';
import { useWords } from '../../words/index.ts';
import { type Layout, LEFT, ROW, TOP } from './layout.ts';
import type { Look, RingInTime, Said } from './ringInTime.ts';

/** Marks of the diagram where it has one for what was found; the rest are smaller, because they matter less. */
const MARKS: Readonly<Partial<Record<Said, StationMarkKind>>> = {
  feeding: 'feeding',
  hit: 'hit',
  missed: 'missed',
  removed: 'removed',
};
const MARK = 19;

interface Props {
  readonly property: string;
  readonly ring: RingInTime;
  readonly layout: Layout;
}

/** Stations from left to right as one walks clockwise round the structure, visits from the latest down. */
export function TimePicture({ property, ring, layout }: Props) {
  const w = useWords();
  const days = useDays();
  const { width, height, x, y } = layout;
  const bottom = height - 8;
  return (
    // biome-ignore lint/a11y/useSemanticElements: a drawing that holds links is a group, and no HTML element is one
    <svg
      role="group"
      className="time-picture"
      width={width}
      height={height}
      aria-label={w.desk.time.spoken(ring.columns.length, ring.days.length)}
    >
      {ring.days.map((day) => (
        <line
          key={day}
          className="time-row"
          x1={LEFT - 6}
          x2={width}
          y1={(y.get(day) ?? 0) + ROW / 2}
          y2={(y.get(day) ?? 0) + ROW / 2}
        />
      ))}
      {ring.walls?.map(({ place, faces }) => (
        <g key={place}>
          <line className="time-wall" x1={layout.at(place)} x2={layout.at(place)} y1="6" y2={bottom} />
          <text className="time-side" x={layout.at(place) + 5} y="20">
            {w.desk.time.sides[faces]}
          </text>
        </g>
      ))}
      {ring.baited.map(({ station, from, to }) => (
        <BaitBar
          key={`${station} ${from}`}
          x={x.get(station) ?? 0}
          top={to === null ? TOP - 2 : (y.get(to) ?? TOP)}
          bottom={y.get(from) ?? bottom}
        />
      ))}
      {ring.columns.map(({ station, number }) => (
        <a
          key={station}
          href={`/properties/${property}/stations/${station}`}
          aria-label={w.desk.time.station(number)}
        >
          <text className="time-number" x={x.get(station) ?? 0} y="52">
            {number}
          </text>
        </a>
      ))}
      {ring.days.map((day) => (
        <text key={day} className="time-day" x="2" y={(y.get(day) ?? 0) + 5}>
          {days.plain(day)}
        </text>
      ))}
      {ring.looks.map((look) => (
        <LookMark
          key={`${look.station} ${look.visit} ${look.day} ${look.said}`}
          look={look}
          x={x.get(look.station) ?? 0}
          y={y.get(look.day) ?? 0}
        />
      ))}
    </svg>
  );
}

function BaitBar({ x, top, bottom }: { readonly x: number; readonly top: number; readonly bottom: number }) {
  return (
    <rect className="time-bait" x={x - 11} y={top} width="22" height={Math.max(4, bottom - top)} rx="11" />
  );
}

function LookMark({ look, x, y }: { readonly look: Look; readonly x: number; readonly y: number }) {
  const kind = MARKS[look.said];
  return (
    <g transform={`translate(${x} ${y})`}>
      {look.yearly && <path className="time-yearly" d="M-9 11h18" />}
      {kind !== undefined ? (
        <g transform={`scale(${MARK / 24}) translate(-12 -12)`}>
          <StationMarkShape kind={kind} />
        </g>
      ) : (
        <SmallMark said={look.said} />
      )}
    </g>
  );
}

/** Nothing: a dot. Signs: a small triangle. Set: a small ring. Lost and set anew: a ring struck through. */
function SmallMark({ said }: { readonly said: Said }) {
  if (said === 'nothing') return <circle className="time-nothing" r="2.4" />;
  if (said === 'signs') return <path className="time-signs" d="M0-6.5 6.2 4.5h-12.4Z" />;
  return (
    <>
      <circle className="time-set" r="5" />
      {said === 'lost' && <path className="time-set" d="M-6 6 6-6" />}
    </>
  );
}

const LEGEND: readonly Said[] = ['feeding', 'hit', 'signs', 'nothing', 'missed', 'set', 'removed', 'lost'];
/** Any day: the legend shows shapes alone. */
const NO_DAY = getDay('2026-01-01');

/** What each shape says. */
export function TimeLegend() {
  const w = useWords();
  return (
    <ul className="axis-legend small">
      {LEGEND.map((said) => (
        <li key={said}>
          <svg width="26" height="26" aria-hidden="true">
            <LookMark look={{ station: '', visit: '', day: NO_DAY, said, yearly: false }} x={13} y={13} />
          </svg>
          {w.desk.time.said[said]}
        </li>
      ))}
      <li>
        <svg width="26" height="26" aria-hidden="true">
          <BaitBar x={13} top={2} bottom={24} />
        </svg>
        {w.desk.time.bait}
      </li>
      <li>
        <svg width="26" height="26" aria-hidden="true">
          <circle className="time-nothing" cx="13" cy="11" r="2.4" />
          <path className="time-yearly" d="M4 21h18" />
        </svg>
        {w.desk.time.yearly}
      </li>
    </ul>
  );
}
