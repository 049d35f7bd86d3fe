import type { Load } from '@sillwatch/rounds';
import { type ReactNode, useState } from 'react';
import { useOffice } from '../../api/office.ts';
import { useBranches } from '../../api/queries.ts';
import type { Me } from '../../api/types.ts';
import { Field } from '../../shared/field.tsx';
import { Loading, Trouble } from '../../shared/notice.tsx';
import { Page } from '../../shared/page.tsx';
import { ReckonedAge } from '../../shared/reckonedAge.tsx';
import { Select } from '../../shared/select.tsx';
import { useWords } from '../../words/index.ts';
import { useLoad } from './queries.ts';
import { Rows } from './rows.tsx';

interface Props {
  readonly me: Me;
  readonly links: ReactNode;
}

/** What to take: for one's own round of a day, or for a branch over some days. */
export function LoadPage({ me, links }: Props) {
  const w = useWords();
  const branches = useBranches();
  const [whose, setWhose] = useState(me.role === 'technician' ? 'round' : '');
  const [person, setPerson] = useState(me.id);
  const [day, setDay] = useState('');
  const [from, setFrom] = useState('');
  const [to, setTo] = useState('');
  const [chance, setChance] = useState('5');
  const asked = whose === 'round' ? { person, day, chance } : { branch: whose, from, to, chance };
  const answer = useLoad(asked);
  const found = answer.data?.answer;
  return (
    <Page title={w.desk.load.title}>
      {links}
      <p className="quiet">{w.desk.load.lead}</p>
      <div className="form form-columns">
        <Select
          label={w.desk.load.for}
          value={whose}
          options={[
            ['round', w.desk.load.round],
            ['', w.due.allBranches],
            ...(branches.data?.branches ?? []).map((one) => [one.branch, one.name] as const),
          ]}
          onPick={setWhose}
        />
        <Select
          label={w.desk.load.chance}
          value={chance}
          options={Object.entries(w.desk.load.chances)}
          onPick={setChance}
        />
        {whose === 'round' ? (
          <>
            {me.role !== 'technician' && <Driver me={me} person={person} onPick={setPerson} />}
            <Field
              label={w.desk.load.day}
              type="date"
              value={day}
              onChange={(event) => setDay(event.target.value)}
            />
          </>
        ) : (
          <>
            <Field
              label={w.desk.load.from}
              type="date"
              value={from}
              onChange={(event) => setFrom(event.target.value)}
            />
            <Field
              label={w.desk.load.to}
              type="date"
              value={to}
              onChange={(event) => setTo(event.target.value)}
            />
          </>
        )}
      </div>
      {answer.isPending && <Loading />}
      {answer.isError && <Trouble error={answer.error} retry={() => void answer.refetch()} />}
      <ReckonedAge head={answer.data} />
      {found != null && found.load === null && <p className="lead">{w.desk.load.noRound}</p>}
      {found != null && found.withoutProfile.length > 0 && (
        <p className="quiet">{w.desk.load.noProfile(found.withoutProfile.length)}</p>
      )}
      {found?.load != null && <Taken load={found.load} />}
    </Page>
  );
}

interface DriverProps {
  readonly me: Me;
  readonly person: string;
  readonly onPick: (person: string) => void;
}

/** Whose round: oneself, or a technician of the firm. Leads and owners only. */
function Driver({ me, person, onPick }: DriverProps) {
  const w = useWords();
  const office = useOffice();
  const drivers = (office.data?.technicians ?? []).filter(
    (one) => one.active && one.person !== me.id && (me.branch === null || one.branch === me.branch),
  );
  const options = [[me.id, me.name] as const, ...drivers.map((one) => [one.person, one.name] as const)];
  return (
    <>
      <Select label={w.desk.load.driver} value={person} options={options} onPick={onPick} />
      {office.isError && <Trouble error={office.error} retry={() => void office.refetch()} />}
    </>
  );
}

function Taken({ load }: { readonly load: Load }) {
  const w = useWords();
  const { percent, few, whole } = w.desk.load;
  const words: Readonly<Record<string, string>> = { ...w.desk.load.step, ...w.steps };
  if (load.stations === 0) return <p className="lead">{w.desk.load.nothing}</p>;
  return (
    <>
      <p className="summary" role="status">
        {w.desk.load.said(load.visits, load.stations, load.expectedLive, load.expectedMissed)}{' '}
        {w.desk.load.anyShort(percent(load.chanceAnyShort))}
      </p>
      <div className="buttons">
        <button type="button" className="button" onClick={() => print()}>
          {w.desk.load.print}
        </button>
      </div>
      <Rows
        title={w.desk.load.parts}
        heads={w.desk.load.partHeads}
        rows={load.parts.map((one) => [
          whole(one.take),
          w.parts[one.part] ?? one.name,
          few(one.certain),
          few(one.expected),
          percent(one.chanceShort),
          one.why
            .slice(0, 2)
            .map(({ step, stations }) => w.desk.load.because(words[step] ?? step, stations))
            .join('; '),
        ])}
      />
      <section className="sheet">
        <h2>{w.desk.load.tools}</h2>
        <ul>
          {load.tools.map(({ tool, chance }) => {
            const name = w.desk.load.tool[tool] ?? tool;
            return <li key={tool}>{chance >= 0.95 ? name : w.desk.load.maybe(name, percent(chance))}</li>;
          })}
        </ul>
      </section>
      {load.leftOut.length > 0 && (
        <p className="quiet">
          {w.desk.load.left(load.leftOut.length)} {load.leftOut.map(({ station }) => station).join(', ')}
        </p>
      )}
    </>
  );
}
