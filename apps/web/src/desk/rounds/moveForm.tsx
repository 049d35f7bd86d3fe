import type { RoundVisit } from '@sillwatch/trade';
import { useMutation } from '@tanstack/react-query';
import { useState } from 'react';
import { postJson } from '../../api/client.ts';
import type { BranchPlanAnswer, MoveResult, PlanAnswer } from '../../api/plans.ts';
import { Field } from '../../shared/field.tsx';
import { Select } from '../../shared/select.tsx';
import { Refusal, useSubmit } from '../../shared/submit.tsx';
import { useWords } from '../../words/index.ts';

interface Props {
  readonly answer: PlanAnswer;
  readonly plan: BranchPlanAnswer;
  readonly visit: RoundVisit;
  readonly at: { readonly day: string; readonly person: string };
  readonly onDone: () => void;
}

/** Another day or technician: first what it costs and what it breaks, then, on asking, done. */
export function MoveForm({ answer, plan, visit, at, onDone }: Props) {
  const w = useWords();
  const [day, setDay] = useState(at.day);
  const [person, setPerson] = useState(at.person);
  const ask = (kind: 'try' | 'apply') =>
    postJson<{ readonly move: MoveResult | null }>(`/api/plans/${answer.id}/moves`, {
      kind,
      visit: visit.visit,
      day,
      person,
      version: answer.version,
    });
  // Trying changes nothing, so nothing is asked for anew.
  const attempt = useMutation({ mutationFn: () => ask('try') });
  const apply = useSubmit(
    () => ask('apply'),
    () => onDone(),
  );
  const move = attempt.data?.move;
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
        <button
          type="submit"
          className="button"
          disabled={attempt.isPending || (day === at.day && person === at.person)}
        >
          {w.desk.plan.tryMove}
        </button>
      </div>
      {move !== undefined && move !== null && (
        <div className="move-outcome" role="status">
          <p>{w.desk.plan.moveCost(move)}</p>
          <p className={move.due.standing === 'in its window' ? '' : 'owed-late'}>
            {w.desk.plan.moveDue[move.due.standing](move.due.days)}
          </p>
          {move.broken.map((rule) => (
            <p key={`${rule.rule} ${rule.person} ${rule.day} ${rule.property}`} className="owed-late">
              {w.desk.plan.rules[rule.rule]}
              {`: ${plan.people.find((one) => one.person === rule.person)?.name ?? rule.person}, ${rule.day}`}
              {rule.minutes === null ? '' : `, ${w.desk.plan.byMinutes(rule.minutes)}`}
            </p>
          ))}
          <button
            type="button"
            className="button button-main"
            disabled={apply.isPending}
            onClick={() => apply.mutate(undefined)}
          >
            {w.desk.plan.applyMove}
          </button>
        </div>
      )}
      <Refusal error={attempt.error ?? apply.error} />
    </form>
  );
}
