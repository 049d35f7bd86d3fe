import { getDay } from '@sillwatch/trade';
import { Link } from 'wouter';
import { ProblemError, postJson } from '../../api/client.ts';
import { isAtWork, type PlanAnswer, usePlan } from '../../api/plans.ts';
import { Sign } from '../../marks/signs.tsx';
import { Loading, Notice, Trouble } from '../../shared/notice.tsx';
import { Page } from '../../shared/page.tsx';
import { Refusal, useSubmit } from '../../shared/submit.tsx';
import { useDays } from '../../words/days.ts';
import { useWords } from '../../words/index.ts';
import { Found } from './found.tsx';

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
        {plan.isError ? <Lost error={plan.error} retry={() => void plan.refetch()} /> : <Loading />}
      </Page>
    );
  const { data } = plan;
  return (
    <Page title={w.desk.plan.span(days.plain(getDay(data.from)), data.days)} eyebrow={back}>
      {isAtWork(data) && plan.isError && (
        <div role="alert">
          <Notice title={w.desk.plan.noAnswer} tone="late" />
        </div>
      )}
      {isAtWork(data) && <Search job={data} />}
      {data.state === 'failed' && (
        <Notice title={w.desk.plan.failed} tone="late">
          <p>{w.desk.plan.failures[data.why ?? ''] ?? data.why}</p>
          <ToPlans />
        </Notice>
      )}
      {data.state === 'cancelled' && data.plan === null && (
        <Notice title={w.desk.plan.failures[data.why ?? ''] ?? data.why ?? ''}>
          <ToPlans />
        </Notice>
      )}
      {data.plan !== null && <Found answer={data} plan={data.plan} />}
    </Page>
  );
}

function ToPlans() {
  const w = useWords();
  return (
    <Link href="/plan" className="button">
      {w.desk.plan.planAnew}
    </Link>
  );
}

/** A plan that is not there (dropped, mistyped, another branch's) is not fetched again: one plans anew. */
function Lost({ error, retry }: { readonly error: Error; readonly retry: () => void }) {
  const w = useWords();
  if (!(error instanceof ProblemError) || error.problem.status !== 404)
    return <Trouble error={error} retry={retry} />;
  return (
    <div role="alert">
      <Notice title={w.desk.plan.noPlan} tone="late">
        <p>{w.desk.plan.noPlanRemedy}</p>
        <ToPlans />
      </Notice>
    </div>
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
