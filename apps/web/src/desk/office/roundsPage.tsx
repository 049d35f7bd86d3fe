import { useState } from 'react';
import {
  type OfficeAnswer,
  recordOfFirm,
  useListedPeople,
  useOffice,
  withdrawOfFirm,
} from '../../api/office.ts';
import { useBranches } from '../../api/queries.ts';
import type { Branch, Me } from '../../api/types.ts';
import { newId } from '../../shared/device.ts';
import { Field } from '../../shared/field.tsx';
import { Loading, Trouble } from '../../shared/notice.tsx';
import { Page } from '../../shared/page.tsx';
import { Select } from '../../shared/select.tsx';
import { Refusal, useSubmit } from '../../shared/submit.tsx';
import { useDays } from '../../words/days.ts';
import { useWords } from '../../words/index.ts';
import { ToOffice } from './officePage.tsx';
import { TechnicianForm } from './technicianForm.tsx';

/** What the plan is made from: branches, who drives and when, and the days on which nobody does. */
export function RoundsPage({ me }: { readonly me: Me }) {
  const w = useWords();
  const office = useOffice();
  const branches = useBranches();
  return (
    <Page title={w.desk.office.places.rounds} eyebrow={<ToOffice />}>
      {office.isPending && <Loading />}
      {office.isError && <Trouble error={office.error} retry={() => void office.refetch()} />}
      {office.isSuccess && branches.isSuccess && (
        <>
          <Technicians me={me} office={office.data} branches={branches.data.branches} />
          <DaysOff me={me} office={office.data} branches={branches.data.branches} />
          <Branches me={me} branches={branches.data.branches} />
        </>
      )}
    </Page>
  );
}

interface PartProps {
  readonly me: Me;
  readonly office: OfficeAnswer;
  readonly branches: readonly Branch[];
}

function Technicians({ me, office, branches }: PartProps) {
  const w = useWords();
  const people = useListedPeople();
  const [edited, setEdited] = useState<string | undefined>();
  const driving = new Set(office.technicians.map(({ person }) => person));
  const others = (people.data ?? []).filter(
    ({ id, role, removedAt }) => removedAt === null && role !== 'inspector' && !driving.has(id),
  );
  return (
    <section className="office-part">
      <h2>{w.desk.rounds.technicians}</h2>
      <ul className="office-list">
        {office.technicians.map((technician) => (
          <li key={technician.person} className="sheet">
            {edited === technician.person ? (
              <TechnicianForm
                me={me}
                known={technician}
                person={technician}
                branches={branches}
                onDone={() => setEdited(undefined)}
              />
            ) : (
              <div className="office-line">
                <div>
                  <p className="due-name">{technician.name}</p>
                  <p className="quiet small">
                    {branches.find(({ branch }) => branch === technician.branch)?.name ?? technician.branch}
                    {technician.active ? '' : `, ${w.desk.rounds.inactive}`}
                  </p>
                  <p className="quiet small">{hoursInWords(technician.hours, w.desk.rounds.weekdays)}</p>
                </div>
                <button type="button" className="button" onClick={() => setEdited(technician.person)}>
                  {w.desk.office.change}
                </button>
              </div>
            )}
          </li>
        ))}
        {others.map(({ id, name, certificationNumber, branch }) => (
          <li key={id} className="sheet">
            {edited === id ? (
              <TechnicianForm
                me={me}
                known={undefined}
                person={{ person: id, name, licenceNumber: certificationNumber, branch: branch ?? '' }}
                branches={branches}
                onDone={() => setEdited(undefined)}
              />
            ) : (
              <div className="office-line">
                <div>
                  <p className="due-name">{name}</p>
                  <p className="quiet small">{w.desk.rounds.noHours}</p>
                </div>
                <button type="button" className="button" onClick={() => setEdited(id)}>
                  {w.desk.rounds.giveHours}
                </button>
              </div>
            )}
          </li>
        ))}
      </ul>
    </section>
  );
}

/** `Monday–Thursday 07:00–15:30, Friday 07:00–12:00`: days in a row with the same hours are said once. */
function hoursInWords(
  hours: OfficeAnswer['technicians'][number]['hours'],
  weekdays: readonly string[],
): string {
  const spans: { first: number; last: number; time: string }[] = [];
  for (const { weekday, from, to } of hours) {
    const time = `${from}–${to}`;
    const last = spans.at(-1);
    if (last?.time === time && last.last === weekday - 1) last.last = weekday;
    else spans.push({ first: weekday, last: weekday, time });
  }
  return spans
    .map(({ first, last, time }) =>
      first === last
        ? `${weekdays[first - 1]} ${time}`
        : `${weekdays[first - 1]}–${weekdays[last - 1]} ${time}`,
    )
    .join(', ');
}

