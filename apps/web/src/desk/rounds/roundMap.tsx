import type { BranchPlan } from '@sillwatch/rounds';
import { type Day, dayToText, getDay } from '@sillwatch/trade';
import { type KeyboardEvent, useMemo, useState } from 'react';
import { useOffice } from '../../api/office.ts';
import { Select } from '../../shared/select.tsx';
import { useWidth } from '../../shared/width.ts';
import { useDays } from '../../words/days.ts';
import { useWords } from '../../words/index.ts';
import { drawLegs, type Ends, type Line, type Stop } from './legs.ts';
import { placeLabels, writtenFrom } from './mapLabels.ts';
import type { NamesByProperty } from './names.ts';
import { personName } from './outcome.tsx';
import { PersonKey, PersonMark } from './personMark.tsx';
import { type PersonSign, signOf } from './personSign.ts';
import { timeOf } from './times.ts';

interface Props {
  readonly plan: BranchPlan;
  readonly names: NamesByProperty;
  readonly week: readonly Day[];
  /** `day person` of the round that is open */
  readonly open: string | undefined;
  /** The visit that the list points at. */
  readonly pointed: string | undefined;
  readonly onOpen: (round: string, visit?: string) => void;
}

const RADIUS = 12;
/** How far the widest shape reaches, so that no name begins under it. */
const REACH = 17;
/** With more marks than this, keys go through the lists. */
const MOST_KEYED = 40;
const MOST_NAMES = 30;
const LONGEST_NAME = 22;

/** The rounds of a day, a week or a technician, each visit in its place; straight lines, for the map draws no roads. */
export function RoundMap({ plan, names, week, open, pointed, onOpen }: Props) {
  const w = useWords();
  const days = useDays();
  const office = useOffice();
  const [span, setSpan] = useState('day');
  const [ref, width] = useWidth<HTMLDivElement>();
  const [here, setHere] = useState<string | undefined>();
  const day = open?.slice(0, 10) ?? plan.rounds.find((one) => week.includes(getDay(one.day)))?.day;
  const rounds = useMemo(() => {
    const inWeek = new Set(week.map(dayToText));
    return plan.rounds.filter((round) => {
      if (span === 'day') return round.day === day;
      return span === 'week' ? inWeek.has(round.day) : round.person === span;
    });
  }, [plan, span, day, week]);
  const drawn = useMemo(() => {
    const ends = new Map((office.data?.technicians ?? []).map((one): [string, Ends] => [one.person, one]));
    return drawLegs(rounds, names, (person) => ends.get(person), width);
  }, [rounds, names, office.data, width]);
  if (plan.rounds.length === 0) return null;
  const title =
    span === 'day'
      ? w.desk.plan.map(day === undefined ? '' : days.full(getDay(day)))
      : span === 'week'
        ? w.desk.plan.mapWeek(days.plain(week[0] ?? getDay(plan.from)))
        : w.desk.plan.mapOf(personName(plan, span));
  const people = plan.people.filter(({ person }) => drawn.lines.some((line) => line.person === person));
  return (
    <section className="sheet" aria-label={title}>
      <div className="map-head">
        <h2>{title}</h2>
        <Select
          label={w.desk.plan.mapSpan}
          value={span}
          options={[
            ['day', w.desk.plan.mapSpans.day],
            ['week', w.desk.plan.mapSpans.week],
            ...plan.people.map(({ person, name }) => [person, w.desk.plan.mapSpans.person(name)] as const),
          ]}
          onPick={setSpan}
        />
      </div>
      <p className="quiet small">
        {w.desk.plan.mapHow} {span === 'day' ? w.desk.plan.mapOrder : w.desk.plan.mapDays}
      </p>
      <div ref={ref} className="round-map">
        {drawn.lines.length === 0 ? (
          <p className="nothing">{w.desk.plan.mapNothing}</p>
        ) : (
          <Drawing
            plan={plan}
            names={names}
            drawn={drawn}
            isOneDay={span === 'day'}
            open={open}
            pointed={here ?? pointed}
            onPoint={setHere}
            onOpen={onOpen}
          />
        )}
      </div>
      <ul className="axis-legend small">
        {people.map(({ person, name }) => (
          <li key={person}>
            <PersonKey sign={signOf(plan, person)} />
            {name}
          </li>
        ))}
        {drawn.homes.length > 0 && (
          <li>
            <svg width="30" height="24" viewBox="-15 -12 30 24" aria-hidden="true" className="map-key">
              <path className="map-home" d={HOME} />
            </svg>
            {w.desk.plan.mapHome}
          </li>
        )}
      </ul>
    </section>
  );
}

const HOME = 'M -9 9 V -1 L 0 -9 L 9 -1 V 9 Z';

interface DrawingProps extends Omit<Props, 'week'> {
  readonly drawn: ReturnType<typeof drawLegs>;
  /** Then a mark's number is its place in the round, else the day of the month. */
  readonly isOneDay: boolean;
  readonly onPoint: (visit: string | undefined) => void;
}

