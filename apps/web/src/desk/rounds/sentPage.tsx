import { type Day, findDay, getDay } from '@sillwatch/trade';
import { useState } from 'react';
import { Link } from 'wouter';
import { useOffice } from '../../api/office.ts';
import { type SentRoundAnswer, usePlans, useSentRounds } from '../../api/plans.ts';
import { usePeople } from '../../api/queries.ts';
import { localTimeText } from '../../shared/device.ts';
import { Field } from '../../shared/field.tsx';
import { Loading, Notice, Trouble } from '../../shared/notice.tsx';
import { Page } from '../../shared/page.tsx';
import { Select } from '../../shared/select.tsx';
import { useDays } from '../../words/days.ts';
import { useWords } from '../../words/index.ts';
import { usePropertyNames } from './names.ts';
import { PlanLinks } from './planLinks.tsx';
import { SentRoundSheet } from './sentRound.tsx';

const SPANS = [1, 7, 28] as const;

/** What phones have: the rounds as they were sent out, day by day. */
export function SentPage() {
  const w = useWords();
  const office = useOffice();
  const plans = usePlans();
  const today = getDay(localTimeText(new Date()).slice(0, 10));
  const [fromText, setFrom] = useState(localTimeText(new Date()).slice(0, 10));
  const [span, setSpan] = useState('7');
  const [person, setPerson] = useState('');
  // An emptied field means today again, not an error.
  const from = findDay(fromText) ?? today;
  const rounds = useSentRounds(from, Number(span), person === '' ? null : person);
  const changed = plans.data?.find(({ changedSince }) => changedSince);
  return (
    <Page title={w.desk.sent.title}>
      <PlanLinks />
      <p className="quiet">{w.desk.sent.lead}</p>
      <div className="form form-columns">
        <Field
          label={w.desk.sent.from}
          type="date"
          value={fromText}
          onChange={(event) => setFrom(event.target.value)}
        />
        <Select
          label={w.desk.sent.span}
          value={span}
          options={SPANS.map((days) => [String(days), w.desk.sent.spans[days]])}
          onPick={setSpan}
        />
        <Select
          label={w.desk.sent.person}
          value={person}
          options={[
            ['', w.desk.sent.everybody],
            ...(office.data?.technicians ?? []).map((one) => [one.person, one.name] as const),
          ]}
          onPick={setPerson}
        />
      </div>
      {changed !== undefined && (
        <Notice title={w.desk.sent.changedPlan} tone="open">
          <Link href={`/plan/${changed.id}`}>{w.desk.sent.toPlan}</Link>
        </Notice>
      )}
      {rounds.isPending && <Loading />}
      {rounds.isError && <Trouble error={rounds.error} retry={() => void rounds.refetch()} />}
      {rounds.data?.length === 0 && (
        <Notice title={w.desk.sent.nothing}>
          <p>{w.desk.sent.nothingRemedy}</p>
        </Notice>
      )}
      {rounds.data !== undefined && <Days rounds={rounds.data} today={today} />}
    </Page>
  );
}

function Days({ rounds, today }: { readonly rounds: readonly SentRoundAnswer[]; readonly today: Day }) {
  const days = useDays();
  const names = usePropertyNames();
  const people = usePeople();
  const personName = (person: string): string => people.data?.get(person) ?? person;
  const byDay = [...Map.groupBy(rounds, ({ round }) => round.day)];
  return byDay.map(([day, own], index) => (
    <section key={day} className="office-part" aria-label={days.full(getDay(day))}>
      <h2>{days.full(getDay(day))}</h2>
      {own.map((sent) => (
        <SentRoundSheet
          key={sent.round.person}
          sent={sent}
          names={names}
          personName={personName}
          today={today}
          isOpen={index === 0}
        />
      ))}
    </section>
  ));
}
