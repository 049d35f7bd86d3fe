import type { VisitPlace } from '@sillwatch/rounds';
import { type Day, getDay, type RoundVisit } from '@sillwatch/trade';
import { Link } from 'wouter';
import type { SentRoundAnswer } from '../../api/plans.ts';
import { localTimeText } from '../../shared/device.ts';
import { useDays } from '../../words/days.ts';
import { useWords } from '../../words/index.ts';
import type { NamesByProperty } from './names.ts';
import { timeOf } from './times.ts';

interface Props {
  readonly sent: SentRoundAnswer;
  readonly names: NamesByProperty;
  readonly personName: (person: string) => string;
  readonly today: Day;
  readonly isOpen: boolean;
}

/** One round as a phone has it: how far it is, what the last sending changed, visit by visit. */
export function SentRoundSheet({ sent, names, personName, today, isOpen }: Props) {
  const w = useWords();
  const days = useDays();
  const { round, came, went, done, forms } = sent;
  const held = round.visits.filter(({ frozen }) => frozen).length;
  const changes = came.length + went.length;
  const facts = [
    round.visits.length === 0
      ? w.desk.sent.calledOff
      : w.desk.sent.progress(done.length, round.visits.length),
    ...(held === 0 ? [] : [w.desk.sent.held(held)]),
    ...(changes === 0 ? [] : [w.desk.sent.changes(changes)]),
  ];
  const whereWords = ({ day, startsAt }: VisitPlace): string =>
    `${days.short(getDay(day))} ${timeOf(startsAt)}`;
  const at = localTimeText(new Date(sent.sentAt));
  return (
    <details className="sheet sent-round" open={isOpen}>
      <summary>
        <span className="due-name">{personName(round.person)}</span>{' '}
        <span className="small">
          {round.visits.length > 0 && `${timeOf(round.startsAt)}–${timeOf(round.endsAt)}; `}
          {facts.join('; ')}
        </span>
      </summary>
      <p className="quiet small">
        {w.desk.sent.sentBy(`${days.short(getDay(at.slice(0, 10)))} ${timeOf(at)}`, personName(sent.by))}{' '}
        {forms > 1 && w.desk.sent.forms(forms - 1)}{' '}
        <Link href={`/plan/${round.plan}`}>{w.desk.sent.toPlan}</Link>
        {round.visits.length > 0 && (
          <>
            {' · '}
            <a href={`/api/reports/worklists/${encodeURIComponent(round.person)}/${round.day}?format=pdf`}>
              {w.desk.plan.workList}
            </a>
          </>
        )}
      </p>
      <ol className="office-list">
        {round.visits.map((visit) => (
          <li key={visit.visit}>
            <p>
              <strong>
                {timeOf(visit.startsAt)}–{timeOf(visit.endsAt)}
              </strong>{' '}
              <Link href={`/properties/${visit.property}`}>
                {names.get(visit.property)?.name ?? visit.property}
              </Link>
              {names.has(visit.property) && `, ${names.get(visit.property)?.town}`}
            </p>
            <VisitNews visit={visit} sent={sent} personName={personName} today={today} />
          </li>
        ))}
      </ol>
      {went.map(({ visit, property, other }) => (
        <p key={visit} className="small says-open">
          {other === null
            ? w.desk.sent.wentNowhere(names.get(property)?.name ?? property)
            : w.desk.sent.wentTo(
                names.get(property)?.name ?? property,
                personName(other.person),
                whereWords(other),
              )}
        </p>
      ))}
    </details>
  );
}

interface NewsProps extends Pick<Props, 'sent' | 'personName' | 'today'> {
  readonly visit: RoundVisit;
}

/** What is to be told of one visit: done or not, held, where it came from. */
function VisitNews({ visit, sent, personName, today }: NewsProps) {
  const w = useWords();
  const days = useDays();
  const { round } = sent;
  const made = sent.done.find((one) => one.visit === visit.visit);
  const change = sent.came.find((one) => one.visit === visit.visit);
  const other = change?.other ?? null;
  const isMissed = made === undefined && getDay(round.day) < today;
  return (
    <p className="small">
      {made !== undefined && (
        <span className="sent-done">
          ✓ {w.desk.sent.done(made.opened, made.unopened)}{' '}
          {made.day !== round.day && w.desk.sent.doneOn(days.short(getDay(made.day)))}{' '}
        </span>
      )}
      {isMissed && <span className="says-late">{w.desk.sent.notDone} </span>}
      {visit.frozen && <span className="quiet">{w.desk.sent.isHeld} </span>}
      {change !== undefined && (
        <span className="says-open">
          {other === null
            ? w.desk.sent.isNew
            : other.day === round.day && other.person === round.person
              ? w.desk.sent.wasAt(timeOf(other.startsAt))
              : w.desk.sent.cameFrom(
                  personName(other.person),
                  `${days.short(getDay(other.day))} ${timeOf(other.startsAt)}`,
                )}
        </span>
      )}
    </p>
  );
}
