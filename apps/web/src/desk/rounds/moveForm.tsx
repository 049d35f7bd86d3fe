import type { BranchPlan } from '@sillwatch/rounds';
import { useMutation } from '@tanstack/react-query';
import { useEffect, useState } from 'react';
import { askMove, type Cell, type PlanAnswer } from '../../api/plans.ts';
import { Field } from '../../shared/field.tsx';
import { Notice } from '../../shared/notice.tsx';
import { Select } from '../../shared/select.tsx';
import { useWords } from '../../words/index.ts';
import { isSame, type Movable } from './carry.tsx';
import { usePlanChange } from './change.ts';
import { moveRefusalWords, Outcome } from './outcome.tsx';

interface Props {
  readonly answer: PlanAnswer;
  readonly plan: BranchPlan;
  readonly item: Movable;
  /** What the form begins with. */
  readonly to: Cell;
  readonly onDone: (to: Cell) => void;
  /** The cell was chosen by the press that opened the form: what it costs is asked at once. */
  readonly asksAtOnce?: boolean;
}

/** Another day or technician: first what it costs and what it breaks, then, on asking, done. Dragging does the same. */
export function MoveForm({ answer, plan, item, to, onDone, asksAtOnce = false }: Props) {
  const w = useWords();
  const [day, setDay] = useState(to.day);
  const [person, setPerson] = useState(to.person);
  const cell = { day, person };
  // Trying changes nothing, so nothing is asked for anew. The version that was tried is the one that is changed.
  const attempt = useMutation({
    mutationFn: async () => ({ answer, ...(await askMove(answer, 'try', item.visit, cell)) }),
  });
  const apply = usePlanChange(
    answer,
    (tried: PlanAnswer) => askMove(tried, 'apply', item.visit, cell),
    () => onDone(cell),
  );
  const tried = apply.isError ? undefined : attempt.data;
  const error = attempt.error ?? apply.error;
  const { mutate } = attempt;
  useEffect(() => {
    if (asksAtOnce) mutate();
  }, [asksAtOnce, mutate]);
  const change = (set: (value: string) => void, value: string): void => {
    set(value);
    attempt.reset();
    apply.reset();
  };
  return (
    <form
      className="form form-columns move-form"
      onSubmit={(event) => {
        event.preventDefault();
        apply.reset();
        attempt.mutate();
      }}
    >
      <Field
        label={w.desk.plan.toDay}
        type="date"
        required
        min={plan.from}
        max={plan.to}
        value={day}
        onChange={(event) => change(setDay, event.target.value)}
      />
      <Select
        label={w.desk.plan.toPerson}
        value={person}
        options={plan.people.map((one) => [one.person, one.name])}
        onPick={(value) => change(setPerson, value)}
      />
      <div className="buttons">
        <button type="submit" className="button" disabled={attempt.isPending || isSame(cell, item.from)}>
          {w.desk.plan.tryMove}
        </button>
      </div>
      {/* There before it is filled, so that a reader hears what comes. */}
      <div className="move-outcome" role="status">
        {tried !== undefined && <Outcome move={tried.move} plan={plan} />}
      </div>
      {tried !== undefined && (
        <div className="buttons">
          <button
            type="button"
            className="button button-main"
            disabled={apply.isPending}
            onClick={() => apply.mutate(tried.answer)}
          >
            {item.from === null ? w.desk.plan.pullIn : w.desk.plan.applyMove}
          </button>
        </div>
      )}
      {error !== null && (
        <div role="alert">
          <Notice title={moveRefusalWords(error, w)} tone="late" />
        </div>
      )}
    </form>
  );
}
