import type { BranchPlan } from '@sillwatch/rounds';
import { getDay } from '@sillwatch/trade';
import { useRef, useState } from 'react';
import { askMove, type Cell, type PlanAnswer, useOthersChanges } from '../../api/plans.ts';
import { Notice } from '../../shared/notice.tsx';
import { useDays } from '../../words/days.ts';
import { useWords } from '../../words/index.ts';
import { CarryContext, type Drop, type Movable, useCarry } from './carry.tsx';
import { usePlanChange } from './change.ts';
import { Compared } from './compared.tsx';
import { DropBoard, Ghost } from './dropBoard.tsx';
import { DropDialog } from './dropDialog.tsx';
import { Leftover } from './leftover.tsx';
import { usePropertyNames } from './names.ts';
import { isHarmless, moveRefusalWords, personName } from './outcome.tsx';
import { RoundMap } from './roundMap.tsx';
import { RoundSheet } from './roundSheet.tsx';
import { SendOut } from './sendOut.tsx';
import type { Tried } from './tries.ts';
import { Weeks, weeksOf } from './weeks.tsx';

interface Props {
  readonly answer: PlanAnswer;
  readonly plan: BranchPlan;
}

/** Where something was put last, so that it can be put back. */
interface Moved {
  readonly item: Movable;
  readonly to: Cell;
}

type Told = Extract<Tried, { readonly state: 'told' }>;

/** The rounds that were found: weeks, one round and the map side by side, and all that a lead does with them. */
export function Found({ answer, plan }: Props) {
  const w = useWords();
  const days = useDays();
  useOthersChanges(answer);
  const names = usePropertyNames();
  const weeks = weeksOf(plan);
  const [open, setOpen] = useState<{ readonly round: string; readonly visit: string | undefined }>();
  const [pointed, setPointed] = useState<string | undefined>();
  const [week, setWeek] = useState(0);
  const [boardWeek, setBoardWeek] = useState(0);
  const [asked, setAsked] = useState<{ readonly drop: Drop; readonly told: Told } | undefined>();
  const [moved, setMoved] = useState<Moved | undefined>();
  const [refused, setRefused] = useState<Error | undefined>();
  const ghost = useRef<HTMLDivElement>(null);
  const chosen = Math.min(week, weeks.length - 1);
  const round = plan.rounds.find((one) => `${one.day} ${one.person}` === open?.round);
  const nameOf = ({ property }: Movable): string => names.get(property)?.name ?? property;

  const put = usePlanChange(
    answer,
    ({ item, to, at }: Moved & { readonly at: PlanAnswer }) => askMove(at, 'apply', item.visit, to),
    (_, { item, to }) => setMoved({ item, to }),
  );
  const clear = (): void => {
    setMoved(undefined);
    setRefused(undefined);
    put.reset();
  };
  const move = (item: Movable, to: Cell, at: PlanAnswer): void => {
    clear();
    put.mutate({ item, to, at });
  };
  const onDrop = (drop: Drop): void => {
    clear();
    void drop.tried.then((tried) => {
      if (tried.state === 'refused') setRefused(tried.error);
      else if (tried.state === 'told' && isHarmless(tried.move)) move(drop.item, drop.to, drop.answer);
      else if (tried.state === 'told') setAsked({ drop, told: tried });
    });
  };
  const weekOf = (day: string | undefined): number => {
    const at = weeks.findIndex((one) =>
      one.some((other) => other === (day === undefined ? -1 : getDay(day))),
    );
    return at < 0 ? chosen : at;
  };
  const carry = useCarry({
    answer,
    ghost,
    onDrop,
    onLift: (item) => setBoardWeek(weekOf(item.from?.day)),
    onTurn: (step) => setBoardWeek((now) => Math.max(0, Math.min(weeks.length - 1, now + step))),
  });
  const show = (key: string, visit?: string): void => {
    setOpen({ round: key, visit });
    setWeek(weekOf(key.slice(0, 10)));
  };
  const { carried } = carry;
  // Over the small grid it would cover days and cells; what it says stands at the head of the grid.
  const isAfloat = carried !== undefined && (carried.board === undefined || carried.over === undefined);
  const error = refused ?? put.error ?? undefined;
  return (
    <CarryContext.Provider value={carry}>
      <p className="summary">{w.desk.plan.summary(plan.totals)}</p>
      <p className="quiet">
        {w.desk.plan.travel[plan.travel]} {answer.notes.join(' ')}
      </p>
      <SendOut answer={answer} />
      <div className="plan-said">
        <div role="status">
          {moved !== undefined && (
            <Notice
              title={w.desk.plan.nowWith(
                nameOf(moved.item),
                personName(plan, moved.to.person),
                days.full(getDay(moved.to.day)),
              )}
            >
              <div className="buttons">
                {moved.item.from !== null && (
                  <button
                    type="button"
                    className="button"
                    disabled={put.isPending}
                    onClick={() => {
                      const { item, to } = moved;
                      if (item.from !== null)
                        move({ ...item, from: { ...to, position: 0 } }, item.from, answer);
                    }}
                  >
                    {w.desk.plan.putBack}
                  </button>
                )}
                <button type="button" className="button" onClick={clear}>
                  {w.desk.plan.close}
                </button>
              </div>
            </Notice>
          )}
        </div>
        {error !== undefined && (
          <div role="alert">
            <Notice title={moveRefusalWords(error, w)} tone="late">
              <button type="button" className="button" onClick={clear}>
                {w.desk.plan.close}
              </button>
            </Notice>
          </div>
        )}
      </div>
      <Weeks
        plan={plan}
        names={names}
        weeks={weeks}
        chosen={chosen}
        onChoose={setWeek}
        open={open?.round}
        onOpen={show}
      />
      <div className={round === undefined ? '' : 'round-beside'}>
        {round !== undefined && (
          <RoundSheet
            key={open?.round}
            answer={answer}
            plan={plan}
            round={round}
            names={names}
            picked={open?.visit}
            onPoint={setPointed}
            onMoved={(item, to) => setMoved({ item, to })}
          />
        )}
        <RoundMap
          plan={plan}
          names={names}
          week={weeks[chosen] ?? []}
          open={open?.round}
          pointed={pointed}
          onOpen={show}
        />
      </div>
      <Leftover
        answer={answer}
        plan={plan}
        names={names}
        onMoved={(item, to) => setMoved({ item, to })}
        onOpen={show}
      />
      {answer.comparison !== null && <Compared comparison={answer.comparison} names={names} plan={plan} />}
      {asked !== undefined && (
        <DropDialog
          plan={plan}
          name={nameOf(asked.drop.item)}
          to={asked.drop.to}
          move={asked.told.move}
          onNo={() => setAsked(undefined)}
          onYes={() => {
            setAsked(undefined);
            move(asked.drop.item, asked.drop.to, asked.drop.answer);
          }}
        />
      )}
      <div ref={ghost} className="drag-ghost" aria-hidden="true" hidden={!isAfloat}>
        {carried !== undefined && <Ghost plan={plan} names={names} carried={carried} />}
      </div>
      {carried?.board !== undefined && (
        <DropBoard plan={plan} names={names} week={weeks[boardWeek] ?? []} carried={carried} />
      )}
    </CarryContext.Provider>
  );
}