function DaysOff({ me, office, branches }: PartProps) {
  const w = useWords();
  const days = useDays();
  const [who, setWho] = useState('');
  const [from, setFrom] = useState('');
  const [to, setTo] = useState('');
  const [why, setWhy] = useState('');
  const save = useSubmit(
    () => {
      const span = { from, to: to === '' ? from : to, why };
      const branch = branches.find((one) => `branch ${one.branch}` === who)?.branch;
      return branch === undefined
        ? recordOfFirm(me, 'technician away', { person: who, ...span })
        : recordOfFirm(me, 'branch closed', { branch, ...span });
    },
    () => setWhy(''),
  );
  const withdraw = useSubmit((fact: string) => withdrawOfFirm(me, fact, w.desk.rounds.withdrawn));
  const nameOf = (person: string): string =>
    office.technicians.find((one) => one.person === person)?.name ?? person;
  const lines = [
    ...office.closed.map(({ fact, branch, ...days }) => ({
      fact,
      who: branches.find((one) => one.branch === branch)?.name ?? branch,
      ...days,
    })),
    ...office.away.map(({ fact, person, ...days }) => ({ fact, who: nameOf(person), ...days })),
  ].sort((a, b) => (a.from < b.from ? 1 : -1));
  return (
    <section className="office-part">
      <h2>{w.desk.rounds.daysOff}</h2>
      <p className="quiet">{w.desk.rounds.daysOffLead}</p>
      <ul className="office-list">
        {lines.map((line) => (
          <li key={line.fact} className="sheet office-line">
            <div>
              <p>
                {line.who}: {days.ofText(line.from)}
                {line.from !== line.to && ` – ${days.ofText(line.to)}`}
              </p>
              <p className="quiet small">{line.why}</p>
            </div>
            <button type="button" className="button" onClick={() => withdraw.mutate(line.fact)}>
              {w.desk.rounds.takeBack}
            </button>
          </li>
        ))}
      </ul>
      <form
        className="sheet form form-columns"
        onSubmit={(event) => {
          event.preventDefault();
          save.mutate(undefined);
        }}
      >
        <Select
          label={w.desk.rounds.who}
          value={who}
          options={[
            ['', ''],
            ...branches.map(
              ({ branch, name }) => [`branch ${branch}`, w.desk.rounds.wholeBranch(name)] as const,
            ),
            ...office.technicians.map(({ person, name }) => [person, name] as const),
          ]}
          onPick={setWho}
        />
        <Field
          label={w.desk.rounds.from}
          type="date"
          required
          value={from}
          onChange={(event) => setFrom(event.target.value)}
        />
        <Field
          label={w.desk.rounds.to}
          type="date"
          min={from}
          value={to}
          onChange={(event) => setTo(event.target.value)}
        />
        <Field
          label={w.desk.rounds.why}
          required
          value={why}
          onChange={(event) => setWhy(event.target.value)}
        />
        <Refusal error={save.error ?? withdraw.error} />
        <div className="buttons">
          <button
            type="submit"
            className="button button-main"
            disabled={save.isPending || who === '' || from === ''}
          >
            {w.desk.rounds.addDays}
          </button>
        </div>
      </form>
    </section>
  );
}

function Branches({ me, branches }: { readonly me: Me; readonly branches: readonly Branch[] }) {
  const w = useWords();
  const [name, setName] = useState('');
  const [timeZone, setTimeZone] = useState(Intl.DateTimeFormat().resolvedOptions().timeZone);
  const save = useSubmit(
    () => recordOfFirm(me, 'branch added', { branch: `branch-${newId()}`, name: name.trim(), timeZone }),
    () => setName(''),
  );
  return (
    <section className="office-part">
      <h2>{w.desk.rounds.branches}</h2>
      <ul className="office-list">
        {branches.map((branch) => (
          <li key={branch.branch} className="sheet">
            <p className="due-name">{branch.name}</p>
            <p className="quiet small">{branch.timeZone}</p>
          </li>
        ))}
      </ul>
      <form
        className="sheet form form-columns"
        onSubmit={(event) => {
          event.preventDefault();
          save.mutate(undefined);
        }}
      >
        <Field
          label={w.desk.rounds.branchName}
          required
          value={name}
          onChange={(event) => setName(event.target.value)}
        />
        <Select
          label={w.desk.rounds.timeZone}
          value={timeZone}
          options={Intl.supportedValuesOf('timeZone').map((zone) => [zone, zone])}
          onPick={setTimeZone}
        />
        <Refusal error={save.error} />
        <div className="buttons">
          <button type="submit" className="button" disabled={save.isPending || name.trim() === ''}>
            {w.desk.rounds.addBranch}
          </button>
        </div>
      </form>
    </section>
  );
}
