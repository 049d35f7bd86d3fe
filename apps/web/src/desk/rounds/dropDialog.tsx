import type { BranchPlan, MoveResult } from '@sillwatch/rounds';
import { getDay } from '@sillwatch/trade';
import { useEffect, useRef } from 'react';
import type { Cell } from '../../api/plans.ts';
import { useDays } from '../../words/days.ts';
import { useWords } from '../../words/index.ts';
import { Outcome, personName } from './outcome.tsx';

interface Props {
  readonly plan: BranchPlan;
  readonly name: string;
  readonly to: Cell;
  readonly move: MoveResult;
  readonly onYes: () => void;
  readonly onNo: () => void;
}

/** A visit was let go where it breaks something: said once more, and done only on asking. */
export function DropDialog({ plan, name, to, move, onYes, onNo }: Props) {
  const w = useWords();
  const days = useDays();
  const dialog = useRef<HTMLDialogElement>(null);
  useEffect(() => dialog.current?.showModal(), []);
  const title = w.desk.plan.confirmMove(name, personName(plan, to.person), days.full(getDay(to.day)));
  return (
    <dialog ref={dialog} className="drop-dialog" aria-labelledby="drop-title" onClose={onNo}>
      <h2 id="drop-title">{title}</h2>
      <div className="move-outcome">
        <Outcome move={move} plan={plan} />
      </div>
      <div className="buttons">
        {/* First, so that Enter undoes a slip of the hand. */}
        <button type="button" className="button" onClick={() => dialog.current?.close()}>
          {w.desk.plan.leaveIt}
        </button>
        <button type="button" className="button button-main" onClick={onYes}>
          {w.desk.plan.moveAllTheSame}
        </button>
      </div>
    </dialog>
  );
}
