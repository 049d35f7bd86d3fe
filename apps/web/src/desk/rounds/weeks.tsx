import { addDays, type Day, dayToText, getDay, weekdayOf } from '@sillwatch/trade';
import { useState } from 'react';
import type { BranchPlanAnswer } from '../../api/plans.ts';
import { useDays } from '../../words/days.ts';
import { useWords } from '../../words/index.ts';
import { timeOf } from './times.ts';

interface Props {
  readonly plan: BranchPlanAnswer;
  /** `day person` of the round that is open */
  readonly open: string | undefined;
  readonly onOpen: (round: string) => void;
}

/** A week at a time: days from left to right, technicians from top to bottom. On a phone, one day under the other. */
export function Weeks({ plan, open, onOpen }: Props) {
  const w = useWords();
  const days = useDays();
  const weeks = weeksOf(plan);
  const [chosen, setChosen] = useState(0);
  const week = weeks[Math.min(chosen, weeks.length - 1)];
  const rounds = new Map(plan.rounds.map((round) => [`${round.day} ${round.person}`, round]));
  if (week === undefined) return <p className="nothing">{w.desk.plan.noRounds}</p>;
  return (
    <section className="sheet" aria-label={w.desk.plan.rounds}>
      <div className="week-choice">
        <button
          type="button"
          className="button"
          disabled={chosen === 0}
          onClick={() => setChosen(chosen - 1)}
        >
          {w.desk.plan.before}
        </button>
        <h2>{w.desk.plan.weekOf(days.plain(week[0] ?? getDay(plan.from)))}</h2>
        <button
          type="button"
          className="button"
          disabled={chosen >= weeks.length - 1}
          onClick={() => setChosen(chosen + 1)}
        >
          {w.desk.plan.after}
        </button>
      </div>
      <ul className="week-days">
        {week.map((day) => {
          const text = dayToText(day);
          const here = plan.people.filter(({ person }) => rounds.has(`${text} ${person}`));
          return (
            <li key={text} className="week-day">
              <h3>
                {days.weekday(day)} {days.short(day)}
              </h3>
              {here.length === 0 && <p className="quiet small">{w.desk.plan.noRound}</p>}
              {here.map(({ person, name }) => {
                const round = rounds.get(`${text} ${person}`);
                if (round === undefined) return null;
                const key = `${text} ${person}`;
                return (
                  <button
                    key={person}
                    type="button"
                    className="week-round"
                    aria-expanded={open === key}
                    onClick={() => onOpen(key)}
                  >
                    <span className="due-name">{name}</span>
                    <span className="small">
                      {timeOf(round.startsAt)}–{timeOf(round.endsAt)}
                    </span>
                    <span className="small quiet">{w.desk.plan.roundOf(round)}</span>
                  </button>
                );
              })}
            </li>
          );
        })}
      </ul>
    </section>
  );
}

/** Weeks from Monday on that hold a day of the plan; days without any round at a week's end are left out. */
function weeksOf({ from, to, rounds }: BranchPlanAnswer): readonly (readonly Day[])[] {
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
