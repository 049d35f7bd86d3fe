import { getDay } from '@sillwatch/trade';
import type { BranchPlanAnswer } from '../../api/plans.ts';
import { useDays } from '../../words/days.ts';
import { useWords } from '../../words/index.ts';
import { drawLegs } from './legs.ts';
import type { NamesByProperty } from './names.ts';

interface Props {
  readonly plan: BranchPlanAnswer;
  readonly names: NamesByProperty;
  readonly open: string | undefined;
  readonly onOpen: (round: string) => void;
}

/** Lines told apart by their dashes and their numbers, so that nothing leans on colour. */
const DASHES = ['', '10 5', '3 4', '14 4 3 4', '8 3 3 3 3 3', '2 6'];

/** The rounds of one day, each visit in its place; straight lines, for the map draws no roads. */
export function RoundMap({ plan, names, open, onOpen }: Props) {
  const w = useWords();
  const days = useDays();
  const day = open?.slice(0, 10) ?? plan.rounds[0]?.day;
  if (day === undefined) return null;
  const rounds = plan.rounds.filter((round) => round.day === day);
  const { width, height, lines } = drawLegs(rounds, names);
  if (lines.every(({ stops }) => stops.length === 0)) return null;
  return (
    <section className="sheet" aria-label={w.desk.plan.map(days.full(getDay(day)))}>
      <h2>{w.desk.plan.map(days.full(getDay(day)))}</h2>
      <p className="quiet small">{w.desk.plan.mapHow}</p>
      <svg
        className="round-map"
        viewBox={`0 0 ${width} ${height}`}
        role="img"
        aria-label={w.desk.plan.mapSpoken(rounds.length)}
      >
        {lines.map(({ person, stops }, index) => (
          <g key={person} className={`${day} ${person}` === open ? 'map-open' : 'map-other'}>
            <polyline
              points={stops.map(({ x, y }) => `${x},${y}`).join(' ')}
              strokeDasharray={DASHES[index % DASHES.length]}
            />
            {stops.map(({ x, y, visit }, place) => (
              <g key={visit} transform={`translate(${x} ${y})`}>
                <circle r="12" />
                <text className="map-number" y="5">
                  {place + 1}
                </text>
              </g>
            ))}
          </g>
        ))}
      </svg>
      <ul className="axis-legend small">
        {rounds.map(({ person }, index) => (
          <li key={person}>
            <svg width="60" height="20" aria-hidden="true" className="map-key">
              <line x1="2" x2="58" y1="10" y2="10" strokeDasharray={DASHES[index % DASHES.length]} />
            </svg>
            <button type="button" className="link-button" onClick={() => onOpen(`${day} ${person}`)}>
              {plan.people.find((one) => one.person === person)?.name ?? person}
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}
