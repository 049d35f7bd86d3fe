import type { BranchPlan } from '@sillwatch/rounds';
import type { RoundBody, RoundVisit } from '@sillwatch/trade';
import { getDay } from '@sillwatch/trade';
import { useEffect, useRef, useState } from 'react';
import { Link } from 'wouter';
import { postJson } from '../../api/client.ts';
import type { PlanAnswer } from '../../api/plans.ts';
import { Notice } from '../../shared/notice.tsx';
import { useDays } from '../../words/days.ts';
import { useWords } from '../../words/index.ts';
import { type Movable, useCarried } from './carry.tsx';
import { usePlanChange } from './change.ts';
import { MoveForm } from './moveForm.tsx';
import type { NamesByProperty } from './names.ts';
import { moveRefusalWords, personName } from './outcome.tsx';
import { timeOf } from './times.ts';

interface Props {
  readonly answer: PlanAnswer;
  readonly plan: BranchPlan;
  readonly round: RoundBody;
  readonly names: NamesByProperty;
  /** The visit that was picked in the weeks or on the map. */
  readonly picked: string | undefined;
  readonly onPoint: (visit: string | undefined) => void;
  readonly onMoved: (item: Movable, to: { readonly day: string; readonly person: string }) => void;
}

/** One round, visit by visit, each to be moved or held where it is. */
export function RoundSheet({ answer, plan, round, names, picked, onPoint, onMoved }: Props) {
  const w = useWords();
  const days = useDays();
  const [moving, setMoving] = useState<string | undefined>();
  const head = useRef<HTMLHeadingElement>(null);
  const list = useRef<HTMLOListElement>(null);
  useEffect(() => {
    // Opened from far above: the reader is taken along, to the visit that was meant.
    const line =
      picked === undefined ? null : list.current?.querySelector<HTMLElement>('.is-picked .move-grip');
    const target = line ?? head.current;
    target?.focus({ preventScroll: true });
    target?.scrollIntoView({ block: 'nearest' });
  }, [picked]);
  const title = w.desk.plan.roundTitle(personName(plan, round.person), days.full(getDay(round.day)));
  const broken = plan.broken.filter(({ person, day }) => person === round.person && day === round.day);
  return (
    <section className="sheet" aria-label={title}>
      <div className="sheet-head">
        <h2 ref={head} tabIndex={-1}>
          {title}
        </h2>
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
        <p key={`${rule.rule} ${rule.property}`} className="says-late">
          {w.desk.plan.rules[rule.rule]}
          {rule.property === null ? '' : `: ${names.get(rule.property)?.name ?? rule.property}`}
          {rule.minutes === null ? '' : `, ${w.desk.plan.byMinutes(rule.minutes)}`}
        </p>
      ))}
      <ol className="office-list round-visits" ref={list}>
        {round.visits.map((visit, position) => {
          const item: Movable = {
            visit: visit.visit,
            property: visit.property,
            from: { day: round.day, person: round.person, position },
          };
          return (
            <li
              key={visit.visit}
              className={picked === visit.visit ? 'is-picked' : ''}
              onFocus={() => onPoint(visit.visit)}
              onPointerEnter={() => onPoint(visit.visit)}
              onPointerLeave={() => onPoint(undefined)}
            >
              <VisitLine
                answer={answer}
                visit={visit}
                order={position + 1}
                item={item}
                names={names}
                isMoving={moving === visit.visit}
                onMove={() => setMoving(moving === visit.visit ? undefined : visit.visit)}
              />
              {moving === visit.visit && (
                <MoveForm
                  answer={answer}
                  plan={plan}
                  item={item}
                  to={round}
                  onDone={(to) => {
                    setMoving(undefined);
                    onMoved(item, to);
                  }}
                />
              )}
            </li>
          );
        })}
      </ol>
    </section>
  );
}

interface VisitProps {
  readonly answer: PlanAnswer;
  readonly visit: RoundVisit;
  /** as on the map, from 1 */
  readonly order: number;
  readonly item: Movable;
  readonly names: NamesByProperty;
  readonly isMoving: boolean;
  readonly onMove: () => void;
}

function VisitLine({ answer, visit, order, item, names, isMoving, onMove }: VisitProps) {
  const w = useWords();
  const place = names.get(visit.property);
  const isFrozen = answer.frozen.includes(visit.visit) || visit.frozen;
  const hold = usePlanChange(answer, (_: undefined) =>
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
          <span className="visit-order">{order}</span>{' '}
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
        {isFrozen && <p className="small says-open">{w.desk.plan.frozen}</p>}
        {hold.error !== null && (
          <div role="alert">
            <Notice title={moveRefusalWords(hold.error, w)} tone="late" />
          </div>
        )}
      </div>
      <div className="buttons">
        <MoveButton item={item} isOpen={isMoving} onPress={onMove} words={w.desk.plan.move} />
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

interface MoveButtonProps {
  readonly item: Movable;
  readonly isOpen: boolean;
  readonly onPress: () => void;
  readonly words: string;
}

/** Pressed, it opens the form; held and drawn, it is the handle that the visit is dragged by. */
export function MoveButton({ item, isOpen, onPress, words }: MoveButtonProps) {
  const { lift } = useCarried();
  return (
    <button
      type="button"
      className="button move-grip"
      aria-expanded={isOpen}
      onClick={onPress}
      onPointerDown={(event) => lift(event, item, 'list')}
    >
      <span className="grip" aria-hidden="true" />
      {words}
    </button>
  );
}
