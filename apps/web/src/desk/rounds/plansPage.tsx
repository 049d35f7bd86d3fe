import { getDay } from '@sillwatch/trade';
import { useState } from 'react';
import { Link, useLocation } from 'wouter';
import { postJson } from '../../api/client.ts';
import { useOffice } from '../../api/office.ts';
import { type PlanJob, usePlans } from '../../api/plans.ts';
import { useBranches } from '../../api/queries.ts';
import { Sign } from '../../marks/signs.tsx';
import { Field } from '../../shared/field.tsx';
import { Loading, Notice, Trouble } from '../../shared/notice.tsx';
import { Page } from '../../shared/page.tsx';
import { Select } from '../../shared/select.tsx';
import { Refusal, useSubmit } from '../../shared/submit.tsx';
import { useDays } from '../../words/days.ts';
import { useWords } from '../../words/index.ts';
import { NoBranch } from '../noBranch.tsx';
import { PlanLinks } from './planLinks.tsx';

/** Start a plan, or go back to one. */
export function PlansPage() {
  const w = useWords();
  const plans = usePlans();
  const branches = useBranches();
  return (
    <Page title={w.desk.plan.title}>
      <PlanLinks />
      <p className="quiet">{w.desk.plan.lead}</p>
      {branches.data?.branches.length === 0 ? <NoBranch /> : <StartForm />}
      {plans.isPending && <Loading />}
      {plans.isError && <Trouble error={plans.error} retry={() => void plans.refetch()} />}
      {plans.data !== undefined && plans.data.length > 0 && (
        <section className="office-part">
          <h2>{w.desk.plan.earlier}</h2>
          <ul className="due-rows">
            {plans.data.map((job) => (
              <li key={job.id}>
                <PlanLine job={job} />
              </li>
            ))}
          </ul>
        </section>
      )}
    </Page>
  );
}

function StartForm() {
  const w = useWords();
  const branches = useBranches();
  const office = useOffice();
  const [, go] = useLocation();
  const [chosen, setBranch] = useState('');
  const [from, setFrom] = useState('');
  const [weeks, setWeeks] = useState('4');
  const [seconds, setSeconds] = useState('30');
  const branch = chosen === '' ? (branches.data?.branches[0]?.branch ?? '') : chosen;
  const start = useSubmit(
    () =>
      postJson<PlanJob>('/api/plans', {
        branch,
        ...(from === '' ? {} : { from }),
        weeks: Number(weeks),
        seconds: Number(seconds),
      }),
    ({ id }) => go(`/plan/${id}`),
  );
  const drives = office.data?.technicians.some((one) => one.branch === branch && one.active) ?? true;
  return (
    <form
      className="sheet form form-columns"
      onSubmit={(event) => {
        event.preventDefault();
        start.mutate(undefined);
      }}
    >
      <Select
        label={w.due.branch}
        value={branch}
        options={(branches.data?.branches ?? []).map((one) => [one.branch, one.name])}
        onPick={setBranch}
      />
      <Field
        label={w.desk.plan.from}
        hint={w.desk.plan.fromHint}
        type="date"
        value={from}
        onChange={(event) => setFrom(event.target.value)}
      />
      <Select
        label={w.desk.plan.weeks}
        value={weeks}
        options={Array.from({ length: 13 }, (_, index) => [
          String(index + 1),
          w.desk.plan.weekCount(index + 1),
        ])}
        onPick={setWeeks}
      />
      <Select
        label={w.desk.plan.search}
        value={seconds}
        options={['5', '30', '120', '600'].map((value) => [value, w.desk.plan.seconds(Number(value))])}
        onPick={setSeconds}
      />
      {!drives && (
        <Notice title={w.desk.plan.nobody} tone="open">
          <Link href="/office/rounds">{w.desk.plan.nobodyRemedy}</Link>
        </Notice>
      )}
      <Refusal error={start.error} />
      <div className="buttons">
        <button
          type="submit"
          className="button button-main"
          disabled={start.isPending || branch === '' || !drives}
        >
          {w.desk.plan.start}
        </button>
      </div>
    </form>
  );
}

function PlanLine({ job }: { readonly job: PlanJob }) {
  const w = useWords();
  const days = useDays();
  const branches = useBranches();
  const name = branches.data?.branches.find(({ branch }) => branch === job.branch)?.name ?? job.branch;
  return (
    <Link href={`/plan/${job.id}`} className="due-row place-row">
      <span className="due-place">
        <span className="due-name">{name}</span>
        <span className="quiet small">{w.desk.plan.span(days.plain(getDay(job.from)), job.days)}</span>
      </span>
      <span className="place-counts small">
        <span>{w.desk.plan.states[job.state]}</span>
        {job.publishedAt !== null && (
          <span className="quiet">{job.changedSince ? w.desk.plan.changedSince : w.desk.plan.sentOut}</span>
        )}
      </span>
      <Sign name="onward" />
    </Link>
  );
}
