import type { RoundBody, RoundVisit } from '@sillwatch/trade';
import { getDay } from '@sillwatch/trade';
import { useState } from 'react';
import { Link } from 'wouter';
import { postJson } from '../../api/client.ts';
import type { BranchPlanAnswer, PlanAnswer } from '../../api/plans.ts';
import { Refusal, useSubmit } from '../../shared/submit.tsx';
import { useDays } from '../../words/days.ts';
import { useWords } from '../../words/index.ts';
import { MoveForm } from './moveForm.tsx';
import type { NamesByProperty } from './names.ts';
import { timeOf } from './times.ts';

interface Props {
  readonly answer: PlanAnswer;
  readonly plan: BranchPlanAnswer;
  readonly round: RoundBody;
  readonly names: NamesByProperty;
}

/** One round, visit by visit, each to be moved or held where it is. */
export function RoundSheet({ answer, plan, round, names }: Props) {
  const w = useWords();
  const days = useDays();
  const [moving, setMoving] = useState<string | undefined>();
  const name = plan.people.find(({ person }) => person === round.person)?.name ?? round.person;
  const broken = plan.broken.filter(({ person, day }) => person === round.person && day === round.day);
  return (
    <section className="sheet" aria-label={w.desk.plan.roundTitle(name, days.full(getDay(round.day)))}>
      <div className="sheet-head">
        <h2>{w.desk.plan.roundTitle(name, days.full(getDay(round.day)))}</h2>
        <p className="quiet">
          {timeOf(round.startsAt)}–{timeOf(round.endsAt)}, {w.desk.plan.roundOf(round)}
        </p>
        <a
          className="button"
          href={`/api/reports/worklists/${encodeURIComponent(round.person)}/${round.day}?format=pdf`}
        >
          {w.desk.plan.workList}
        </a>
      </div>
      {broken.map((rule) => (
        <p key={`${rule.rule} ${rule.property}`} className="owed-late">
          {w.desk.plan.rules[rule.rule]}
          {rule.property === null ? '' : `: ${names.get(rule.property)?.name ?? rule.property}`}
        </p>
      ))}
      <ol className="office-list round-visits">
        {round.visits.map((visit) => (
          <li key={visit.visit}>
            <VisitLine
              answer={answer}
              visit={visit}
              names={names}
              isMoving={moving === visit.visit}
              onMove={() => setMoving(moving === visit.visit ? undefined : visit.visit)}
            />
            {moving === visit.visit && (
              <MoveForm
                answer={answer}
                plan={plan}
                visit={visit}
                at={{ day: round.day, person: round.person }}
                onDone={() => setMoving(undefined)}
              />
            )}
          </li>
        ))}
      </ol>
    </section>
  );
}

interface VisitProps {
  readonly answer: PlanAnswer;
  readonly visit: RoundVisit;
  readonly names: NamesByProperty;
  readonly isMoving: boolean;
  readonly onMove: () => void;
}

function VisitLine({ answer, visit, names, isMoving, onMove }: VisitProps) {
  const w = useWords();
  const place = names.get(visit.property);
  const isFrozen = answer.frozen.includes(visit.visit) || visit.frozen;
  const hold = useSubmit(() =>
    postJson<unknown>(`/api/plans/${answer.id}/moves`, {
      kind: isFrozen ? 'thaw' : 'freeze',
      visits: [visit.visit],
      version: answer.version,
    }),
  );
  const counts = Map.groupBy(visit.works, ({ work }) => work);
  return (
    <div className="office-line">
      <div>
        <p>
          <strong>
            {timeOf(visit.startsAt)}–{timeOf(visit.endsAt)}
          </strong>{' '}
          <Link href={`/properties/${visit.property}`}>{place?.name ?? visit.property}</Link>
          {place === undefined ? '' : `, ${place.town}`}
        </p>
        <p className="quiet small">
          {[
            ...[...counts].map(([work, list]) => w.due.at(w.works[work], list.length)),
            ...(visit.asks.length > 0 ? [w.desk.plan.asks(visit.asks.length)] : []),
          ].join('; ')}
          {'. '}
          {w.desk.plan.drive(visit.driveMinutes, visit.driveMetres)}
        </p>
        {isFrozen && <p className="small owed-open">{w.desk.plan.frozen}</p>}
        <Refusal error={hold.error} />
      </div>
      <div className="buttons">
        <button type="button" className="button" aria-expanded={isMoving} onClick={onMove}>
          {w.desk.plan.move}
        </button>
        <button
          type="button"
          className="button"
          disabled={hold.isPending}
          onClick={() => hold.mutate(undefined)}
        >
          {isFrozen ? w.desk.plan.thaw : w.desk.plan.freeze}
        </button>
      </div>
    </div>
  );
}
