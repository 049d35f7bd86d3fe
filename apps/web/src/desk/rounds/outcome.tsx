import type { BranchPlan, MoveResult } from '@sillwatch/rounds';
import { getDay } from '@sillwatch/trade';
import { ProblemError } from '../../api/client.ts';
import { refusalWords } from '../../shared/refusalWords.ts';
import { useDays } from '../../words/days.ts';
import { useWords, type Words } from '../../words/index.ts';
import type { Tried } from './tries.ts';

/** A move that nobody has to think over twice: it breaks no rule and stays in its window. */
export function isHarmless({ broken, due }: MoveResult): boolean {
  return broken.length === 0 && due.standing === 'in its window';
}

interface Props {
  readonly move: MoveResult;
  readonly plan: BranchPlan;
}

/** What a move costs, how it lies to its window, and what it breaks. */
export function Outcome({ move, plan }: Props) {
  const w = useWords();
  const days = useDays();
  const others = move.moved.filter(({ visit }) => visit !== move.visit).length;
  return (
    <>
      <p>{w.desk.plan.moveCost(move)}</p>
      {/* What is out of its window is said once, by how many days. */}
      <p className={move.due.standing === 'in its window' ? '' : 'says-late'}>
        {w.desk.plan.moveDue[move.due.standing](move.due.days)}
      </p>
      {move.broken
        .filter(({ rule }) => rule !== 'outside the due window' || move.due.standing === 'in its window')
        .map((rule) => (
          <p key={`${rule.rule} ${rule.person} ${rule.day} ${rule.property}`} className="says-late">
            {w.desk.plan.rules[rule.rule]}
            {`: ${personName(plan, rule.person)}, ${days.short(getDay(rule.day))}`}
            {rule.minutes === null ? '' : `, ${w.desk.plan.byMinutes(rule.minutes)}`}
          </p>
        ))}
      {others > 0 && <p className="quiet small">{w.desk.plan.othersShift(others)}</p>}
    </>
  );
}

/** The same while it is being asked for. */
export function TriedOutcome({ tried, plan }: { readonly tried: Tried; readonly plan: BranchPlan }) {
  const w = useWords();
  switch (tried.state) {
    case 'asking':
      return <p className="quiet">{w.desk.plan.asking}</p>;
    case 'refused':
      return <p className="says-late">{moveRefusalWords(tried.error, w)}</p>;
    case 'told':
      return <Outcome move={tried.move} plan={plan} />;
  }
}

/** Why a visit cannot be put somewhere; the server's reason, in the reader's language. */
export function moveRefusalWords(error: Error, w: Words): string {
  if (!(error instanceof ProblemError)) return refusalWords(error, w);
  const { code, errors } = error.problem;
  if (code === 'plan changed') return w.desk.plan.changedByOther;
  const words: Readonly<Record<string, string>> = {
    ...w.desk.plan.moveRefusals,
    ...w.desk.plan.releaseReasons,
  };
  const reason = words[errors?.[0]?.message ?? ''];
  return code === 'move refused' && reason !== undefined
    ? w.desk.plan.cannot(reason)
    : refusalWords(error, w);
}

export function personName(plan: Pick<BranchPlan, 'people'>, person: string): string {
  return plan.people.find((one) => one.person === person)?.name ?? person;
}
