import { getDay } from '@sillwatch/trade';
import { useState } from 'react';
import { Link } from 'wouter';
import { postJson } from '../../api/client.ts';
import { type BranchPlanAnswer, isAtWork, type PlanAnswer, usePlan } from '../../api/plans.ts';
import { Sign } from '../../marks/signs.tsx';
import { Loading, Notice, Trouble } from '../../shared/notice.tsx';
import { Page } from '../../shared/page.tsx';
import { Refusal, useSubmit } from '../../shared/submit.tsx';
import { useDays } from '../../words/days.ts';
import { useWords } from '../../words/index.ts';
import { Compared } from './compared.tsx';
import { Leftover } from './leftover.tsx';
import { usePropertyNames } from './names.ts';
import { RoundMap } from './roundMap.tsx';
import { RoundSheet } from './roundSheet.tsx';
import { Weeks } from './weeks.tsx';

/** One plan: its search while it runs, then its rounds to look at, change, freeze and send out. */
export function PlanPage({ id }: { readonly id: string }) {
  const w = useWords();
  const days = useDays();
  const plan = usePlan(id);
  const back = (
    <Link href="/plan" className="back">
      <Sign name="back" size={18} />
      {w.desk.plan.title}
    </Link>
  );
  if (plan.data === undefined)
    return (
      <Page title={w.desk.plan.title} eyebrow={back}>
        {plan.isError ? <Trouble error={plan.error} retry={() => void plan.refetch()} /> : <Loading />}
      </Page>
    );
  const { data } = plan;
  return (
    <Page title={w.desk.plan.span(days.plain(getDay(data.from)), data.days)} eyebrow={back}>
      {isAtWork(data) && <Search job={data} />}
      {data.state === 'failed' && (
        <Notice title={w.desk.plan.failed} tone="late">
          <p>{data.why}</p>
        </Notice>
      )}
      {data.plan !== null && <Found answer={data} plan={data.plan} />}
    </Page>
  );
}

/** How far the search is; what it has found falls in cost as one watches. */
function Search({ job }: { readonly job: PlanAnswer }) {
  const w = useWords();
  const stop = useSubmit(() => postJson<unknown>(`/api/plans/${job.id}/cancel`, {}));
  const { progress } = job;
  return (
    <section className="sheet" aria-label={w.desk.plan.searching}>
      <h2>{job.state === 'waiting' ? w.desk.plan.waiting : w.desk.plan.searching}</h2>
      <progress max={1} value={progress?.share ?? 0} aria-label={w.desk.plan.searching} />
      {progress !== null && <p role="status">{w.desk.plan.progress(progress)}</p>}
      <Refusal error={stop.error} />
      <div className="buttons">
        <button type="button" className="button" onClick={() => stop.mutate(undefined)}>
          {w.desk.plan.stop}
        </button>
      </div>
    </section>
  );
}

function Found({ answer, plan }: { readonly answer: PlanAnswer; readonly plan: BranchPlanAnswer }) {
  const w = useWords();
  const names = usePropertyNames();
  const [open, setOpen] = useState<string | undefined>();
  const round = plan.rounds.find((one) => `${one.day} ${one.person}` === open);
  return (
    <>
      <p className="summary">{w.desk.plan.summary(plan.totals)}</p>
      <p className="quiet">
        {w.desk.plan.travel[plan.travel]} {answer.notes.join(' ')}
      </p>
      <SendOut answer={answer} />
      <Weeks plan={plan} open={open} onOpen={setOpen} />
      {round !== undefined && (
        <RoundSheet key={open} answer={answer} plan={plan} round={round} names={names} />
      )}
      <RoundMap plan={plan} names={names} open={open} onOpen={setOpen} />
      <Leftover plan={plan} names={names} />
      {answer.comparison !== null && <Compared comparison={answer.comparison} names={names} plan={plan} />}
    </>
  );
}

function SendOut({ answer }: { readonly answer: PlanAnswer }) {
  const w = useWords();
  const send = useSubmit(() =>
    postJson<{ readonly rounds: number; readonly visits: number }>(`/api/plans/${answer.id}/publish`, {}),
  );
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
        {send.data !== undefined && <span role="status">{w.desk.plan.sent(send.data)}</span>}
      </div>
    </section>
  );
}
