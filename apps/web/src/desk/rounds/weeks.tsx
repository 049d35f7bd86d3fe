import type { BranchPlan } from '@sillwatch/rounds';
import { addDays, type Day, dayToText, getDay, type RoundBody, weekdayOf } from '@sillwatch/trade';
import { useState } from 'react';
import type { Cell } from '../../api/plans.ts';
import { useDays } from '../../words/days.ts';
import { useWords } from '../../words/index.ts';
import { type Carried, isSame, type Movable, useCarried } from './carry.tsx';
import type { NamesByProperty } from './names.ts';
import { isHarmless } from './outcome.tsx';
import { timeOf } from './times.ts';

interface Props {
  readonly plan: BranchPlan;
  readonly names: NamesByProperty;
  readonly weeks: readonly (readonly Day[])[];
  readonly chosen: number;
  readonly onChoose: (week: number) => void;
  /** `day person` of the round that is open */
  readonly open: string | undefined;
  readonly onOpen: (round: string, visit?: string) => void;
}

/** More rows of names than this would hide the week; they can be asked for. */
const MOST_PEOPLE_WITH_VISITS = 6;

/** A week at a time: days from left to right, technicians from top to bottom. On a phone, one day under the other. */
export function Weeks({ plan, names, weeks, chosen, onChoose, open, onOpen }: Props) {
  const w = useWords();
  const days = useDays();
  const [withVisits, setWithVisits] = useState(plan.people.length <= MOST_PEOPLE_WITH_VISITS);
  const week = weeks[chosen];
  const rounds = new Map(plan.rounds.map((round) => [`${round.day} ${round.person}`, round]));
  if (week === undefined || plan.people.length === 0)
    return <p className="nothing">{w.desk.plan.noRounds}</p>;
  return (
    <section className="sheet" aria-label={w.desk.plan.rounds}>
      <div className="week-choice">
        <button type="button" className="button" disabled={chosen === 0} onClick={() => onChoose(chosen - 1)}>
          {w.desk.plan.before}
        </button>
        <h2>{w.desk.plan.weekOf(days.plain(week[0] ?? getDay(plan.from)))}</h2>
        <button
          type="button"
          className="button"
          disabled={chosen >= weeks.length - 1}
          onClick={() => onChoose(chosen + 1)}
        >
          {w.desk.plan.after}
        </button>
      </div>
      <div className="week-how">
        <p className="quiet small">{w.desk.plan.dragHow}</p>
        <label className="check">
          <input
            type="checkbox"
            checked={withVisits}
            onChange={(event) => setWithVisits(event.target.checked)}
          />
          <span>{w.desk.plan.withVisits}</span>
        </label>
      </div>
      <ul className={`week-days ${withVisits ? 'week-with-visits' : ''}`}>
        {week.map((day) => {
          const text = dayToText(day);
          const isFree = plan.people.every(({ person }) => !rounds.has(`${text} ${person}`));
          return (
            <li key={text} className="week-day" style={{ gridRow: `span ${plan.people.length + 1}` }}>
              <h3>
                {days.weekday(day)} {days.short(day)}
                {isFree && <span className="week-free quiet small"> {w.desk.plan.noRound}</span>}
              </h3>
              {plan.people.map(({ person, name }) => (
                <WeekCell
                  key={person}
                  cell={{ day: text, person }}
                  name={name}
                  round={rounds.get(`${text} ${person}`)}
                  names={names}
                  withVisits={withVisits}
                  broken={plan.broken.filter((one) => one.day === text && one.person === person).length}
                  isOpen={open === `${text} ${person}`}
                  onOpen={onOpen}
                />
              ))}
            </li>
          );
        })}
      </ul>
    </section>
  );
}

interface CellProps {
  readonly cell: Cell;
  readonly name: string;
  readonly round: RoundBody | undefined;
  readonly names: NamesByProperty;
  readonly withVisits: boolean;
  /** rules that the round breaks */
  readonly broken: number;
  readonly isOpen: boolean;
  readonly onOpen: (round: string, visit?: string) => void;
}

function WeekCell({ cell, name, round, names, withVisits, broken, isOpen, onOpen }: CellProps) {
  const w = useWords();
  const { carried, lift } = useCarried();
  const key = `${cell.day} ${cell.person}`;
  const drop = { 'data-day': cell.day, 'data-person': cell.person };
  if (round === undefined)
    return (
      <p className={`week-empty quiet small ${cellClass(cell, carried)}`} {...drop}>
        {name}
        <span className="hidden-words">: {w.desk.plan.noRound}</span>
      </p>
    );
  return (
    <div className={`week-cell ${cellClass(cell, carried)}`} {...drop}>
      <button type="button" className="week-round" aria-expanded={isOpen} onClick={() => onOpen(key)}>
        <span className="due-name">{name}</span>
        <span className="small">
          {timeOf(round.startsAt)}–{timeOf(round.endsAt)}
        </span>
        <span className="small quiet">{w.desk.plan.roundOf(round)}</span>
        {broken > 0 && <span className="small says-late">{w.desk.plan.breaks(broken)}</span>}
      </button>
      {withVisits && (
        <ul className="week-visits">
          {round.visits.map(({ visit, property, startsAt }, position) => {
            const item: Movable = { visit, property, from: { ...cell, position } };
            return (
              <li key={visit}>
                <button
                  type="button"
                  data-visit={visit}
                  className={`week-visit ${carried?.item.visit === visit ? 'is-lifted' : ''}`}
                  onClick={() => onOpen(key, visit)}
                  onPointerDown={(event) => {
                    // A finger scrolls the page by the name and drags by the dots.
                    const onDots = event.target instanceof Element && event.target.closest('.grip') !== null;
                    if (event.pointerType !== 'touch' || onDots) lift(event, item, 'weeks');
                  }}
                >
                  <span className="grip" aria-hidden="true" />
                  <span className="week-visit-time">{timeOf(startsAt)}</span>
                  <span>{names.get(property)?.name ?? property}</span>
                </button>
              </li>
            );
          })}
        </ul>
      )}
    </div>
  );
}

/** How a cell looks while a visit is over it; words beside the pointer say the same. */
export function cellClass(cell: Cell, carried: Carried | undefined): string {
  if (carried === undefined) return '';
  if (isSame(cell, carried.item.from)) return 'is-source';
  if (carried.over === undefined || !isSame(cell, carried.over)) return '';
  const { tried } = carried;
  if (tried?.state === 'told') return isHarmless(tried.move) ? 'is-over' : 'is-over breaks';
  return tried?.state === 'refused' ? 'is-over refused' : 'is-over';
}

/** Weeks from Monday on that hold a day of the plan; days without any round at a week's end are left out. */
export function weeksOf({ from, to, rounds }: BranchPlan): readonly (readonly Day[])[] {
  const first = getDay(from);
  const last = getDay(to);
  const used = new Set(rounds.map(({ day }) => day));
  const weeks: Day[][] = [];
  const monday = addDays(first, 1 - weekdayOf(first));
  for (let start = monday; start <= last; start = addDays(start, 7)) {
    const week = Array.from({ length: 7 }, (_, index) => addDays(start, index)).filter(
      (day, index) => day >= first && day <= last && (index < 5 || used.has(dayToText(day))),
    );
    if (week.length > 0) weeks.push(week);
  }
  return weeks;
}
