import type { BranchPlan } from '@sillwatch/rounds';
import { type Day, dayToText, getDay } from '@sillwatch/trade';
import { Sign } from '../../marks/signs.tsx';
import { useDays } from '../../words/days.ts';
import { useWords } from '../../words/index.ts';
import { type Carried, isSame } from './carry.tsx';
import type { NamesByProperty } from './names.ts';
import { personName, TriedOutcome } from './outcome.tsx';
import { cellClass } from './weeks.tsx';

interface Props {
  readonly plan: BranchPlan;
  readonly names: NamesByProperty;
  readonly week: readonly Day[];
  readonly carried: Carried;
}

/** A small grid of the week that comes along while a visit is dragged out of a list; for the pointer only, the form does the same by keys. */
export function DropBoard({ plan, names, week, carried }: Props) {
  const w = useWords();
  const days = useDays();
  const { item, over, tried, board } = carried;
  const name = names.get(item.property)?.name ?? item.property;
  const visits = new Map(plan.rounds.map((round) => [`${round.day} ${round.person}`, round.visits.length]));
  return (
    <div className={`drop-board drop-board-${board}`} aria-hidden="true">
      <div className="drop-said">
        <p>
          <strong>{name}</strong>
          {over !== undefined && ` → ${personName(plan, over.person)}, ${days.full(getDay(over.day))}`}
        </p>
        {tried === undefined ? (
          <p className="quiet">{w.desk.plan.dropHow}</p>
        ) : (
          <TriedOutcome tried={tried} plan={plan} />
        )}
      </div>
      <div className="drop-week">
        <span className="drop-turn" data-turn="-1">
          <Sign name="back" />
        </span>
        {week.map((day) => (
          <span key={day} className="small drop-day">
            {days.weekday(day)}
            <br />
            {days.short(day)}
          </span>
        ))}
        <span className="drop-turn" data-turn="1">
          <Sign name="onward" />
        </span>
      </div>
      <div className="drop-people">
        {plan.people.map(({ person, name: who }) => (
          <div key={person} className="drop-person">
            <p className="small">{who}</p>
            <div className="drop-cells">
              {week.map((day) => {
                const cell = { day: dayToText(day), person };
                return (
                  <span
                    key={cell.day}
                    className={`drop-cell ${cellClass(cell, carried)}`}
                    data-day={cell.day}
                    data-person={person}
                  >
                    {isSame(cell, item.from) ? '•' : (visits.get(`${cell.day} ${person}`) ?? '')}
                  </span>
                );
              })}
            </div>
          </div>
        ))}
      </div>
    </div>
  );
}

/** What floats beside the pointer: the visit, and over the large grid what the cell under it would cost. */
export function Ghost({ plan, names, carried }: Omit<Props, 'week'>) {
  const w = useWords();
  const { item, tried, board } = carried;
  return (
    <>
      <p>
        <strong>{names.get(item.property)?.name ?? item.property}</strong>
      </p>
      {board === undefined &&
        (tried === undefined ? (
          <p className="quiet small">{w.desk.plan.dropHow}</p>
        ) : (
          <TriedOutcome tried={tried} plan={plan} />
        ))}
    </>
  );
}