function Drawing({ plan, names, drawn, isOneDay, open, pointed, onPoint, onOpen }: DrawingProps) {
  const w = useWords();
  const { width, height, lines, homes } = drawn;
  const stops = lines.flatMap((line) => line.stops.map((stop) => ({ line, stop })));
  const isKeyed = isOneDay && stops.length <= MOST_KEYED;
  const marks = [
    ...stops.map(({ stop }) => ({ ...stop.mark, radius: RADIUS })),
    ...homes.map(({ x, y }) => ({ x, y, radius: 10 })),
  ];
  const first = stops.toSorted((a, b) => rank(b.stop.visit, b.line) - rank(a.stop.visit, a.line));
  const seen = new Set<string>();
  const labels = placeLabels(
    first.flatMap(({ stop: { visit, property, mark } }) => {
      const isWanted = visit === pointed || stops.length <= MOST_NAMES;
      if (!isWanted || seen.has(property)) return [];
      seen.add(property);
      return [
        {
          id: visit,
          text: shorten(names.get(property)?.name ?? property),
          ...mark,
          radius: REACH,
          isAsked: visit === pointed,
        },
      ];
    }),
    marks,
    { width, height },
    lines.flatMap(({ points }) => points.slice(1).map((to, index) => ({ from: points[index] ?? to, to }))),
  );
  function rank(visit: string, { day, person }: Line): number {
    if (visit === pointed) return 2;
    return `${day} ${person}` === open ? 1 : 0;
  }
  // The pointed one is drawn last, over what it would hide behind.
  const ordered = stops.toSorted(
    (a, b) => Number(a.stop.visit === pointed) - Number(b.stop.visit === pointed),
  );
  return (
    <svg
      viewBox={`0 0 ${width} ${height}`}
      width={width}
      height={height}
      role={isKeyed ? 'group' : 'img'}
      aria-label={w.desk.plan.mapSpoken(lines.length)}
    >
      {lines.map(({ person, day, points }) => (
        <polyline
          key={`${day} ${person}`}
          className={`map-leg who-${signOf(plan, person).colour} ${`${day} ${person}` === open ? 'map-open' : ''}`}
          points={points.map(({ x, y }) => `${x},${y}`).join(' ')}
          strokeDasharray={signOf(plan, person).dash}
        />
      ))}
      {homes.map(({ x, y, people }) => (
        <g key={`${x} ${y}`} transform={`translate(${x} ${y})`}>
          <title>{w.desk.plan.mapHomeOf(people.map((person) => personName(plan, person)))}</title>
          <path className="map-home" d={HOME} />
        </g>
      ))}
      {stops.map(({ line, stop: { visit, x, y, mark } }) => (
        <line
          key={visit}
          className={`map-lead who-${signOf(plan, line.person).colour}`}
          x1={x}
          y1={y}
          x2={mark.x}
          y2={mark.y}
        />
      ))}
      {ordered.map(({ line, stop }) => (
        <StopMark
          key={stop.visit}
          sign={signOf(plan, line.person)}
          stop={stop}
          number={isOneDay ? String(stop.order) : String(Number(line.day.slice(8)))}
          name={`${personName(plan, line.person)}, ${names.get(stop.property)?.name ?? stop.property}, ${timeOf(stop.startsAt)}`}
          isKeyed={isKeyed}
          isPointed={stop.visit === pointed}
          isOpen={`${line.day} ${line.person}` === open}
          onPoint={onPoint}
          onPress={() => onOpen(`${line.day} ${line.person}`, stop.visit)}
        />
      ))}
      {labels.map((label) => (
        <text
          key={label.id}
          x={writtenFrom(label)}
          y={label.y}
          textAnchor={label.anchor}
          dominantBaseline="central"
          className={label.id === pointed ? 'map-name is-pointed' : 'map-name'}
        >
          {label.text}
        </text>
      ))}
    </svg>
  );
}

interface StopProps {
  readonly sign: PersonSign;
  readonly stop: Stop;
  readonly number: string;
  readonly name: string;
  readonly isKeyed: boolean;
  readonly isPointed: boolean;
  readonly isOpen: boolean;
  readonly onPoint: (visit: string | undefined) => void;
  readonly onPress: () => void;
}

function StopMark({ sign, stop, number, name, isKeyed, isPointed, isOpen, onPoint, onPress }: StopProps) {
  const onKey = (event: KeyboardEvent): void => {
    if (event.key !== 'Enter' && event.key !== ' ') return;
    event.preventDefault();
    onPress();
  };
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: a button where keys reach it; on a crowded map the lists do the same by keys
    <g
      transform={`translate(${stop.mark.x} ${stop.mark.y})`}
      className={`map-stop-mark who-${sign.colour} ${isPointed ? 'is-pointed' : ''} ${isOpen ? 'is-open' : ''}`}
      data-visit={stop.visit}
      {...(isKeyed
        ? {
            role: 'button',
            tabIndex: 0,
            'aria-label': `${number}, ${name}`,
            onKeyDown: onKey,
            onFocus: () => onPoint(stop.visit),
            onBlur: () => onPoint(undefined),
          }
        : {})}
      onClick={onPress}
      onPointerEnter={() => onPoint(stop.visit)}
      onPointerLeave={() => onPoint(undefined)}
    >
      <title>{name}</title>
      <PersonMark sign={sign} radius={isPointed ? RADIUS + 4 : RADIUS} />
      <text className="map-number" dominantBaseline="central">
        {number}
      </text>
    </g>
  );
}

function shorten(name: string): string {
  return name.length <= LONGEST_NAME ? name : `${name.slice(0, LONGEST_NAME - 1)}…`;
}
