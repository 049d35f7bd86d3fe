import { Link } from 'wouter';
import { postJson } from '../../api/client.ts';
import type { PlanAnswer } from '../../api/plans.ts';
import { useHeldFocus } from '../../shared/heldFocus.ts';
import { Refusal, useSubmit } from '../../shared/submit.tsx';
import { useWords } from '../../words/index.ts';

/** The step that reaches phones: what is sent out becomes facts. */
export function SendOut({ answer }: { readonly answer: PlanAnswer }) {
  const w = useWords();
  const send = useSubmit(() =>
    postJson<{ readonly rounds: number; readonly visits: number }>(`/api/plans/${answer.id}/publish`, {}),
  );
  const said = useHeldFocus<HTMLSpanElement>(send.status);
  const isOut = answer.publishedAt !== null && !answer.changedSince;
  return (
    <section className="office-part">
      <Refusal error={send.error} />
      <div className="buttons">
        <button
          type="button"
          className="button button-main"
          disabled={send.isPending || isOut}
          onClick={() => send.mutate(undefined)}
        >
          {isOut ? w.desk.plan.sentOut : w.desk.plan.sendOut}
        </button>
        {send.data !== undefined && (
          <span role="status" ref={said} tabIndex={-1}>
            {w.desk.plan.sent(send.data)}
          </span>
        )}
        {answer.publishedAt !== null && (
          <Link href="/plan/sent" className="button">
            {w.desk.sent.see}
          </Link>
        )}
        {answer.changedSince && <span className="says-open">{w.desk.plan.changedSince}</span>}
      </div>
    </section>
  );
}
